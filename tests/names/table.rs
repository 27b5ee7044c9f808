//! The tables line by line, and what else must hold of each of their lines.

use std::collections::BTreeSet;

use super::{READ, WRONG, exercise, lines, read, why};
use crate::corpus::BASE;

/// Holds every line of a table against what is read, and says how many lines there are.
fn reads_as_told(table: &'static str) -> usize {
    let (mut wrong, mut seen) = (Vec::new(), 0);
    for (text, means) in lines(table) {
        seen += 1;
        let found = match BASE.read_name(text) {
            Ok(reading) => exercise(&reading),
            Err(why_not) => why(&why_not),
        };
        if found != means {
            wrong.push(format!("{text} => {means}\n    found: {found}"));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {seen}:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    seen
}

#[test]
fn what_coaches_write_is_read_as_they_mean_it() {
    let seen = reads_as_told(READ);
    assert!(seen >= 300, "{seen} lines");
}

#[test]
fn what_means_no_one_exercise_is_told_why() {
    let seen = reads_as_told(WRONG);
    assert!(seen >= 80, "{seen} lines");
}

#[test]
fn no_line_stands_twice() {
    for table in [READ, WRONG] {
        let mut seen = BTreeSet::new();
        for (text, _) in lines(table) {
            assert!(seen.insert(text), "{text}");
        }
    }
}

/// The canonical name of whatever was read is read as the same again.
#[test]
fn what_was_read_reads_back_by_its_canonical_name() {
    for (text, _) in lines(READ) {
        let once = read(text);
        let again = read(&once.exercise.name);
        assert_eq!(again.exercise, once.exercise, "{text}");
    }
}

#[test]
fn case_punctuation_and_hyphens_say_nothing() {
    for (text, means) in lines(READ) {
        let plain = text.replace(['-', '.', ',', '(', ')', '/'], " ");
        for other in [
            text.to_uppercase(),
            text.to_lowercase(),
            format!("  ({text}), "),
            plain.replace(' ', " - "),
        ] {
            // What runs together in one word may mean another one.
            if other.contains("W O") || other.contains("w - o") {
                continue;
            }
            assert_eq!(exercise(&read(&other)), means, "{other}");
        }
    }
}

/// Each letter, digit and sign of a text is in one of the pieces, and pieces say what is written.
#[test]
fn every_word_of_a_text_is_told() {
    for (text, _) in lines(READ) {
        let reading = read(text);
        let letters: Vec<char> = text.chars().collect();
        let mut told = vec![false; letters.len()];
        for piece in &reading.pieces {
            let mut words = Vec::new();
            for span in &piece.spans {
                words.push(letters[span.from..span.to].iter().collect::<String>());
                told[span.from..span.to].fill(true);
            }
            assert_eq!(words.join(" "), piece.text, "{text}");
        }
        for (at, letter) in letters.iter().enumerate() {
            let says = letter.is_alphanumeric() || matches!(letter, '+' | '&');
            assert!(!says || told[at], "{text}: {letter} at {at}");
        }
    }
}
