//! Reading of a file of rows, line by line in bounded memory, with every problem up to a hundred.

use std::io::Read;
use std::sync::Arc;

use csv_core::{ReadFieldResult, Reader, ReaderBuilder};

use crate::base::{Code, Diagnostic, Place};

use super::rows::{Cell, Head};
use super::{Row, Rows, Told, Wrong};

/// What is beyond these is refused; no more than one line and the rows are held.
const MOST_ROWS: usize = 200_000;
const MOST_BYTES: usize = 64 * 1024 * 1024;
const LONGEST_LINE: usize = 4_096;
const MOST_COLUMNS: usize = 200;
const MOST_PROBLEMS: usize = 100;
/// Fewer rows show no movement.
const LEAST_ROWS: usize = 10;

/// A problem as functions hand it out.
pub(super) fn boxed(
    code: Code,
    place: Place,
    what: impl Into<String>,
    help: impl Into<String>,
) -> Wrong {
    Box::new(Diagnostic::new(code, place, what, help))
}

/// Lines of a file, one at a time.
struct Lines<'r> {
    from: &'r mut dyn Read,
    buffer: Vec<u8>,
    at: usize,
    filled: usize,
    bytes: usize,
    line: Vec<u8>,
    number: u32,
}

impl<'r> Lines<'r> {
    fn new(from: &'r mut dyn Read) -> Self {
        Self {
            from,
            buffer: vec![0; 64 * 1024],
            at: 0,
            filled: 0,
            bytes: 0,
            line: Vec::new(),
            number: 0,
        }
    }

    /// Reads the next line without its end; whether there is one.
    fn next(&mut self, name: &Arc<str>) -> Result<bool, Wrong> {
        self.line.clear();
        let mut any = false;
        loop {
            if self.at == self.filled {
                self.filled = self.from.read(&mut self.buffer).map_err(|error| {
                    boxed(
                        Code::UnreadFile,
                        Place::new(name, self.number.saturating_add(1), 1),
                        format!("the file could not be read on: {error}"),
                        "see whether it is whole, and read it again",
                    )
                })?;
                self.at = 0;
                self.bytes = self.bytes.saturating_add(self.filled);
                if self.filled == 0 {
                    self.number += u32::from(any);
                    return Ok(any);
                }
                if self.bytes > MOST_BYTES {
                    return Err(boxed(
                        Code::TooLarge,
                        Place::new(name, self.number.saturating_add(1), 1),
                        format!("the file has more than {} MiB", MOST_BYTES >> 20),
                        "cut the track to one attempt",
                    ));
                }
            }
            any = true;
            let rest = self.buffer.get(self.at..self.filled).unwrap_or_default();
            let end = rest.iter().position(|byte| *byte == b'\n');
            let part = rest.get(..end.unwrap_or(rest.len())).unwrap_or_default();
            if self.line.len() + part.len() > LONGEST_LINE {
                return Err(boxed(
                    Code::TooLarge,
                    Place::new(name, self.number.saturating_add(1), 1),
                    format!("the line has more than {LONGEST_LINE} bytes"),
                    "write a table of columns, one row a line",
                ));
            }
            self.line.extend_from_slice(part);
            self.at += part.len() + usize::from(end.is_some());
            if end.is_some() {
                if self.line.last() == Some(&b'\r') {
                    self.line.pop();
                }
                self.number = self.number.saturating_add(1);
                return Ok(true);
            }
        }
    }
}

/// Cells of one line, each with its column in characters.
fn cells(line: &str, place: &Place, reader: &mut Reader) -> Result<Vec<Cell>, Wrong> {
    reader.reset();
    let bytes: Vec<u8> = line.bytes().chain([b'\n']).collect();
    let mut out = vec![0; bytes.len() + 1];
    let (mut at, mut all) = (0, Vec::new());
    loop {
        let start = at;
        let rest = bytes.get(at..).unwrap_or_default();
        let (result, read, wrote) = reader.read_field(rest, &mut out);
        at += read;
        match result {
            ReadFieldResult::Field { record_end } => {
                let text = out.get(..wrote).unwrap_or_default();
                let before = line.get(..start).map_or(start, |text| text.chars().count());
                all.push(Cell {
                    text: String::from_utf8_lossy(text).trim().to_owned(),
                    column: u32::try_from(before + 1).unwrap_or(u32::MAX),
                });
                if all.len() > MOST_COLUMNS {
                    return Err(boxed(
                        Code::TooLarge,
                        place.clone(),
                        format!("the line has more than {MOST_COLUMNS} columns"),
                        "leave out the columns that are not needed",
                    ));
                }
                if record_end {
                    return Ok(all);
                }
            }
            ReadFieldResult::InputEmpty => {
                return Err(boxed(
                    Code::Syntax,
                    place.clone(),
                    "a quotation mark is opened and not closed on this line",
                    "close it, or take it out",
                ));
            }
            // The room is never too small, and a line never ends before its field.
            ReadFieldResult::OutputFull | ReadFieldResult::End => return Ok(all),
        }
    }
}

