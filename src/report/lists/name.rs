//! What a written name was read as.

use serde::{Deserialize, Serialize};

use crate::explain::{
    CauseEffect, LoadLimit, NamePiece, NameReading, NamedExercise, NamedPart, ReadAs,
};
use crate::report::json::{FORMAT, document, this_format};
use crate::report::page::{Page, Tone};
use crate::report::words::{capital, half_points, many, spaced, texts};

use super::names;

/// Where what words were read as stands.
const READ_AS: usize = 30;

document! {
    /// A written name with what it was read as.
    NameDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The text.
        text: String,
        /// What each word of it was read as, by place.
        pieces: Vec<NamePieceDocument>,
        /// The exercise that it means.
        exercise: NamedExerciseDocument,
    }
}

document! {
    /// Words of a text with what they were read as.
    NamePieceDocument {
        /// The words.
        text: String,
        /// Where they stand, from and to, in characters from 0.
        spans: Vec<(usize, usize)>,
        /// `exercise`, `constraint`, `count`, `joins` or `nothing`.
        read_as: String,
        /// The exercise or constraint.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        id: Option<String>,
        /// The count.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        count: Option<u8>,
    }
}

document! {
    /// The exercise that a written name means.
    NamedExerciseDocument {
        /// Its canonical name.
        name: String,
        /// Its id, where it is listed.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        id: Option<String>,
        /// The listed exercise nearest to it.
        nearest: String,
        /// Skills that it trains.
        skills: Vec<String>,
        /// Its movements in order.
        parts: Vec<NamedPartDocument>,
        /// What it does to causes.
        effects: Vec<CauseEffectDocument>,
        /// Sum of what its constraints cost in likeness to the full form.
        departure: i64,
        /// The most that can be done.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load: Option<LoadLimitDocument>,
    }
}

document! {
    /// A movement of an exercise.
    NamedPartDocument {
        /// Its name.
        name: String,
        /// Its id, where it is listed.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        id: Option<String>,
        /// The exercise that it goes back to.
        root: String,
        /// How often it is done in one round.
        reps: u8,
        /// The constraints that it has beyond its root.
        constraints: Vec<String>,
        /// The stages that are left.
        stages: Vec<String>,
        /// Sum of what its constraints cost in likeness to the full form.
        departure: i64,
        /// The most that can be done.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load: Option<LoadLimitDocument>,
    }
}

document! {
    /// What an exercise does to a cause in a skill that it trains.
    CauseEffectDocument {
        /// The skill.
        skill: String,
        /// The cause.
        cause: String,
        /// Net effect in half points; below 0 it feeds the cause.
        half_points: i64,
    }
}

document! {
    /// The most that can be done.
    LoadLimitDocument {
        /// Percent of the reference.
        percent: i64,
        /// The reference.
        of: String,
        /// Whether it is an estimate.
        estimate: bool,
    }
}

/// What a written name was read as, as a document.
#[must_use]
pub fn name_document(reading: &NameReading) -> NameDocument {
    let exercise = &reading.exercise;
    NameDocument {
        format: FORMAT,
        text: reading.text.clone(),
        pieces: reading.pieces.iter().map(piece_document).collect(),
        exercise: NamedExerciseDocument {
            name: exercise.name.clone(),
            id: exercise.listed.as_ref().map(ToString::to_string),
            nearest: exercise.nearest.id.to_string(),
            skills: texts(&exercise.skills),
            parts: exercise.parts.iter().map(part_document).collect(),
            effects: exercise.effects.iter().map(effect_document).collect(),
            departure: exercise.departure,
            load: exercise.load.as_ref().map(load_document),
        },
    }
}

fn piece_document(piece: &NamePiece) -> NamePieceDocument {
    let (read_as, id, count) = match &piece.read_as {
        ReadAs::Exercise(called) => ("exercise", Some(called.id.to_string()), None),
        ReadAs::Constraint(called) => ("constraint", Some(called.id.to_string()), None),
        ReadAs::Count(number) => ("count", None, Some(number.number())),
        ReadAs::Joins => ("joins", None, None),
        ReadAs::Nothing => ("nothing", None, None),
    };
    NamePieceDocument {
        text: piece.text.clone(),
        spans: piece
            .spans
            .iter()
            .map(|span| (span.from, span.to))
            .collect(),
        read_as: read_as.to_owned(),
        id,
        count,
    }
}

