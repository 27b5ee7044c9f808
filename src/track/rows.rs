//! What a file's head says of its columns, and what one of its rows comes to.

use crate::base::{Code, Diagnostic, Place};

use super::number::{decimal, whole};
use super::read::boxed;
use super::{Row, Told, Unit, Wrong};

/// One value as written.
pub(super) struct Cell {
    pub(super) text: String,
    /// Where it starts, in characters.
    pub(super) column: u32,
}

/// What each of the three columns is for, and the names under which it is looked for where none is said.
const COLUMNS: [(&str, &str, [&str; 2]); 3] = [
    ("time", "time", ["time", "t"]),
    ("place across the picture", "across", ["horizontal", "x"]),
    ("height", "up", ["vertical", "y"]),
];

/// The most that a place may be away from 0, in micrometres: 100 m.
const FARTHEST: f64 = 1e8;
/// The latest time, in microseconds: a day.
const LATEST: f64 = 86_400e6;

/// How rows are read.
pub(super) struct Head {
    /// Which columns, in the order of [`COLUMNS`].
    at: [usize; 3],
    width: usize,
    comma: bool,
    micros: f64,
    /// Micrometres for 1, forward and up.
    scale: [f64; 2],
    pub(super) ground: Option<i64>,
}

/// A name of a column and what stands in brackets behind it, in small letters.
fn parts(text: &str) -> (String, Option<String>) {
    let small = text.to_lowercase();
    match small.split_once(['(', '[']) {
        Some((name, rest)) => {
            let unit = rest.trim_end_matches([')', ']']).trim();
            (name.trim().to_owned(), Some(unit.to_owned()))
        }
        None => (small.trim().to_owned(), None),
    }
}

