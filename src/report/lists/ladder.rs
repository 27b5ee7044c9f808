//! From a drill to the full form.

use serde::{Deserialize, Serialize};

use crate::explain::Rung;
use crate::report::json::{FORMAT, document, this_format};
use crate::report::page::{Page, Tone};
use crate::report::words::capital;

use super::names;

document! {
    /// From a drill to the full form.
    LadderDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The rungs, the drill first.
        rungs: Vec<RungDocument>,
    }
}

document! {
    /// A rung of a ladder.
    RungDocument {
        /// The listed exercise, where there is one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        exercise: Option<String>,
        /// Its name.
        name: String,
        /// The constraints that are still there.
        constraints: Vec<String>,
        /// What was freed since the rung before.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        freed: Option<String>,
        /// What the freed constraint does to the cause, -3 to 3.
        bears: i64,
        /// The most that can be done, in percent of `of`.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        highest: Option<i64>,
        /// Whether that is an estimate.
        estimate: bool,
        /// The reference that it is a percent of.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        of: Option<String>,
    }
}

/// A ladder as a document.
#[must_use]
pub fn ladder_document(rungs: &[Rung]) -> LadderDocument {
    let all = rungs.iter().map(|rung| RungDocument {
        exercise: rung.exercise.as_ref().map(ToString::to_string),
        name: rung.name.clone(),
        constraints: rung
            .constraints
            .iter()
            .map(|called| called.id.to_string())
            .collect(),
        freed: rung.freed.as_ref().map(|called| called.id.to_string()),
        bears: rung.bears,
        highest: rung.highest,
        estimate: rung.estimate,
        of: rung.of.as_ref().map(|called| called.id.to_string()),
    });
    LadderDocument {
        format: FORMAT,
        rungs: all.collect(),
    }
}

/// A ladder as text in lines of at most 80 columns.
#[must_use]
pub fn ladder_text(rungs: &[Rung], colour: bool) -> String {
    let mut page = Page::new(colour);
    for (at, rung) in rungs.iter().enumerate() {
        if let Some(freed) = &rung.freed {
            let last = if rung.bears > 0 {
                ", which works against the cause"
            } else {
                ""
            };
            page.say(4, &format!("take away: {}{last}", freed.name), Tone::Plain);
        }
        let name = match &rung.exercise {
            Some(_) => capital(&rung.name),
            None => format!(
                "{}, with {} (not listed)",
                capital(&rung.name),
                names(&rung.constraints)
            ),
        };
        page.hang(0, &format!("{:>2}  ", at + 1), &name, Tone::Strong);
        if let (Some(highest), Some(of)) = (rung.highest, &rung.of) {
            let estimate = if rung.estimate { ", an estimate" } else { "" };
            let text = format!("at most {highest} % of {}{estimate}", of.name);
            page.say(4, &text, Tone::Faint);
        }
    }
    page.say(0, "Only then does the load rise.", Tone::Plain);
    page.done()
}
