//! Rules about two days.

use std::collections::{BTreeMap, BTreeSet};

use crate::graph::Bits;
use crate::plan::model::TwoDaysKind;

use super::build::{Flat, Way};
use super::open::{Sense, Terms};

pub(super) fn add(flat: &mut Flat<'_>) {
    for rule in &flat.model.two_days {
        let way = flat.way(rule.level);
        match &rule.kind {
            _ if way == Way::Free => {}
            TwoDaysKind::Apart { what, from, near } => {
                apart(flat, way, &rule.rule, (what, from), near);
            }
            TwoDaysKind::Differ { what, at_most } => differ(flat, way, &rule.rule, what, *at_most),
            TwoDaysKind::Repeat {
                what,
                at_least,
                at_most,
            } => {
                let most = (*at_most != i64::MAX).then_some(*at_most);
                repeat(flat, way, &rule.rule, what, *at_least, most);
            }
        }
    }
}

/// Candidates of a day that have a key.
fn with(keys: &[Vec<Bits>], day: usize, key: usize) -> Vec<usize> {
    let keys = keys.get(day).map_or(&[][..], Vec::as_slice);
    keys.iter()
        .enumerate()
        .filter(|(_, keys)| keys.has(key))
        .map(|(at, _)| at)
        .collect()
}

fn keys(keys: &[Vec<Bits>], day: usize) -> BTreeSet<usize> {
    keys.get(day)
        .into_iter()
        .flatten()
        .flat_map(Bits::iter)
        .collect()
}

fn apart(
    flat: &mut Flat<'_>,
    way: Way,
    rule: &str,
    (what, from): (&[Vec<Bits>], &[Vec<Bits>]),
    near: &[(usize, usize)],
) {
    let mut units: BTreeMap<(usize, usize), Option<usize>> = BTreeMap::new();
    for (one, other) in near {
        let shared: Vec<usize> = keys(what, *one)
            .intersection(&keys(from, *other))
            .copied()
            .collect();
        if shared.is_empty() {
            continue;
        }
        let pair = (*one.min(other), *one.max(other));
        let name = format!("{rule}_d{}_d{}", pair.0 + 1, pair.1 + 1);
        // However they meet, two days are one unit.
        let missed = match units.get(&pair) {
            Some(missed) => *missed,
            None => {
                let missed = flat.unit(way, &name, false, 1);
                units.insert(pair, missed);
                missed
            }
        };
        for key in shared {
            let mut both = flat.any(*one, with(what, *one, key));
            both.extend(flat.any(*other, with(from, *other, key)));
            flat.most(&name, both, 1, missed);
        }
    }
}

/// By exercise: for each day the columns of its candidates in a rule.
fn by_exercise(flat: &Flat<'_>, what: &[Bits]) -> BTreeMap<usize, Vec<Terms>> {
    let days = flat.model.days.len();
    let mut all: BTreeMap<usize, Vec<Terms>> = BTreeMap::new();
    for (day, (what, held)) in what.iter().zip(&flat.model.days).enumerate() {
        for at in what.iter() {
            let (Some(candidate), Some(column)) = (held.candidates.get(at), flat.x_of(day, at))
            else {
                continue;
            };
            let by_day = all
                .entry(candidate.exercise)
                .or_insert_with(|| vec![Terms::new(); days]);
            if let Some(terms) = by_day.get_mut(day) {
                terms.push((column, 1));
            }
        }
    }
    all
}

fn differ(flat: &mut Flat<'_>, way: Way, rule: &str, what: &[Bits], at_most: i64) {
    let all = by_exercise(flat, what);
    let days = flat.model.days.len();
    for one in 0..days {
        for other in one + 1..days {
            let name = format!("{rule}_d{}_d{}", one + 1, other + 1);
            let both: Vec<Terms> = all
                .values()
                .filter_map(|by_day| Some((by_day.get(one)?, by_day.get(other)?)))
                .filter(|(one, other)| !one.is_empty() && !other.is_empty())
                .map(|(one, other)| one.iter().chain(other).copied().collect())
                .collect();
            if both.is_empty() {
                continue;
            }
            if way == Way::Hard && at_most == 0 {
                for both in both {
                    flat.most(&name, both, 1, None);
                }
                continue;
            }
            let mut shared = Terms::new();
            for both in both {
                let column = flat.between(format!("shared_{name}"), 0, 1);
                flat.most(&name, both, 1, Some(column));
                shared.push((column, 1));
            }
            let missed = flat.unit(way, &name, false, 1);
            flat.most(&name, shared, at_most, missed);
        }
    }
}

fn repeat(
    flat: &mut Flat<'_>,
    way: Way,
    rule: &str,
    what: &[Bits],
    at_least: i64,
    at_most: Option<i64>,
) {
    for by_day in by_exercise(flat, what).into_values() {
        let name = format!("{rule}_week");
        let missed = flat.unit(way, &name, false, 1);
        let all: Terms = by_day.iter().flatten().copied().collect();
        if let Some(most) = at_most {
            flat.most(&name, all.clone(), most, missed);
        }
        // Only an exercise that is used at all must stand so often.
        for used in by_day.iter().filter(|used| !used.is_empty()) {
            let mut terms: Terms = all.clone();
            terms.extend(used.iter().map(|(column, _)| (*column, -at_least)));
            terms.extend(missed.map(|column| (column, 1)));
            flat.line(&name, terms, Sense::Least, 0);
            // Bounds that cross are both missed in between.
            if let Some(most) = at_most.filter(|most| *most < at_least) {
                let times = at_least - most;
                let crossed = used.iter().map(|(column, _)| (*column, times)).collect();
                flat.most(&name, crossed, 0, missed);
            }
        }
    }
}
