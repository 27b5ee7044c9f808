//! What is done, in words: sets, repetitions, loads and what they are made of.

use crate::base::Decimal;
use crate::explain::{Bar, Item, LighterSet, Load};

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

/// The lighter sets: what is on the bar, repetitions, and what of it is on one side.
pub(super) fn lighter_sets(item: &Item, bar: &Bar) -> String {
    let alone = if bar.collar == Decimal::ZERO {
        "bar alone"
    } else {
        "bar and collars"
    };
    let sets = item.lighter_sets.iter().map(|set| {
        let pieces = match set.load.pieces.as_slice() {
            [] => alone.to_owned(),
            pieces => format!("{} a side", side(pieces)),
        };
        format!(
            "{} {} × {} ({pieces})",
            set.load.weight,
            bar.unit,
            round(set)
        )
    });
    sets.collect::<Vec<_>>().join("; ")
}
