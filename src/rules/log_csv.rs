//! A log as comma-separated values: a header line, then an entry a line.

use std::sync::Arc;

use csv::{ReaderBuilder, StringRecord, Trim};

use crate::base::{At, Code, Decimal, Diagnostic, Place, nearest};

use super::case::FieldValue;
use super::check::declared::list;
use super::log::{EntryText, MOST_ENTRIES};
use super::read::Limits;

/// The columns, those that must be there first.
const COLUMNS: [&str; 10] = [
    "date", "exercise", "made", "load", "missed", "sets", "fault", "skill", "grade", "seen",
];

/// How many of them must be there.
const NEEDED: usize = 3;

/// After so many problems the rest is not looked at.
const MOST_PROBLEMS: usize = 200;

/// Entries of a text. What could not be read has told its problem, and something stands in its place so that the rest of its
/// entry can be looked at.
pub(super) fn read_csv(
    name: &Arc<str>,
    text: &str,
    limits: &Limits,
    out: &mut Vec<Diagnostic>,
) -> Vec<At<EntryText>> {
    if text.len() > limits.bytes_per_file() {
        out.push(Diagnostic::new(
            Code::TooLarge,
            Place::start_of(name),
            format!("the file has {} bytes", text.len()),
            format!("write {} at the most", limits.bytes_per_file()),
        ));
        return Vec::new();
    }
    // A mark of byte order says nothing in UTF-8.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let separator = separator(text);
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .trim(Trim::All)
        .from_reader(text.as_bytes());
    let mut sheet = Sheet {
        places: Places::new(name, text, separator),
        columns: Vec::new(),
        out,
    };
    let mut record = StringRecord::new();
    let (mut entries, mut is_head) = (Vec::new(), true);
    loop {
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(wrong) => {
                let place = Place::start_of(name);
                let what = format!("this is no table of values: {wrong}");
                let help =
                    "write a header line and an entry a line, with commas between the values";
                sheet
                    .out
                    .push(Diagnostic::new(Code::Syntax, place, what, help));
                break;
            }
        }
        let from = record.position().map_or(0, csv::Position::byte);
        sheet
            .places
            .at_record(usize::try_from(from).unwrap_or(usize::MAX));
        if let Some(place) = sheet.places.open_quote.take() {
            sheet.out.push(Diagnostic::new(
                Code::Syntax,
                place,
                "this quote is never closed",
                "close it with `\"` where the value ends; a quote inside is written twice",
            ));
            break;
        }
        if is_head {
            is_head = false;
            if !sheet.head(&record) {
                return Vec::new();
            }
            continue;
        }
        if record.iter().all(str::is_empty) {
            continue;
        }
        entries.push(sheet.entry(&record));
        if sheet.out.len() > MOST_PROBLEMS {
            sheet.out.truncate(MOST_PROBLEMS);
            sheet.out.push(Diagnostic::new(
                Code::TooManyProblems,
                sheet.places.of(0),
                format!("there are {MOST_PROBLEMS} problems up to here; what follows was not read"),
                "mend these first",
            ));
            break;
        }
        if entries.len() > MOST_ENTRIES {
            break;
        }
    }
    if is_head && sheet.out.is_empty() {
        sheet.out.push(Diagnostic::new(
            Code::EmptyFile,
            Place::start_of(name),
            "the file is empty",
            format!("begin it with the line `{}`", COLUMNS.join(",")),
        ));
    }
    entries
}

/// What stands between values: a semicolon or a tab where the first line has it and no comma.
fn separator(text: &str) -> u8 {
    let first = text.lines().find(|line| !line.trim().is_empty());
    let first = first.unwrap_or("");
    if first.contains(',') {
        b','
    } else if first.contains(';') {
        b';'
    } else if first.contains('\t') {
        b'\t'
    } else {
        b','
    }
}

/// Where the values of a record stand in the text.
struct Places<'t> {
    name: &'t Arc<str>,
    text: &'t str,
    separator: char,
    /// The byte up to which lines were counted, its line, and where that line begins.
    counted: (usize, u32, usize),
    of_fields: Vec<Place>,
    open_quote: Option<Place>,
}