impl Head {
    /// What a head says, with what was said beside it.
    ///
    /// # Errors
    ///
    /// Every column that is not there or is there twice, and what nobody said.
    pub(super) fn of(
        cells: &[Cell],
        place: &Place,
        comma: bool,
        told: &Told,
    ) -> Result<Self, Vec<Diagnostic>> {
        let mut out = Vec::new();
        let names: Vec<_> = cells.iter().map(|cell| parts(&cell.text)).collect();
        let mut at = [0; 3];
        for ((slot, (what, key, usual)), said) in at.iter_mut().zip(COLUMNS).zip(&told.columns) {
            let found: Vec<usize> = match said {
                Some(said) => {
                    let wanted = said.trim().to_lowercase();
                    let whole = |(at, cell): (usize, &Cell)| {
                        (cell.text.to_lowercase() == wanted).then_some(at)
                    };
                    let exact: Vec<usize> = cells.iter().enumerate().filter_map(whole).collect();
                    let by_name = names.iter().enumerate();
                    let by_name = by_name.filter(|(_, (name, _))| *name == wanted);
                    if exact.is_empty() {
                        by_name.map(|(at, _)| at).collect()
                    } else {
                        exact
                    }
                }
                None => {
                    let of = |word: &str| -> Vec<usize> {
                        let all = names.iter().enumerate();
                        let all = all.filter(|(_, (name, _))| name == word);
                        all.map(|(at, _)| at).collect()
                    };
                    let mut found = usual.iter().map(|word| of(word));
                    found.find(|found| !found.is_empty()).unwrap_or_default()
                }
            };
            match *found.as_slice() {
                [one] => *slot = one,
                [] => out.push(Diagnostic::new(
                    Code::MissingKey,
                    place.clone(),
                    match said {
                        Some(said) => format!("there is no column `{said}`"),
                        None => format!("nothing says which column is the {what}"),
                    },
                    no_such(cells, key),
                )),
                [_, other, ..] => out.push(Diagnostic::new(
                    Code::DuplicateKey,
                    at_cell(place, cells, other),
                    format!("two columns may be the {what}"),
                    "let every column have a name of its own",
                )),
            }
        }
        let [time, across, up] = at;
        if out.is_empty() && (time == across || time == up || across == up) {
            out.push(Diagnostic::new(
                Code::Contradiction,
                place.clone(),
                "one column cannot be two things",
                "name three columns: time, across and up",
            ));
        }
        let unit_at = |at: usize| names.get(at).and_then(|(_, unit)| unit.clone());
        let mut scale = 0.0;
        if out.is_empty() {
            for at in [across, up] {
                match unit(unit_at(at).as_deref(), told) {
                    Ok(found) if scale == 0.0 || libm::fabs(found - scale) < f64::EPSILON => {
                        scale = found;
                    }
                    Ok(_) => out.push(Diagnostic::new(
                        Code::Contradiction,
                        at_cell(place, cells, at),
                        "the two columns of places are in different units",
                        "write both in one unit",
                    )),
                    Err((what, help)) => {
                        let place = at_cell(place, cells, at);
                        let told = Diagnostic::new(Code::MissingKey, place, what, help);
                        // Said once, of the first column.
                        if out.is_empty() {
                            out.push(told);
                        }
                    }
                }
            }
        }
        let in_ms = match (unit_at(time).as_deref(), told.in_ms) {
            (None | Some(""), said) => said.unwrap_or(false),
            (Some("s"), None | Some(false)) => false,
            (Some("ms"), None | Some(true)) => true,
            (Some(word), said) => {
                let what = if said.is_some() {
                    format!("the head says `{word}`, and another unit of time was said")
                } else {
                    format!("`{word}` is no unit of time that is read here")
                };
                out.push(Diagnostic::new(
                    Code::UnknownWord,
                    at_cell(place, cells, time),
                    what,
                    "write times in s or ms, and say so in the head or not at all",
                ));
                false
            }
        };
        let Some(faces_left) = told.faces_left else {
            out.push(Diagnostic::new(
                Code::MissingKey,
                place.clone(),
                "nothing says which way the lifter faces",
                "say `facing`: left or right, as seen in the picture; it decides which way is forward",
            ));
            return Err(out);
        };
        let is_pixel = told.unit == Some(Unit::Pixel) || unit_at(across).as_deref() == Some("px");
        let grows_down = match told.grows_down {
            Some(down) => down,
            None if is_pixel => {
                out.push(Diagnostic::new(
                    Code::MissingKey,
                    place.clone(),
                    "nothing says whether picture rows are counted downwards",
                    "say `up-is`: down where the top of the picture is 0, up where its bottom is",
                ));
                false
            }
            None => false,
        };
        if !out.is_empty() {
            return Err(out);
        }
        let sign = |turned: bool| if turned { -scale } else { scale };
        let scale = [sign(faces_left), sign(grows_down)];
        let [_, up_scale] = scale;
        Ok(Self {
            at,
            width: cells.len(),
            comma,
            micros: if in_ms { 1e3 } else { 1e6 },
            scale,
            ground: told.ground.and_then(|ground| whole(ground * up_scale)),
        })
    }

    /// One row; `last` is the time of the one before.
    ///
    /// # Errors
    ///
    /// What is wrong with it, with the place of its cell.
    pub(super) fn row(
        &self,
        cells: &[Cell],
        place: &Place,
        last: Option<i64>,
    ) -> Result<Row, Wrong> {
        if cells.len() != self.width {
            return Err(boxed(
                Code::WrongType,
                place.clone(),
                format!(
                    "the row has {} columns, and the head {}",
                    cells.len(),
                    self.width
                ),
                "write as many values as there are names; leave a value empty where there is none",
            ));
        }
        let [time, across, up] = self.at;
        let micros = self
            .value(cells, place, time, self.micros, LATEST)?
            .ok_or_else(|| {
                boxed(
                    Code::BadNumber,
                    at_cell(place, cells, time),
                    "the row has no time",
                    "write the time of every row, or take the row out",
                )
            })?;
        if let Some(last) = last.filter(|last| micros <= *last) {
            return Err(boxed(
                Code::OutOfRange,
                at_cell(place, cells, time),
                format!(
                    "time goes {}: {} s behind {} s",
                    if micros == last { "nowhere" } else { "back" },
                    seconds(micros),
                    seconds(last)
                ),
                "sort the rows by time and leave one for each moment",
            ));
        }
        let [forward, upward] = self.scale;
        let forward = self.value(cells, place, across, forward, FARTHEST)?;
        let upward = self.value(cells, place, up, upward, FARTHEST)?;
        Ok(Row {
            micros,
            at: forward.zip(upward),
        })
    }