fn part_document(part: &NamedPart) -> NamedPartDocument {
    let constraints = part.constraints.iter();
    NamedPartDocument {
        name: part.name.clone(),
        id: part.listed.as_ref().map(ToString::to_string),
        root: part.root.id.to_string(),
        reps: part.reps.number(),
        constraints: constraints.map(|called| called.id.to_string()).collect(),
        stages: texts(&part.stages),
        departure: part.departure,
        load: part.load.as_ref().map(load_document),
    }
}

fn effect_document(effect: &CauseEffect) -> CauseEffectDocument {
    CauseEffectDocument {
        skill: effect.skill.to_string(),
        cause: effect.cause.id.to_string(),
        half_points: effect.half_points.number(),
    }
}

fn load_document(load: &LoadLimit) -> LoadLimitDocument {
    LoadLimitDocument {
        percent: load.percent,
        of: load.of.id.to_string(),
        estimate: load.estimate,
    }
}

/// What a written name was read as, as text in lines of at most 80 columns.
#[must_use]
pub fn name_text(reading: &NameReading, colour: bool) -> String {
    let mut page = Page::new(colour);
    let exercise = &reading.exercise;
    page.say(0, &capital(&exercise.name), Tone::Strong);
    let listed = match &exercise.listed {
        Some(id) => format!("listed as {id}"),
        None => format!("not listed; nearest is “{}”", exercise.nearest.name),
    };
    page.say(2, &listed, Tone::Faint);
    page.gap();
    for piece in &reading.pieces {
        page.pair(
            2,
            &piece.text,
            READ_AS,
            &read_as(&piece.read_as),
            Tone::Plain,
        );
    }
    page.gap();
    if let [only] = exercise.parts.as_slice() {
        about_part(&mut page, 2, only);
    } else {
        for part in &exercise.parts {
            let times = many(i64::from(part.reps.number()), "time", "times");
            page.say(
                2,
                &format!("{}, {times}", capital(&part.name)),
                Tone::Strong,
            );
            about_part(&mut page, 4, part);
        }
    }
    page.hang(
        2,
        "departure: ",
        &exercise.departure.to_string(),
        Tone::Plain,
    );
    page.hang(2, "load: ", &load(exercise), Tone::Plain);
    effects(&mut page, exercise);
    page.done()
}

fn about_part(page: &mut Page, indent: usize, part: &NamedPart) {
    let constraints = match part.constraints.as_slice() {
        [] => String::from("none"),
        some => names(some),
    };
    page.hang(indent, "constraints: ", &constraints, Tone::Plain);
    if !part.stages.is_empty() {
        let stages: Vec<String> = part.stages.iter().map(|id| spaced(id.as_str())).collect();
        page.hang(indent, "stages left: ", &stages.join(", "), Tone::Plain);
    }
}

fn load(exercise: &NamedExercise) -> String {
    exercise.load.as_ref().map_or_else(
        || String::from("by feel; it has no best to be a percent of"),
        |load| {
            let estimate = if load.estimate { ", an estimate" } else { "" };
            format!("at most {} % of {}{estimate}", load.percent, load.of.name)
        },
    )
}

fn effects(page: &mut Page, exercise: &NamedExercise) {
    if exercise.effects.is_empty() {
        page.say(2, "It bears on no cause.", Tone::Plain);
    }
    for effect in &exercise.effects {
        let number = effect.half_points.number();
        let does = if number > 0 { "against" } else { "feeds" };
        let of = if exercise.skills.len() > 1 {
            format!(" in the {}", spaced(effect.skill.as_str()))
        } else {
            String::new()
        };
        let text = format!("{does} {}{of} ({})", effect.cause.name, half_points(number));
        page.hang(2, "- ", &text, Tone::Plain);
    }
}

fn read_as(read_as: &ReadAs) -> String {
    match read_as {
        ReadAs::Exercise(called) => format!("exercise: {}", called.name),
        ReadAs::Constraint(called) => format!("constraint: {}", called.name),
        ReadAs::Count(number) => {
            let times = many(i64::from(number.number()), "time", "times");
            format!("count: {times}")
        }
        ReadAs::Joins => String::from("joins"),
        ReadAs::Nothing => String::from("says nothing"),
    }
}
