//! Exercises: all of them, or ranked by what they help.

use serde::{Deserialize, Serialize};

use crate::explain::{Effect, ExerciseEntry, Ranked};
use crate::report::json::{FORMAT, document, this_format};
use crate::report::page::{Page, Tone};
use crate::report::words::{capital, half_points, texts};

use super::names;

/// The most exercises that a ranking prints as text.
const MOST_RANKED: usize = 25;
/// Where the score stands.
const SCORE: usize = 66;

document! {
    /// Exercises: all by id, or ranked by what they help.
    ExercisesDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The exercises.
        exercises: Vec<ExerciseDocument>,
    }
}

document! {
    /// An exercise.
    ExerciseDocument {
        /// Its id.
        id: String,
        /// Its name.
        name: String,
        /// What it is used for.
        used_for: String,
        /// Roles that it may take.
        roles: Vec<String>,
        /// Sum of what its constraints cost in likeness to the full form.
        departure: i64,
        /// In a ranking: sum of demand times net effect in half points.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        score: Option<i64>,
        /// In a ranking: what it does to each cause that was asked about.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        effects: Vec<EffectDocument>,
        /// In a ranking: whether the case allows it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        allowed: Option<bool>,
    }
}

document! {
    /// What an exercise does to a cause of a skill.
    EffectDocument {
        /// The skill.
        skill: String,
        /// The cause.
        cause: String,
        /// Its demand, 1 to 300.
        demand: i64,
        /// Net effect in half points; below 0 it feeds the cause.
        half_points: i64,
        /// The constraints that help most.
        by: Vec<String>,
    }
}

/// All exercises as a document.
#[must_use]
pub fn exercises_document(exercises: &[ExerciseEntry]) -> ExercisesDocument {
    let all = exercises.iter().map(|exercise| ExerciseDocument {
        id: exercise.id.to_string(),
        name: exercise.name.clone(),
        used_for: exercise.used_for.clone(),
        roles: texts(&exercise.roles),
        departure: exercise.departure,
        score: None,
        effects: Vec::new(),
        allowed: None,
    });
    ExercisesDocument {
        format: FORMAT,
        exercises: all.collect(),
    }
}

/// All exercises as text in lines of at most 80 columns.
#[must_use]
pub fn exercises_text(exercises: &[ExerciseEntry], colour: bool) -> String {
    let mut page = Page::new(colour);
    for exercise in exercises {
        page.say(
            0,
            &format!("{}: {}", exercise.id, exercise.name),
            Tone::Strong,
        );
        page.say(2, &exercise.used_for, Tone::Plain);
    }
    page.done()
}

/// A ranking as a document.
#[must_use]
pub fn ranking_document(ranked: &[Ranked]) -> ExercisesDocument {
    let effect = |effect: &Effect| EffectDocument {
        skill: effect.skill.to_string(),
        cause: effect.cause.id.to_string(),
        demand: effect.demand,
        half_points: effect.half_points,
        by: effect
            .by
            .iter()
            .map(|called| called.id.to_string())
            .collect(),
    };
    let all = ranked.iter().map(|held| ExerciseDocument {
        id: held.exercise.to_string(),
        name: held.name.clone(),
        used_for: held.used_for.clone(),
        roles: texts(&held.roles),
        departure: held.departure,
        score: Some(held.score),
        effects: held.effects.iter().map(effect).collect(),
        allowed: Some(held.allowed),
    });
    ExercisesDocument {
        format: FORMAT,
        exercises: all.collect(),
    }
}

/// What helps most, as text in lines of at most 80 columns; what does nothing or harms is left out.
#[must_use]
pub fn ranking_text(ranked: &[Ranked], colour: bool) -> String {
    let mut page = Page::new(colour);
    let helping: Vec<&Ranked> = ranked.iter().filter(|held| held.score > 0).collect();
    if !helping.is_empty() {
        let head = "What helps, best first, with the points of help on each cause";
        page.pair(0, head, SCORE, " score", Tone::Faint);
    }
    for (at, held) in helping.iter().take(MOST_RANKED).enumerate() {
        let out = if held.allowed {
            ""
        } else {
            " (not allowed in this case)"
        };
        page.pair(
            0,
            &format!("{:>2}  {}{out}", at + 1, capital(&held.name)),
            SCORE,
            &format!("{:>6}", held.score),
            Tone::Strong,
        );
        for effect in &held.effects {
            let does = if effect.half_points > 0 {
                "against"
            } else {
                "feeds"
            };
            let by = if effect.by.is_empty() {
                String::new()
            } else {
                format!(": {}", names(&effect.by))
            };
            let points = half_points(effect.half_points);
            page.hang(
                4,
                "- ",
                &format!("{does} {} ({points}){by}", effect.cause.name),
                Tone::Plain,
            );
        }
    }
    if !helping.is_empty() {
        let foot = "Score: the demand of each cause times the half points of help, added up.";
        page.say(0, foot, Tone::Faint);
    }
    let more = helping.len().saturating_sub(MOST_RANKED);
    if more > 0 {
        page.say(0, &format!("and {more} more that help less"), Tone::Faint);
    }
    if helping.is_empty() {
        page.say(0, "No exercise of these rules helps.", Tone::Plain);
    }
    page.done()
}