/// Reads rows from a file of comma-separated values, or of values with semicolons or tabs between them.
///
/// # Errors
///
/// Every problem that was found, a hundred at the most.
pub(crate) fn read(
    name: &Arc<str>,
    from: &mut dyn Read,
    told: &Told,
) -> Result<Rows, Vec<Diagnostic>> {
    let mut lines = Lines::new(from);
    let mut head: Option<(Head, Reader)> = None;
    let (mut rows, mut out): (Vec<Row>, Vec<Diagnostic>) = (Vec::new(), Vec::new());
    loop {
        match lines.next(name) {
            Ok(true) => {}
            Ok(false) => break,
            Err(wrong) => {
                out.push(*wrong);
                return Err(out);
            }
        }
        let bytes = match lines.number {
            // A mark of the order of bytes says nothing in UTF-8.
            1 => lines
                .line
                .strip_prefix(b"\xef\xbb\xbf")
                .unwrap_or(&lines.line),
            _ => &lines.line,
        };
        let place = Place::new(name, lines.number, 1);
        let line = match std::str::from_utf8(bytes) {
            Ok(line) => line,
            Err(error) => {
                let good = Place::of_bad_byte(name, bytes, error.valid_up_to());
                out.push(Diagnostic::new(
                    Code::NotUtf8,
                    Place::new(name, lines.number, good.column),
                    "the line is not UTF-8 from here on",
                    "save the file as UTF-8",
                ));
                return Err(out);
            }
        };
        if line.trim().is_empty() || line.starts_with('#') {
            continue;
        }
        match &mut head {
            None => {
                let delimiter = *[b'\t', b';']
                    .iter()
                    .find(|mark| line.as_bytes().contains(mark))
                    .unwrap_or(&b',');
                let mut reader = ReaderBuilder::new().delimiter(delimiter).build();
                let made = cells(line, &place, &mut reader)
                    .map_err(|wrong| vec![*wrong])
                    .and_then(|cells| Head::of(&cells, &place, delimiter != b',', told));
                match made {
                    Ok(made) => head = Some((made, reader)),
                    Err(wrong) => return Err(wrong),
                }
            }
            Some((head, reader)) => {
                if rows.len() == MOST_ROWS {
                    out.push(Diagnostic::new(
                        Code::TooLarge,
                        place,
                        format!("there are more than {MOST_ROWS} rows"),
                        "cut the track to one attempt; nothing behind this row was read",
                    ));
                    return Err(out);
                }
                let row = cells(line, &place, reader)
                    .and_then(|cells| head.row(&cells, &place, rows.last().map(|row| row.micros)));
                match row {
                    Ok(row) => rows.push(row),
                    Err(wrong) => out.push(*wrong),
                }
                if out.len() >= MOST_PROBLEMS {
                    out.push(Diagnostic::new(
                        Code::TooManyProblems,
                        Place::new(name, lines.number, 1),
                        format!("{MOST_PROBLEMS} rows are wrong up to here"),
                        "mend these first; what follows was not read",
                    ));
                    return Err(out);
                }
            }
        }
    }
    let Some((head, _)) = head else {
        out.push(Diagnostic::new(
            Code::EmptyFile,
            Place::start_of(name),
            "there is nothing in the file",
            "write a line with the names of the columns, then a row a line",
        ));
        return Err(out);
    };
    let known = rows.iter().filter(|row| row.at.is_some()).count();
    if out.is_empty() && known < LEAST_ROWS {
        out.push(Diagnostic::new(
            Code::EmptyFile,
            Place::new(name, lines.number.max(1), 1),
            format!("only {known} rows say where it was"),
            format!("a track has {LEAST_ROWS} such rows at the least"),
        ));
    }
    if out.is_empty() {
        Ok(Rows {
            rows,
            ground: head.ground,
        })
    } else {
        Err(out)
    }
}
