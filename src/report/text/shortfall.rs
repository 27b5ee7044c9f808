//! What gave way.

use crate::explain::{Named, Shortfall};
use crate::report::words::{Words, capital, many, weekday, when};

/// What outranked a bound that gave way, and what of the case ruled out what would have served it.
pub(crate) fn because_of(words: &Words<'_>, shortfall: &Shortfall) -> Vec<String> {
    let outranked = shortfall.outranked_by.iter().map(ToString::to_string);
    let fields = shortfall.ruled_out_by.iter();
    let fields = fields.map(|field| {
        format!(
            "the case's “{}”",
            words.name(Named::CaseField, field.as_str())
        )
    });
    let pieces = shortfall
        .for_lack_of_pieces
        .then(|| String::from("the pieces that the gym has"));
    let mut all: Vec<String> = outranked.chain(fields).chain(pieces).collect();
    if all.is_empty() {
        all.push(String::from(
            "no single item put in, taken out or exchanged would serve it",
        ));
    }
    all
}

/// A bound that gave way: which, by how much, where, and what outranked it.
pub(crate) fn shortfall_in_words(words: &Words<'_>, shortfall: &Shortfall) -> String {
    let days: Vec<String> = shortfall.days.iter().map(|day| weekday(*day)).collect();
    let on = if days.is_empty() {
        String::new()
    } else {
        format!(" on {}", days.join(", "))
    };
    let purpose = words.purpose(&shortfall.ruling);
    let purpose = if purpose.is_empty() {
        String::new()
    } else {
        format!(" {purpose}")
    };
    let because = because_of(words, shortfall).join(", ");
    let nothing_named = shortfall.outranked_by.is_empty()
        && shortfall.ruled_out_by.is_empty()
        && !shortfall.for_lack_of_pieces;
    let because = if nothing_named {
        capital(&because)
    } else {
        format!("Outranked by: {because}")
    };
    format!(
        "{} is missed by {}{on}; it gives way {}.{purpose} {because}.",
        capital(&words.ruling(&shortfall.ruling)),
        many(shortfall.units, "unit", "units"),
        when(shortfall.level),
    )
}
