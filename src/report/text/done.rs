//! What is done, in words: sets, repetitions, loads and what they are made of.

use crate::base::Decimal;
use crate::explain::{Item, Load};

/// A load with its unit, one number where both ends are the same.
pub(super) fn span(load: &Load) -> String {
    if load.low == load.high {
        format!("{} {}", load.low, load.unit)
    } else {
        format!("{}–{} {}", load.low, load.high, load.unit)
    }
}

/// Percent, one number where both ends are the same.
pub(crate) fn percent((low, high): (i64, i64)) -> String {
    if low == high {
        format!("{low} %")
    } else {
        format!("{low}–{high} %")
    }
}

/// Numbers with `+` between them.
fn sum<T: ToString>(parts: &[T]) -> String {
    let parts: Vec<String> = parts.iter().map(ToString::to_string).collect();
    parts.join(" + ")
}

/// The pieces of one side, innermost first.
pub(super) fn side(pieces: &[Decimal]) -> String {
    if pieces.is_empty() {
        String::from("nothing")
    } else {
        sum(pieces)
    }
}

/// Repetitions of each component of one round.
fn round(reps: &[i64]) -> String {
    match reps {
        [one] => one.to_string(),
        several => format!("({})", sum(several)),
    }
}

/// Sets and repetitions.
pub(crate) fn sets(item: &Item) -> String {
    format!("{} × {}", item.sets, round(&item.round))
}

/// The lighter sets: what is on the bar, repetitions, and what of it is on one side.
pub(super) fn lighter_sets(item: &Item) -> String {
    let Some(bar) = item.load.as_ref().map(|load| &load.bar) else {
        return String::new();
    };
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
            round(&set.round)
        )
    });
    sets.collect::<Vec<_>>().join("; ")
}
