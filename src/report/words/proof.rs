//! How good a week is.

use crate::explain::{Level, Missed, NotFound, Plan, Proof};

use super::phrase::{hundredths, many};

/// When a rule of this level gives way, among the others.
pub(crate) fn when(level: Level) -> &'static str {
    match level {
        Level::Middle => "in the middle",
        Level::Never | Level::Last | Level::First => level.as_str(),
    }
}

/// Units missed on each level; that every rule is kept, where none is.
pub(super) fn gave_way(missed: &Missed) -> String {
    let levels = [
        (Level::Last, missed.last),
        (Level::Middle, missed.middle),
        (Level::First, missed.first),
    ];
    let all: Vec<String> = levels
        .iter()
        .filter(|(_, units)| *units > 0)
        .map(|(level, units)| {
            format!(
                "{} of rules that give way {}",
                many(*units, "unit", "units"),
                when(*level)
            )
        })
        .collect();
    if all.is_empty() {
        String::from("every rule is kept")
    } else {
        format!("missed {}", all.join(", "))
    }
}

/// How good a week is, in words.
pub(crate) fn proof(plan: &Plan) -> String {
    let worth = hundredths(plan.worth);
    let gave_way = gave_way(&plan.missed);
    let says = match (plan.proof, &plan.bound) {
        (Proof::Limited | Proof::Cancelled, Some(bound)) => {
            let at_best = if bound.missed == plan.missed {
                format!("no week is worth more than {}", hundredths(bound.worth))
            } else {
                format!(
                    "in no week is less missed than this: {}",
                    self::gave_way(&bound.missed)
                )
            };
            let until = if plan.proof == Proof::Cancelled {
                "before the search was cancelled"
            } else {
                "within the limit of work"
            };
            format!("The best week found {until}; {at_best}.")
        }
        _ => String::from("The search claims that no week is better under these rules."),
    };
    format!("{says} Checked again by itself: {gave_way}; worth {worth} points.")
}

/// That nothing was found, and what to do.
pub(crate) fn not_found(none: &NotFound) -> String {
    let nodes = none.nodes;
    if none.cancelled {
        format!("No week was found before the search was cancelled, after {nodes} nodes.")
    } else {
        format!(
            "No week was found within the limit of work, after {nodes} nodes. There may be one: allow more work, or ask for less."
        )
    }
}
