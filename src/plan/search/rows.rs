//! Rows as the search sees them: a value for every total, in scores.

use crate::plan::model::{Level, Model, Row};

use super::stage::{POINT, Stage};

/// Totals of a row from `low` on, with what each is worth in this stage.
pub(super) struct RowValues {
    pub(super) low: i64,
    /// By total from `low`; none where a hard bound is broken.
    pub(super) values: Vec<Option<i64>>,
    /// By total from `low`: the value without its hard bounds, and by how much those are broken.
    soft: Vec<(i64, i64)>,
}

/// More totals than a row of a real pack has; a wider row is refused by the driver.
pub(super) const MOST_TOTALS: i64 = 200_000;

impl RowValues {
    pub(super) fn of(row: &Row, stage: &Stage, low: i64, high: i64) -> Self {
        Self::by(low, high, |total| split(row, stage, total))
    }

    /// Totals of a row that counts the days of one exercise: none at all, or from a least to a most.
    pub(super) fn of_twice(twice: &Twice, stage: &Stage, low: i64, high: i64) -> Self {
        Self::by(low, high, |total| {
            let lack = if total > 0 {
                (twice.at_least - total).max(0)
            } else {
                0
            };
            let units = lack + (total - twice.at_most).max(0);
            let mut misses = [0i64; 3];
            match twice.level.and_then(|level| misses.get_mut(level)) {
                Some(slot) if !stage.hard(twice.level) => *slot = units,
                _ => return (0, 0, units),
            }
            (0, stage.weight(misses), 0)
        })
    }

    /// From worth, weight of what is missed, and by how much hard bounds are broken, by total.
    fn by(low: i64, high: i64, split: impl Fn(i64) -> (i64, i64, i64)) -> Self {
        let (mut values, mut soft) = (Vec::new(), Vec::new());
        for total in low..=high {
            let (worth, weight, broken) = split(total);
            values.push((broken == 0).then(|| worth * POINT - weight));
            soft.push((worth * POINT - weight, broken));
        }
        Self { low, values, soft }
    }

    pub(super) fn high(&self) -> i64 {
        self.low + i64::try_from(self.values.len()).unwrap_or(0) - 1
    }

    pub(super) fn value(&self, total: i64) -> Option<i64> {
        usize::try_from(total - self.low)
            .ok()
            .and_then(|at| self.values.get(at))
            .copied()
            .flatten()
    }
}

/// A row that only counts the days of one exercise, for a rule that asks for none or several.
///
/// The rule itself is counted where whole weeks are weighed; its row lets a relaxation see it and
/// a search split on it.
#[derive(Debug, Clone)]
pub(super) struct Twice {
    pub(super) row: usize,
    pub(super) level: Level,
    pub(super) at_least: i64,
    pub(super) at_most: i64,
    /// By day: the candidates that it counts.
    pub(super) items: Vec<Vec<usize>>,
}

/// More than any loss that leaves a week.
pub(super) const TOO_DEAR: i64 = i64::MAX / 4;

/// What the cheapest other days with the same exercise lose, so many that the least is reached.
pub(super) fn partners(by_day: &[i64], day: usize, at_least: i64) -> i64 {
    let mut others: Vec<i64> = by_day
        .iter()
        .enumerate()
        .filter(|(other, _)| *other != day)
        .map(|(_, loss)| *loss)
        .collect();
    others.sort_unstable();
    let count = usize::try_from(at_least - 1).unwrap_or(0);
    if others.len() < count {
        return TOO_DEAR;
    }
    others
        .iter()
        .take(count)
        .fold(0, |sum, loss| sum.saturating_add(*loss))
}

/// Worth, weight of what is missed, and by how much hard bounds are broken.
fn split(row: &Row, stage: &Stage, total: i64) -> (i64, i64, i64) {
    let (mut misses, mut broken) = ([0i64; 3], 0i64);
    for bound in &row.bounds {
        if stage.hard(bound.level) {
            broken += bound.at_least.map_or(0, |least| (least - total).max(0));
            broken += bound.at_most.map_or(0, |most| (total - most).max(0));
        } else if let Some(slot) = bound.level.and_then(|level| misses.get_mut(level)) {
            *slot += bound.units(total);
        }
    }
    (row.worth(total), stage.weight(misses), broken)
}