    /// A value times its scale, rounded; none where the cell is empty.
    fn value(
        &self,
        cells: &[Cell],
        place: &Place,
        at: usize,
        scale: f64,
        most: f64,
    ) -> Result<Option<i64>, Wrong> {
        let text = cells.get(at).map_or("", |cell| cell.text.as_str());
        if text.is_empty() {
            return Ok(None);
        }
        let wrong = |code: Code, what: String, help: &str| {
            boxed(code, at_cell(place, cells, at), what, help)
        };
        let short: String = text.chars().take(40).collect();
        let Some(value) = decimal(text, self.comma) else {
            return Err(wrong(
                Code::BadNumber,
                format!("`{short}` is no number"),
                "write digits with a point; leave the value empty where the tracker had lost the bar",
            ));
        };
        let scaled = value * scale;
        match whole(scaled).filter(|_| scaled.abs() <= most) {
            Some(whole) => Ok(Some(whole)),
            None => Err(wrong(
                Code::OutOfRange,
                format!("`{short}` is farther than anything that is tracked"),
                "look at the unit: places are within 100 m, times within a day",
            )),
        }
    }
}

/// Micrometres for 1 in the unit that the head or somebody says.
fn unit(in_head: Option<&str>, told: &Told) -> Result<f64, (String, String)> {
    let in_head = in_head.filter(|word| !word.is_empty());
    let unit = match (told.unit, in_head) {
        (Some(unit), None) => unit,
        (None, None) => {
            return Err((
                String::from("nothing says in which unit places are"),
                String::from("say `unit`: m, cm, mm or px"),
            ));
        }
        (said, Some(word)) => match (said, Unit::of(word)) {
            (None, Some(unit)) => unit,
            (Some(said), Some(unit)) if said == unit => unit,
            (Some(said), None) => said,
            (Some(_), Some(_)) => {
                return Err((
                    format!("the head says `{word}`, and another unit was said"),
                    String::from("say the unit of the head, or none"),
                ));
            }
            (None, None) => {
                return Err((
                    format!("`{word}` is no unit that is read here"),
                    String::from("say `unit`: m, cm, mm or px"),
                ));
            }
        },
    };
    Ok(match unit {
        Unit::Metre => 1e6,
        Unit::Centimetre => 1e4,
        Unit::Millimetre => 1e3,
        Unit::Pixel => {
            let mm = told.mm_per_pixel.ok_or_else(|| {
                (
                    String::from("places are in picture points, and nothing says how large one is"),
                    String::from(
                        "say `scale`, in mm for one point: a full-size disc is 450 mm across; divide by its points",
                    ),
                )
            })?;
            mm * 1e3
        }
    })
}

/// The place of a cell.
fn at_cell(place: &Place, cells: &[Cell], at: usize) -> Place {
    let column = cells.get(at).map_or(1, |cell| cell.column);
    Place::new(&place.file, place.line, column)
}

/// What to do where a column is not there.
fn no_such(cells: &[Cell], key: &str) -> String {
    let numbers = cells.iter().all(|cell| decimal(&cell.text, true).is_some());
    if numbers {
        return String::from("write a line with the names of the columns above the rows");
    }
    let names: Vec<String> = cells
        .iter()
        .map(|cell| format!("`{}`", cell.text))
        .collect();
    format!("say `{key}`; the file has {}", names.join(", "))
}

/// Microseconds as seconds with three digits, for people.
pub(super) fn seconds(micros: i64) -> String {
    let ms = super::number::nearest(i128::from(micros), 1_000);
    format!(
        "{}{}.{:03}",
        if ms < 0 { "-" } else { "" },
        ms.unsigned_abs() / 1000,
        ms.unsigned_abs() % 1000
    )
}
