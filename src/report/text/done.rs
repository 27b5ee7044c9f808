//! What is done, in words: sets, repetitions, loads and what they are made of.

use crate::base::Decimal;
use crate::explain::{Item, LighterSet, Load};

/// A load with its unit, one number where both ends are the same.
pub(super) fn span(load: &Load) -> String {
    if load.low == load.high {
        format!("{} {}", load.low, load.unit)
    } else {
        format!("{}–{} {}", load.low, load.high, load.unit)
    }
}

/// Percent, one number where both ends are the same.
pub(super) fn percent((low, high): (i64, i64)) -> String {
    if low == high {
        format!("{low} %")
    } else {
        format!("{low}–{high} %")
    }
}

/// The pieces of one side, innermost first.
pub(super) fn side(pieces: &[Decimal]) -> String {
    if pieces.is_empty() {
        return String::from("nothing");
    }
    pieces
        .iter()
        .map(ToString::to_string)
        .collect::<Vec<_>>()
        .join(" + ")
}

/// Sets and repetitions.
pub(super) fn sets(item: &Item) -> String {
    match item.round.as_slice() {
        [_] | [] => format!("{} × {}", item.sets, item.reps),
        round => {
            let round: Vec<String> = round.iter().map(ToString::to_string).collect();
            format!("{} × ({})", item.sets, round.join(" + "))
        }
    }
}

/// Repetitions of one round.
fn round(set: &LighterSet) -> String {
    let round: Vec<String> = set.round.iter().map(ToString::to_string).collect();
    match round.as_slice() {
        [one] => one.clone(),
        several => format!("({})", several.join(" + ")),
    }
}

/// The lighter sets: what is on the bar, repetitions, and what of it is on one side; no percent of a load
/// that nobody knows.
pub(super) fn lighter_sets(item: &Item) -> String {
    let unit = item.load.as_ref().map_or("", |load| load.unit.as_str());
    let with_load = |set: &LighterSet| {
        let load = set.load.as_ref()?;
        let pieces = match load.pieces.as_slice() {
            [] => String::from("bar alone"),
            pieces => format!("{} a side", side(pieces)),
        };
        Some(format!(
            "{} {unit} × {} ({pieces})",
            load.weight,
            round(set)
        ))
    };
    let sets: Option<Vec<String>> = item.lighter_sets.iter().map(with_load).collect();
    sets.map_or_else(
        || {
            let rounds: Vec<String> = item.lighter_sets.iter().map(round).collect();
            format!("{} repetitions, each set heavier", rounds.join(", "))
        },
        |sets| sets.join("; "),
    )
}
