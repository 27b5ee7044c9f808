//! What a case says in its fields and of its days, in words.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::CaseFieldId;
use crate::rules::case_check::Case;
use crate::rules::pack::Pack;

use super::answer::StatedBest;
use super::assemble::value_in_words;
use super::date::day_in_words;
use super::glossary::Glossary;

/// What the case itself says in its fields, in words.
pub(crate) fn stated(pack: &Pack, glossary: &Glossary, case: &Case) -> Vec<(CaseFieldId, String)> {
    let of_days = case.days.values().flat_map(BTreeMap::keys);
    let fields: BTreeSet<&CaseFieldId> = case.stated.iter().chain(of_days).collect();
    let counts = pack.counts_training_days().map(|(id, _)| &id.value);
    let said = fields.into_iter().filter_map(|field| {
        let own = case.fields.get(field);
        let own = own.map(|value| value_in_words(glossary, field, value));
        let says = if case.days.is_empty() {
            own?
        } else if counts == Some(field) {
            days_in_words(case)
        } else {
            by_day(case, field, own)?
        };
        Some((field.clone(), says))
    });
    said.collect()
}

/// The bests that a case states, by id.
pub(crate) fn bests(case: &Case) -> Vec<StatedBest> {
    let stated = case.bests.iter().map(|(reference, weight)| StatedBest {
        reference: reference.clone(),
        weight: *weight,
        day: case.best_days.get(reference).map(|day| day_in_words(*day)),
    });
    stated.collect()
}

/// The days that a case names, in words.
pub(crate) fn days_in_words(case: &Case) -> String {
    let names: Vec<&str> = case.days.keys().map(|day| day.name()).collect();
    names.join(", ")
}

/// What a case says of a field on its days, and what else.
fn by_day(case: &Case, field: &CaseFieldId, own: Option<String>) -> Option<String> {
    let said = case.days.iter();
    let mut all: Vec<String> = said
        .filter_map(|(day, said)| Some(format!("{} on {}", said.get(field)?, day.name())))
        .collect();
    if all.is_empty() {
        return own;
    }
    if all.len() < case.days.len() {
        all.extend(own.map(|own| format!("else {own}")));
    }
    Some(all.join(", "))
}
