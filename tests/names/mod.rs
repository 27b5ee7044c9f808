//! Written names: tables of what coaches write and what it means, and laws that hold of any of them.

mod broken;
mod laws;
mod table;
mod used;

use drillwright::KnowledgeBase;
use drillwright::explain::{Misread, NameReading, NamedPart};

use crate::corpus::BASE;

/// Lines of a table as text and what it means.
pub fn lines(table: &'static str) -> impl Iterator<Item = (&'static str, &'static str)> {
    let lines = table
        .lines()
        .filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.map(|line| {
        let (text, means) = line.split_once(" =>").unwrap_or_else(|| panic!("{line}"));
        (text, means.trim())
    })
}

pub const READ: &str = include_str!("read.txt");
pub const WRONG: &str = include_str!("wrong.txt");

/// A movement as the table writes it: its id, or its root with all constraints beyond that.
pub fn movement(part: &NamedPart) -> String {
    if let Some(id) = &part.listed {
        return id.to_string();
    }
    let mut all: Vec<&str> = part
        .constraints
        .iter()
        .map(|held| held.id.as_str())
        .collect();
    all.sort_unstable();
    format!("{}: {}", part.root.id, all.join(" "))
}

/// What was read, as the table writes it.
pub fn exercise(reading: &NameReading) -> String {
    let exercise = &reading.exercise;
    match (&exercise.listed, exercise.parts.as_slice()) {
        (Some(id), _) => id.to_string(),
        (None, [only]) => movement(only),
        (None, parts) => {
            let all = parts
                .iter()
                .map(|part| format!("{} {}", part.reps.number(), movement(part)));
            all.collect::<Vec<_>>().join(" + ")
        }
    }
}

/// Why a text was not read, as the table writes it.
pub fn why(wrong: &Misread) -> String {
    let with = |kind: &str, mut all: Vec<String>, sorted: bool| {
        if sorted {
            all.sort();
        }
        let mut text = kind.to_owned();
        for one in all {
            text += &format!(" {one}");
        }
        text
    };
    match wrong {
        Misread::UnknownWord { word, nearest } => {
            let near = nearest.as_deref().unwrap_or("nothing");
            format!("unknown {} near {near}", word.text)
        }
        Misread::LeftOver { word } => format!("left-over {}", word.text),
        Misread::Ambiguous { between } => {
            let names: Vec<&str> = between.iter().map(|may_be| may_be.name.as_str()).collect();
            format!("between {}", names.join("; "))
        }
        Misread::NoExercise { could_be } => {
            let ids = could_be.iter().map(|called| called.id.to_string());
            with("no-exercise", ids.collect(), true)
        }
        Misread::Several { exercises } => {
            let ids = exercises.iter().map(|called| called.id.to_string());
            with("several", ids.collect(), false)
        }
        Misread::Excluded { first, second } => with(
            "excludes",
            vec![first.id.to_string(), second.id.to_string()],
            true,
        ),
        Misread::Elsewhere {
            constraint,
            exercise,
        } => format!("elsewhere {} {}", constraint.id, exercise.id),
        Misread::Count { word } => format!("count {}", word.text),
        Misread::Empty => String::from("empty"),
        Misread::TooLong => String::from("too-long"),
        other => panic!("{other:?}"),
    }
}

pub fn read(text: &str) -> NameReading {
    read_by(&BASE, text)
}

#[track_caller]
pub fn read_by(base: &KnowledgeBase, text: &str) -> NameReading {
    match base.read_name(text) {
        Ok(reading) => reading,
        Err(wrong) => panic!("{text}: {wrong:?}"),
    }
}
