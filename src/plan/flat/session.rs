//! What a session's items decide whatever their order: parts, single items, sums and couples.

use std::collections::BTreeMap;

use crate::plan::model::{CoupleKind, DayModel, Group, Sums, units};

use super::build::{Ends, Flat, Way};
use super::open::{Sense, Terms};

pub(super) fn add(flat: &mut Flat<'_>, day: usize) {
    let model = flat.model;
    let Some(held) = model.days.get(day) else {
        return;
    };
    for (number, slot) in held.slots.iter().enumerate() {
        let all = flat.sum(day, slot.candidates.iter().copied());
        let most = i64::try_from(slot.at_most).unwrap_or(i64::MAX);
        let name = format!("part_d{}_{}", day + 1, number + 1);
        flat.line(&name, all, Sense::Most, most);
    }
    items(flat, day, held);
    for sums in &held.sums {
        add_sums(flat, day, sums);
    }
    for couple in &held.couples {
        let way = flat.way(couple.level);
        let name = format!("{}_d{}", couple.rule, day + 1);
        match &couple.kind {
            _ if way == Way::Free => {}
            CoupleKind::Not(pairs) => {
                let mut weights: BTreeMap<(usize, usize), i64> = BTreeMap::new();
                for (one, others) in pairs.iter().enumerate() {
                    for other in others.iter() {
                        *weights.entry((one.min(other), one.max(other))).or_insert(0) += 1;
                    }
                }
                if way == Way::Hard {
                    never_both(flat, day, &name, &weights);
                    continue;
                }
                for ((one, other), times) in weights {
                    let both = flat.sum(day, [one, other]);
                    let missed = flat.unit(way, &name, false, times);
                    flat.most(&name, both, 1, missed);
                }
            }
            CoupleKind::Needs(needs) => {
                for (at, others) in needs.iter().enumerate() {
                    let Some(others) = others else { continue };
                    let mut terms = flat.sum(day, [at]);
                    let partners = flat.sum(day, others.iter());
                    terms.extend(partners.iter().map(|(column, _)| (*column, -1)));
                    let missed = flat.unit(way, &name, false, 1);
                    flat.most(&name, terms, 0, missed);
                }
            }
        }
    }
}

/// An exercise once a session, and what placing an item misses by itself.
fn items(flat: &mut Flat<'_>, day: usize, held: &DayModel) {
    let mut same: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (at, candidate) in held.candidates.iter().enumerate() {
        same.entry(candidate.exercise).or_default().push(at);
        for (level, missed) in candidate.misses.iter().enumerate().filter(|(_, n)| **n > 0) {
            item(flat, day, at, Some(level), *missed);
        }
    }
    for which in same.into_values().filter(|which| which.len() > 1) {
        let all = flat.sum(day, which);
        flat.line(&format!("once_d{}", day + 1), all, Sense::Most, 1);
    }
}

/// An item that misses so many units by itself.
fn item(flat: &mut Flat<'_>, day: usize, at: usize, level: Option<usize>, missed: i64) {
    match flat.way(level) {
        Way::Hard => flat.never(day, at),
        Way::Counted(level) => {
            if let Some(column) = flat.x_of(day, at) {
                flat.missed(level, column, missed);
            }
        }
        Way::Free => {}
    }
}

fn add_sums(flat: &mut Flat<'_>, day: usize, sums: &Sums) {
    let way = flat.way(sums.level);
    let name = format!("{}_d{}", sums.rule, day + 1);
    for (at, lack) in sums.extra.iter().enumerate().filter(|(_, n)| **n > 0) {
        item(flat, day, at, sums.level, units(*lack, sums.unit));
    }
    for group in &sums.groups {
        let terms = total(flat, day, group);
        let ends = Ends {
            at_least: group.at_least,
            at_most: group.at_most,
            unit: sums.unit,
        };
        flat.within(way, &name, &terms, ends);
    }
}

/// A sum of a session as it is counted: it starts where there is any item.
fn total(flat: &mut Flat<'_>, day: usize, group: &Group) -> Terms {
    let count = group.amounts.len();
    if group.presence {
        // Such a sum starts at nothing.
        return flat.any(
            day,
            (0..count).filter(|at| group.amounts.get(*at).is_some_and(|n| *n > 0)),
        );
    }
    let mut terms: Terms = Vec::new();
    for (at, amount) in group.amounts.iter().enumerate().filter(|(_, n)| **n != 0) {
        terms.extend(flat.x_of(day, at).map(|column| (column, *amount)));
    }
    if group.start != 0 {
        let any = flat.any(day, 0..count);
        terms.extend(any.iter().map(|(column, _)| (*column, group.start)));
    }
    terms
}

/// Pairs of which no two stand together; those with the same others share a line.
fn never_both(flat: &mut Flat<'_>, day: usize, name: &str, pairs: &BTreeMap<(usize, usize), i64>) {
    let mut others: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (one, other) in pairs.keys() {
        others.entry(*one).or_default().push(*other);
        others.entry(*other).or_default().push(*one);
    }
    let mut sharing: BTreeMap<Vec<usize>, Vec<usize>> = BTreeMap::new();
    for (one, mut others) in others {
        others.sort_unstable();
        sharing.entry(others).or_default().push(one);
    }
    for (others, these) in sharing {
        let mut both = flat.any(day, these);
        both.extend(flat.any(day, others));
        flat.most(name, both, 1, None);
    }
}
