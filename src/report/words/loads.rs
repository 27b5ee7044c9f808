//! What loads are made of and measured by.

use crate::base::Decimal;
use crate::explain::{Bar, StatedBest};

use super::phrase::capital;

/// A best, with the day on which it was lifted where that is known.
pub(crate) fn best_in_words(name: &str, best: &StatedBest, unit: &str) -> String {
    let weight = best.weight;
    match &best.day {
        Some(day) => format!("{name} {weight} {unit} ({day})"),
        None => format!("{name} {weight} {unit}"),
    }
}

/// A bar with its collars.
pub(crate) fn bar_in_words(name: &str, bar: &Bar) -> String {
    let (name, weight, unit) = (capital(name), bar.weight, &bar.unit);
    if bar.collar == Decimal::ZERO {
        format!("{name}, {weight} {unit}: every load includes it.")
    } else {
        let collar = bar.collar;
        format!(
            "{name}, {weight} {unit}, and two collars of {collar} {unit}: every load includes them."
        )
    }
}

/// A lighter bar, for what is too light for the week's.
pub(crate) fn lighter_bar_in_words(name: &str, bar: &Bar) -> String {
    let (weight, unit) = (bar.weight, &bar.unit);
    let collars = if bar.collar == Decimal::ZERO {
        String::new()
    } else {
        format!(" with two collars of {} {unit}", bar.collar)
    };
    format!("What is too light for it is done on the {name}, {weight} {unit}{collars}.")
}