impl<'t> Places<'t> {
    fn new(name: &'t Arc<str>, text: &'t str, separator: u8) -> Self {
        Self {
            name,
            text,
            separator: char::from(separator),
            counted: (0, 1, 0),
            of_fields: Vec::new(),
            open_quote: None,
        }
    }

    /// The place of a byte; bytes are asked for in rising order.
    fn place(&mut self, byte: usize) -> Place {
        let (from, mut line, mut begins) = self.counted;
        let between = self.text.get(from..byte).unwrap_or("");
        for (at, _) in between.match_indices('\n') {
            line = line.saturating_add(1);
            begins = from + at + 1;
        }
        self.counted = (byte.max(from), line, begins);
        let column = self
            .text
            .get(begins..byte)
            .map_or(0, |text| text.chars().count());
        Place::new(
            self.name,
            line,
            u32::try_from(column + 1).unwrap_or(u32::MAX),
        )
    }

    /// Finds the places of a record that begins at a byte or behind blank lines there.
    fn at_record(&mut self, byte: usize) {
        self.of_fields.clear();
        let rest = self.text.get(byte..).unwrap_or("");
        let blank = rest.len() - rest.trim_start_matches(['\n', '\r']).len();
        let mut from = byte + blank;
        let mut starts = vec![from];
        let mut quoted = None;
        let mut is_start = true;
        let rest = self.text.get(from..).unwrap_or("");
        let mut signs = rest.char_indices().peekable();
        let base = from;
        while let Some((at, sign)) = signs.next() {
            from = base + at;
            match (quoted, sign) {
                (Some(_), '"') => {
                    // Two of them are one that is meant.
                    if signs.next_if(|(_, next)| *next == '"').is_none() {
                        quoted = None;
                    }
                }
                (Some(_), _) => {}
                (None, '"') if is_start => quoted = Some(from),
                (None, '\n' | '\r') => break,
                (None, sign) if sign == self.separator => {
                    starts.push(from + sign.len_utf8());
                    is_start = true;
                    continue;
                }
                (None, _) => {}
            }
            is_start = false;
        }
        for start in starts {
            // Spaces before a value are none of it.
            let rest = self.text.get(start..).unwrap_or("");
            let spaces = rest.len() - rest.trim_start_matches(' ').len();
            let place = self.place(start + spaces);
            self.of_fields.push(place);
        }
        if let Some(byte) = quoted {
            let start = self.of_fields.last().cloned();
            self.open_quote = Some(start.unwrap_or_else(|| Place::start_of(self.name)));
            let _behind = byte;
        }
    }

    /// The place of a value of the record; that of its beginning where it has fewer.
    fn of(&self, field: usize) -> Place {
        let first = || self.of_fields.first().cloned();
        let place = self.of_fields.get(field).cloned().or_else(first);
        place.unwrap_or_else(|| Place::start_of(self.name))
    }
}

struct Sheet<'t, 'o> {
    places: Places<'t>,
    /// Of each value of a record the column, where it is one.
    columns: Vec<Option<&'static str>>,
    out: &'o mut Vec<Diagnostic>,
}

impl Sheet<'_, '_> {
    fn problem(&mut self, code: Code, place: Place, what: String, help: String) {
        self.out.push(Diagnostic::new(code, place, what, help));
    }

