//! Every week that few sessions a day can make, day after day.

use super::pools::Pools;
use super::ranges::{NEVER, Ranges};
use super::rows::RowValues;
use super::stage::Stage;
use super::walk::is_ended;
use super::whole::{Found, whole};
use crate::base::Cancel;

/// What a walk needs to know.
pub(super) struct Leaf<'l, 'p> {
    pub(super) pools: &'l Pools<'p>,
    pub(super) stage: &'l Stage,
    /// Rows of the model itself; later ones are the search's.
    pub(super) own: usize,
    /// All rows, and the ends that the search has set to them.
    pub(super) values: &'l [RowValues],
    pub(super) outer: &'l [(i64, i64)],
    /// Ends of active rows.
    pub(super) ends: &'l [(i64, i64)],
    /// By active row.
    pub(super) multipliers: &'l [i64],
    /// By day: value under the multipliers and column, by falling value.
    pub(super) days: Vec<Vec<(i64, usize)>>,
    /// Only weeks that score at least this are looked at.
    pub(super) least: i64,
    /// A score that can't be beaten on the minimised level: the walk ends there.
    pub(super) enough: Option<i64>,
    pub(super) best: Option<Found>,
    pub(super) work: u64,
    /// Most points of the walk.
    pub(super) most: u64,
    /// The points after which it looks next whether it was cancelled.
    pub(super) look_up: u64,
    /// Ends the walk as if its points were used up.
    pub(super) cancel: &'l Cancel,
}

struct Walk<'w, 'l, 'p> {
    leaf: &'w mut Leaf<'l, 'p>,
    order: Vec<usize>,
    /// By depth, by row: least and most that the days not chosen yet add.
    left: Vec<Vec<(i64, i64)>>,
    /// By depth: best value of the days not chosen yet.
    best_left: Vec<i64>,
    priced: Vec<Ranges>,
    /// By depth: the column chosen.
    chosen: Vec<usize>,
    totals: Vec<i64>,
    ended: bool,
}

impl Leaf<'_, '_> {
    /// Walks all of it; false if the work was used up.
    pub(super) fn walk(&mut self) -> bool {
        let mut order: Vec<usize> = (0..self.days.len()).collect();
        order.sort_by_key(|day| (self.days.get(*day).map_or(0, Vec::len), *day));
        let rows = self.pools.rows.len();
        let mut left = vec![vec![(0i64, 0i64); rows]];
        let mut best_left = vec![0i64];
        for day in order.iter().rev() {
            let held = self.days.get(*day).map_or(&[][..], Vec::as_slice);
            let mut ends = vec![(i64::MAX, i64::MIN); rows];
            for (_, column) in held {
                for (ends, amount) in ends.iter_mut().zip(self.pools.amounts(*day, *column)) {
                    ends.0 = ends.0.min(*amount);
                    ends.1 = ends.1.max(*amount);
                }
            }
            let last = left.last().cloned().unwrap_or_default();
            let sum = ends.iter().zip(&last);
            left.push(
                sum.map(|(a, b)| (a.0.saturating_add(b.0), a.1.saturating_add(b.1)))
                    .collect(),
            );
            let best = held.first().map_or(NEVER, |(value, _)| *value);
            best_left.push(best_left.last().copied().unwrap_or(0).saturating_add(best));
        }
        left.reverse();
        best_left.reverse();
        let priced = self
            .pools
            .rows
            .iter()
            .zip(self.ends)
            .zip(self.multipliers)
            .zip(left.first().map_or(&[][..], Vec::as_slice))
            .map(|(((row, ends), multiplier), (low, high))| {
                Ranges::of(
                    row.values,
                    (ends.0.max(*low), ends.1.min(*high)),
                    *multiplier,
                )
            })
            .collect();
        if self.days.iter().any(Vec::is_empty) {
            return true;
        }
        let mut walk = Walk {
            leaf: self,
            order,
            left,
            best_left,
            priced,
            chosen: Vec::new(),
            totals: vec![0; rows],
            ended: false,
        };
        walk.day(0, 0);
        self.work <= self.most
    }

