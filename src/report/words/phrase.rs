//! Phrases: sentences cut short, numbers of things, days.

use crate::base::Weekday;

/// The first sentence of a text, with its full stop.
pub(super) fn first_sentence(text: &str) -> &str {
    let end = text.find(". ").map_or(text.len(), |at| at + 1);
    text.get(..end).unwrap_or(text)
}

/// What a text says before its first semicolon or colon, as a sentence; the first sentence where it has neither.
pub(super) fn first_clause(text: &str) -> String {
    let sentence = first_sentence(text);
    let end = ["; ", ": "]
        .iter()
        .filter_map(|mark| sentence.find(mark))
        .min();
    end.and_then(|at| sentence.get(..at))
        .map_or_else(|| sentence.to_owned(), |clause| format!("{clause}."))
}

/// A text with its first letter large.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A text with its first letter small, unless the whole first word is large.
pub(super) fn small(text: &str) -> String {
    let mut letters = text.chars();
    let Some(first) = letters.next() else {
        return String::new();
    };
    if letters.clone().next().is_some_and(char::is_uppercase) {
        return text.to_owned();
    }
    first.to_lowercase().chain(letters).collect()
}

/// The word for a place in a row, counted from 1.
pub(super) fn ordinal(number: usize) -> String {
    let words = ["first", "second", "third", "fourth", "fifth", "sixth"];
    let word = number.checked_sub(1).and_then(|at| words.get(at));
    word.map_or_else(|| format!("{number}th"), |word| (*word).to_owned())
}

/// The most names that are told of a list.
const MOST_NAMED: usize = 12;

/// Names with commas, and a word before the last; of many only the first.
pub(super) fn listed(names: &[&str], word: &str) -> String {
    let more = names.len().saturating_sub(MOST_NAMED);
    let mut shown: Vec<String> = names
        .iter()
        .take(MOST_NAMED)
        .map(|name| format!("“{name}”"))
        .collect();
    if more > 0 {
        shown.push(format!("{more} more"));
    }
    match shown.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} {word} {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// An id as words.
pub(crate) fn spaced(id: &str) -> String {
    id.replace('-', " ")
}

/// A number of something, in the singular where it is one.
pub(crate) fn many(number: i64, one: &str, more: &str) -> String {
    if number == 1 {
        format!("1 {one}")
    } else {
        format!("{number} {more}")
    }
}

/// Hundredths as a decimal.
pub(crate) fn hundredths(number: i64) -> String {
    let sign = if number < 0 { "-" } else { "" };
    format!(
        "{sign}{}.{:02}",
        number.unsigned_abs() / 100,
        number.unsigned_abs() % 100
    )
}

/// The day of the week, 1 to 7; the number itself beyond.
pub(crate) fn weekday(day: u8) -> String {
    Weekday::numbered(day).map_or_else(|| format!("day {day}"), |day| day.name().to_owned())
}

/// Ids as written.
pub(crate) fn texts<I: ToString>(ids: &[I]) -> Vec<String> {
    ids.iter().map(ToString::to_string).collect()
}

/// Half points in points.
pub(crate) fn half_points(number: i64) -> String {
    let half = if number % 2 == 0 { "" } else { ".5" };
    format!(
        "{}{}{half}",
        if number < 0 { "-" } else { "+" },
        number.abs() / 2
    )
}
