//! Totals of the week: their bounds, and what they are worth.

use crate::plan::model::{Model, Row};

use super::build::{Ends, Flat, Way};
use super::open::{Sense, Terms};

/// Beyond this, floating numbers of other solvers are no longer whole.
const EXACT: i64 = 1 << 53;

/// # Errors
///
/// The rule of a row whose totals or worth are too large.
pub(super) fn add(flat: &mut Flat<'_>) -> Result<(), String> {
    let model = flat.model;
    if flat.seeks_worth() {
        for (day, held) in model.days.iter().enumerate() {
            for (at, candidate) in held.candidates.iter().enumerate() {
                if let Some(column) = flat.x_of(day, at) {
                    flat.gain(column, candidate.worth);
                }
            }
        }
    }
    for (at, row) in model.rows.iter().enumerate() {
        let worth = flat.seeks_worth() && !row.tables.is_empty();
        let bounded = row
            .bounds
            .iter()
            .any(|bound| flat.way(bound.level) != Way::Free);
        if !worth && !bounded {
            continue;
        }
        let (low, high) = reach(model, at);
        let total = flat.between(format!("t_{}", row.name), low, high);
        let mut terms = total_of(flat, at);
        terms.push((total, -1));
        flat.line(&format!("{}_total", row.name), terms, Sense::Equal, 0);
        for bound in &row.bounds {
            let ends = Ends {
                at_least: bound.at_least,
                at_most: bound.at_most,
                unit: bound.unit,
            };
            let name = format!("{}_week", row.name);
            flat.within(flat.way(bound.level), &name, &[(total, 1)], ends);
        }
        let too_far = |n: i64| n <= -EXACT || n >= EXACT;
        if [low, high]
            .into_iter()
            .any(|end| too_far(end) || too_far(row.worth(end)))
        {
            return Err(row.name.clone());
        }
        if worth {
            worth_of(flat, row, total, (low, high));
        }
    }
    Ok(())
}

/// What adds up to a total.
fn total_of(flat: &mut Flat<'_>, row: usize) -> Terms {
    let model = flat.model;
    let mut terms = Terms::new();
    for (day, held) in model.days.iter().enumerate() {
        for (at, candidate) in held.candidates.iter().enumerate() {
            for (_, amount) in candidate.amounts.iter().filter(|(of, _)| *of == row) {
                terms.extend(flat.x_of(day, at).map(|column| (column, *amount)));
            }
        }
        let presences = model.presences.iter().enumerate();
        for (presence, (_, amount)) in presences.filter(|(_, (of, _))| *of == row) {
            let gives = held.candidates.iter().enumerate();
            let gives = gives.filter(|(_, candidate)| candidate.once.contains(&presence));
            let any = flat.any(day, gives.map(|(at, _)| at));
            terms.extend(any.iter().map(|(column, _)| (*column, *amount)));
        }
    }
    terms
}

/// The least and the most that a total can come to, by what the parts hold.
fn reach(model: &Model, row: usize) -> (i64, i64) {
    let (mut low, mut high) = (0i64, 0i64);
    for held in &model.days {
        for slot in &held.slots {
            let mut amounts: Vec<i64> = slot
                .candidates
                .iter()
                .filter_map(|at| held.candidates.get(*at))
                .map(|candidate| {
                    let of = candidate.amounts.iter().filter(|(of, _)| *of == row);
                    of.map(|(_, amount)| amount).sum()
                })
                .collect();
            amounts.sort_unstable();
            let least = amounts.iter().take(slot.at_most).filter(|n| **n < 0);
            low = low.saturating_add(least.sum());
            let most = amounts.iter().rev().take(slot.at_most).filter(|n| **n > 0);
            high = high.saturating_add(most.sum());
        }
        for (_, amount) in model.presences.iter().filter(|(of, _)| *of == row) {
            low = low.saturating_add(*amount.min(&0));
            high = high.saturating_add(*amount.max(&0));
        }
    }
    (low, high)
}

/// Worth of a total: a start, and one column for each slope on the way up.
///
/// Where slopes never rise, a solver fills the steep ones first by itself; else columns of 0 or 1
/// make it.
fn worth_of(flat: &mut Flat<'_>, row: &Row, total: usize, (low, high): (i64, i64)) {
    let mut ends: Vec<i64> = vec![low, high];
    for (table, _, start) in &row.tables {
        ends.push(*start);
        ends.extend(table.steps.iter().map(|step| start.saturating_add(step.to)));
    }
    ends.retain(|end| *end >= low && *end <= high);
    ends.sort_unstable();
    ends.dedup();
    let mut slopes: Vec<(i64, i64)> = Vec::new();
    for (from, to) in ends.iter().zip(ends.iter().skip(1)) {
        let slope = (row.worth(*to) - row.worth(*from)) / (to - from).max(1);
        match slopes.last_mut().filter(|(held, _)| *held == slope) {
            Some((_, length)) => *length += to - from,
            None => slopes.push((slope, to - from)),
        }
    }
    let constant = flat.constant();
    flat.gain(constant, row.worth(low));
    let name = format!("{}_worth", row.name);
    let mut terms: Terms = vec![(total, -1), (constant, low)];
    let rising = slopes
        .iter()
        .zip(slopes.iter().skip(1))
        .any(|((one, _), (next, _))| next > one);
    let mut before: Option<(usize, i64)> = None;
    for (slope, length) in &slopes {
        let column = flat.between(format!("s_{}", row.name), 0, *length);
        flat.gain(column, *slope);
        terms.push((column, 1));
        if rising {
            if let Some((before, length_before)) = before {
                let full = flat.binary(format!("full_{}", row.name));
                flat.most(&name, vec![(column, 1), (full, -length)], 0, None);
                let filled = vec![(before, 1), (full, -length_before)];
                flat.line(&name, filled, Sense::Least, 0);
            }
            before = Some((column, *length));
        }
    }
    flat.line(&name, terms, Sense::Equal, 0);
}