    fn least(&self) -> i64 {
        self.best
            .as_ref()
            .map_or(self.least, |best| best.score.max(self.least))
    }
}

impl Walk<'_, '_, '_> {
    /// What the rows can still give with the days from a depth on left open.
    fn rows(&self, depth: usize) -> i64 {
        let left = self.left.get(depth).map_or(&[][..], Vec::as_slice);
        let mut bound = 0i64;
        for ((ranges, total), (low, high)) in self.priced.iter().zip(&self.totals).zip(left) {
            let most = ranges.most(total + low, total + high);
            if most <= NEVER {
                return NEVER;
            }
            bound = bound.saturating_add(most);
        }
        bound
    }

    fn shift(&mut self, day: usize, column: usize, sign: i64) {
        let leaf = &*self.leaf;
        let amounts = leaf.pools.amounts(day, column);
        for (total, amount) in self.totals.iter_mut().zip(amounts) {
            *total += sign * amount;
        }
    }

    /// Whether a column may stand with the days chosen.
    fn stands(&self, day: usize, column: usize) -> bool {
        let pools = self.leaf.pools;
        let class = |day: usize, column: usize| {
            let held = pools.days.get(day).and_then(|held| held.get(column));
            held.map_or(0, |held| held.class)
        };
        let mine = class(day, column);
        self.order.iter().zip(&self.chosen).all(|(other, chosen)| {
            pools
                .apart(*other, class(*other, *chosen), day)
                .is_none_or(|apart| !apart.has(mine))
        })
    }

    fn day(&mut self, depth: usize, value: i64) {
        let Some(day) = self.order.get(depth).copied() else {
            self.complete();
            return;
        };
        let count = self.leaf.days.get(day).map_or(0, Vec::len);
        let later = self.best_left.get(depth + 1).copied().unwrap_or(0);
        let rows = self.rows(depth).saturating_add(self.leaf.pools.constant);
        for place in 0..count {
            if self.ended {
                return;
            }
            let Some((here, column)) = self
                .leaf
                .days
                .get(day)
                .and_then(|held| held.get(place))
                .copied()
            else {
                return;
            };
            let sum = value.saturating_add(here).saturating_add(later);
            // Values only fall from here on.
            if sum.saturating_add(rows) < self.leaf.least() {
                return;
            }
            self.leaf.work += 1;
            if is_ended(self.leaf.work, &mut self.leaf.look_up, self.leaf.cancel) {
                self.leaf.most = 0;
            }
            if self.leaf.work > self.leaf.most {
                self.ended = true;
                return;
            }
            if !self.stands(day, column) {
                continue;
            }
            self.shift(day, column, 1);
            let bound = self
                .rows(depth + 1)
                .saturating_add(self.leaf.pools.constant)
                .saturating_add(sum);
            if bound >= self.leaf.least() {
                self.chosen.push(column);
                self.day(depth + 1, value.saturating_add(here));
                self.chosen.pop();
            }
            self.shift(day, column, -1);
        }
    }

    fn complete(&mut self) {
        let leaf = &mut *self.leaf;
        let mut sessions = vec![None; leaf.days.len()];
        for (day, column) in self.order.iter().zip(&self.chosen) {
            if let Some(slot) = sessions.get_mut(*day) {
                *slot = leaf.pools.session(*day, *column);
            }
        }
        // A whole week costs as much as several steps.
        leaf.work += 4;
        let week = whole(
            leaf.pools.model,
            leaf.stage,
            leaf.own,
            leaf.values,
            leaf.outer,
            &sessions,
        );
        if let Some(found) = week
            && found.score >= leaf.least
            && leaf.best.as_ref().is_none_or(|best| found.betters(best))
        {
            self.ended = leaf.enough.is_some_and(|enough| found.score >= enough);
            leaf.best = Some(found);
        }
    }
}