/// The least concave function above the points.
fn cover(points: &[(i64, f64)]) -> Vec<(i64, f64)> {
    let mut hull: Vec<(i64, f64)> = Vec::new();
    for &(total, value) in points {
        while let [.., (a, va), (b, vb)] = hull.as_slice() {
            let slope = (vb - va) / (*b - *a) as f64;
            let next = (value - vb) / (total - *b) as f64;
            if next > slope {
                hull.pop();
            } else {
                break;
            }
        }
        hull.push((total, value));
    }
    hull
}

/// Least and most total of each row, whatever the sessions.
pub(super) fn reach(model: &Model) -> Vec<(i64, i64)> {
    let mut reach = vec![(0i64, 0i64); model.rows.len()];
    for day in &model.days {
        let mut of_day = vec![(0i64, 0i64); model.rows.len()];
        let mut once = vec![false; model.presences.len()];
        for slot in &day.slots {
            let mut by_row: Vec<Vec<i64>> = vec![Vec::new(); model.rows.len()];
            for candidate in slot
                .candidates
                .iter()
                .filter_map(|at| day.candidates.get(*at))
            {
                for (row, amount) in &candidate.amounts {
                    if let Some(list) = by_row.get_mut(*row) {
                        list.push(*amount);
                    }
                }
                for row in &candidate.once {
                    if let Some(held) = once.get_mut(*row) {
                        *held = true;
                    }
                }
            }
            for (held, mut list) in of_day.iter_mut().zip(by_row) {
                list.sort_unstable();
                held.0 += list
                    .iter()
                    .take(slot.at_most)
                    .filter(|n| **n < 0)
                    .sum::<i64>();
                held.1 += list
                    .iter()
                    .rev()
                    .take(slot.at_most)
                    .filter(|n| **n > 0)
                    .sum::<i64>();
            }
        }
        for (held, of_day) in reach.iter_mut().zip(of_day) {
            held.0 += of_day.0;
            held.1 += of_day.1;
        }
        for ((row, amount), once) in model.presences.iter().zip(once) {
            if let Some(held) = reach.get_mut(*row).filter(|_| once) {
                held.0 += amount.min(&0);
                held.1 += amount.max(&0);
            }
        }
    }
    reach
}

/// The least concave cover of a row, as ends of its pieces; each unit outside the ends or a hard
/// bound at a price.
pub(super) fn hull_within(row: &RowValues, ends: (i64, i64), price: i64) -> Vec<(i64, f64)> {
    hull_over(row, (row.low, row.high()), ends, price)
}

/// The same over the totals of a range.
pub(super) fn hull_over(
    row: &RowValues,
    over: (i64, i64),
    ends: (i64, i64),
    price: i64,
) -> Vec<(i64, f64)> {
    let skip = usize::try_from(over.0 - row.low).unwrap_or(0);
    let take = usize::try_from(over.1 - over.0 + 1).unwrap_or(0);
    let points: Vec<(i64, f64)> = row
        .soft
        .iter()
        .enumerate()
        .skip(skip)
        .take(take)
        .map(|(at, (value, broken))| {
            let total = row.low + i64::try_from(at).unwrap_or(0);
            let out = broken + (ends.0 - total).max(0) + (total - ends.1).max(0);
            (total, *value as f64 - out as f64 * price as f64)
        })
        .collect();
    cover(&points)
}

/// Whether a cover asks for nothing: all totals are worth the same.
pub(super) fn flat(hull: &[(i64, f64)]) -> bool {
    hull.windows(2)
        .all(|pair| matches!(pair, [(_, a), (_, b)] if a == b))
}

/// Value of a cover at a total.
pub(super) fn covered(hull: &[(i64, f64)], total: f64) -> f64 {
    for pair in hull.windows(2) {
        if let [(a, va), (b, vb)] = pair
            && total <= *b as f64
        {
            return va + (vb - va) * (total - *a as f64) / (*b - *a).max(1) as f64;
        }
    }
    hull.last().map_or(0.0, |(_, value)| *value)
}