    /// Reads the header; whether all columns are there that must be.
    fn head(&mut self, record: &StringRecord) -> bool {
        for (at, text) in record.iter().enumerate() {
            let word = text.to_lowercase();
            let place = self.places.of(at);
            let column = COLUMNS.into_iter().find(|column| *column == word);
            if column.is_none() {
                let help = match nearest(&word, COLUMNS) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("the columns are {}", list(&COLUMNS)),
                };
                self.problem(
                    Code::UnknownKey,
                    place,
                    format!("`{text}` is no column of a log"),
                    help,
                );
            } else if self.columns.contains(&column) {
                let what = format!("the column `{word}` stands twice");
                self.problem(
                    Code::DuplicateKey,
                    place,
                    what,
                    String::from("take one out"),
                );
            }
            self.columns.push(column);
        }
        let mut is_whole = true;
        for column in COLUMNS.into_iter().take(NEEDED) {
            if !self.columns.contains(&Some(column)) {
                is_whole = false;
                let place = self.places.of(0);
                self.problem(
                    Code::MissingKey,
                    place,
                    format!("the first line has no column `{column}`"),
                    format!("begin the file with a line such as `{}`", COLUMNS.join(",")),
                );
            }
        }
        is_whole
    }

    /// The text of a column of a record with its place; nothing where it is empty.
    fn text(&self, record: &StringRecord, column: &str) -> Option<At<String>> {
        let at = self.columns.iter().position(|held| *held == Some(column))?;
        let text = record.get(at).filter(|text| !text.is_empty())?;
        Some(At::new(text.to_owned(), self.places.of(at)))
    }

    /// The same of what must be there.
    fn needed(&mut self, record: &StringRecord, column: &'static str, such_as: &str) -> At<String> {
        self.text(record, column).unwrap_or_else(|| {
            let at = self.columns.iter().position(|held| *held == Some(column));
            let place = self.places.of(at.unwrap_or(0));
            self.problem(
                Code::MissingKey,
                place.clone(),
                format!("the entry says no `{column}`"),
                format!("write it, such as `{such_as}`"),
            );
            At::new(String::new(), place)
        })
    }

    fn entry(&mut self, record: &StringRecord) -> At<EntryText> {
        let begins = self.places.of(0);
        let beyond = record.iter().enumerate().skip(self.columns.len());
        if let Some((at, _)) = beyond.into_iter().find(|(_, text)| !text.is_empty()) {
            let place = self.places.of(at);
            self.problem(
                Code::UnknownKey,
                place,
                format!(
                    "the line has more values than the {} columns of the first line",
                    self.columns.len()
                ),
                String::from("put quotes round a value that has a comma in it"),
            );
        }
        let date = self.needed(record, "date", "2026-02-28");
        let exercise = self.needed(record, "exercise", "an exercise by id or name");
        let made = self.needed(record, "made", "3");
        let load = self.text(record, "load");
        let load = load.and_then(|text| match text.value.parse::<Decimal>() {
            Ok(load) => Some(At::new(load, text.place)),
            Err(bad) => {
                self.problem(
                    Code::BadNumber,
                    text.place.clone(),
                    format!("`{}` is no load: {bad}", text.value),
                    String::from("write a number such as 82.5, without a unit, or leave it empty"),
                );
                None
            }
        });
        let made = if made.value.is_empty() {
            At::new(1, made.place)
        } else {
            self.whole(made, "made")
        };
        let missed = self.text(record, "missed");
        let missed = missed.map(|text| self.whole(text, "missed"));
        let sets = self.text(record, "sets");
        let sets = sets.map(|text| self.whole(text, "sets"));
        let field = |column: &str| {
            let text = self.text(record, column)?;
            Some(At::new(FieldValue::One(text.value), text.place))
        };
        let text = EntryText {
            fault: field("fault"),
            skill: field("skill"),
            grade: field("grade"),
            seen: field("seen"),
            // What is not there has been told.
            date: if date.value.is_empty() {
                At::new(String::from("2000-01-01"), date.place)
            } else {
                date
            },
            exercise,
            load,
            sets,
            made,
            missed,
        };
        At::new(text, begins)
    }

    fn whole(&mut self, text: At<String>, column: &str) -> At<u16> {
        let number = text.value.parse::<u16>().unwrap_or_else(|_| {
            self.problem(
                Code::BadNumber,
                text.place.clone(),
                format!("`{}` is no number for `{column}`", text.value),
                String::from("write a whole number such as 3"),
            );
            1
        });
        At::new(number, text.place)
    }
}
