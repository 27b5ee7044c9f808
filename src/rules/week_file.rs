//! A week that somebody wrote, from its file: lines by day of the week.

use std::sync::Arc;

use indexmap::IndexMap;

use crate::base::{At, Code, Diagnostic, Weekday};

use super::line::{Line, line};
use super::read::Limits;
use super::sole::{Sole, read_sole};

const WEEK: Sole = Sole {
    key: "week",
    called: "a file of a written week",
    holds: "the lines of each day",
};

/// Lines of each day, in the order of the file.
pub(crate) type WeekText = IndexMap<At<Weekday>, Vec<At<String>>>;

/// A line with its text.
#[derive(Debug, Clone)]
pub(crate) struct WrittenLine {
    pub(crate) text: At<String>,
    pub(crate) line: Line,
}

/// Reads the file of a week, by day in the order of the week.
///
/// # Errors
///
/// Every problem that was found, sorted by place.
pub(crate) fn read_week(
    name: &Arc<str>,
    text: &str,
    limits: &Limits,
) -> Result<Vec<(Weekday, Vec<WrittenLine>)>, Vec<Diagnostic>> {
    read_sole(&WEEK, (name, text), limits, |held: WeekText, _, _, out| {
        Some(lines_of(held, out))
    })
}

/// The lines of each day, in the order of the week.
pub(crate) fn lines_of(
    text: WeekText,
    out: &mut Vec<Diagnostic>,
) -> Vec<(Weekday, Vec<WrittenLine>)> {
    let mut week = Vec::new();
    for (day, texts) in text {
        let mut lines = Vec::new();
        for text in texts {
            match line(&text) {
                Ok(line) => lines.push(WrittenLine { text, line }),
                Err(wrong) => out.push(Diagnostic::new(
                    Code::BadValue,
                    text.place.clone(),
                    format!("`{}` is not read: {}", text.value, wrong.what),
                    wrong.help,
                )),
            }
        }
        week.push((day.value, lines));
    }
    week.sort_by_key(|(day, _)| *day);
    week
}
