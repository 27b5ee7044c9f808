//! Branch and bound over pools that are listed in full: no session is priced anew.
//!
//! A point holds, by day, the columns that can still be part of a week worth having. Every set of
//! multipliers gives a bound and with it a loss for each column, the distance from its day's best; a
//! column whose loss, with what it takes from other days, is more than the bound leaves goes for
//! good. The bound and the losses are always those of one and the same multipliers.

mod settle;
mod split;

use crate::base::Cancel;

use super::leaf::Leaf;
use super::pools::{Pools, Reductions};
use super::ranges::NEVER;
use super::rows::{RowValues, Twice};
use super::stage::{POINT, Stage};
use super::whole::Found;

/// Most weeks that are walked without splitting further.
const FEW: u64 = 30_000;
/// Weeks of which it is worth asking several cuts what they lose.
const MANY: u64 = 200_000;
/// Rounds of multipliers at the first point, and at later ones.
const ROUNDS: (usize, usize) = (16, 6);

/// A search over pools.
pub(super) struct Pooled<'s, 'p> {
    pub(super) pools: Pools<'p>,
    pub(super) stage: &'s Stage,
    /// Rows of the model itself; later ones are the search's.
    pub(super) own: usize,
    pub(super) values: &'s [RowValues],
    pub(super) outer: &'s [(i64, i64)],
    /// Only weeks that score at least this are looked for.
    pub(super) least: i64,
    pub(super) enough: Option<i64>,
    pub(super) best: Option<Found>,
    pub(super) work: u64,
    pub(super) most: u64,
    /// Active rows that count the days of one exercise, with the least that it must have if any.
    twices: Vec<(usize, i64)>,
    /// By day: columns that the relaxation has met.
    met: Vec<Vec<usize>>,
    /// What a unit outside hard bounds costs the relaxation.
    price: i64,
    /// Ends the search as if its work were used up.
    pub(super) cancel: Cancel,
    /// What is left out.
    pub(super) reductions: Reductions,
}

struct Point {
    days: Vec<Vec<usize>>,
    ends: Vec<(i64, i64)>,
    multipliers: Vec<i64>,
    bound: i64,
    first: bool,
}

/// Bound and losses under one set of multipliers.
struct Weighed {
    /// By day, as in the point: values.
    values: Vec<Vec<i64>>,
    tops: Vec<i64>,
    bound: i64,
}

/// Where the relaxation left a point.
struct Settled {
    multipliers: Vec<i64>,
    bound: i64,
    /// Day, column and share.
    shares: Vec<(usize, usize, f64)>,
}

/// How a point is split.
enum Cut {
    /// An active row's total at most so much, or more.
    Row(usize, i64),
    /// A day with a candidate, or without.
    Item(usize, usize),
}

impl<'s, 'p> Pooled<'s, 'p> {
    /// A search for any week; the caller says how good it must be, and how much work it may take.
    pub(super) fn new(
        pools: Pools<'p>,
        stage: &'s Stage,
        own: usize,
        values: &'s [RowValues],
        outer: &'s [(i64, i64)],
        twices: &[Twice],
    ) -> Self {
        let twices = twices
            .iter()
            .filter(|twice| stage.hard(twice.level))
            .filter_map(|twice| {
                let at = pools.rows.iter().position(|row| row.row == twice.row)?;
                Some((at, twice.at_least))
            })
            .collect();
        let price = if stage.weighs() {
            stage.scale.unit.saturating_mul(8)
        } else {
            POINT << 16
        };
        Self {
            met: vec![Vec::new(); pools.days.len()],
            pools,
            stage,
            own,
            values,
            outer,
            least: NEVER,
            enough: None,
            best: None,
            work: 0,
            most: 0,
            twices,
            price,
            cancel: Cancel::new(),
            reductions: Reductions::ALL,
        }
    }

    /// Looks at all of it; false if the work was used up or it was cancelled.
    pub(super) fn search(&mut self, multipliers: &[i64]) -> bool {
        let mut open = vec![self.start(multipliers)];
        while let Some(mut point) = open.pop() {
            if self.ended() {
                return true;
            }
            if self.work > self.most || self.cancel.is_cancelled() {
                return false;
            }
            if point.bound < self.least() {
                continue;
            }
            let Some(settled) = self.settle(&mut point) else {
                // What was given up half-way was not looked at.
                if self.cancel.is_cancelled() {
                    return false;
                }
                continue;
            };
            let weeks = point.days.iter().fold(1u64, |product, held| {
                product.saturating_mul(held.len() as u64)
            });
            let cut = if weeks > MANY {
                self.best_cut(&point, &settled)
                    .or_else(|| self.cut(&point, &settled))
            } else if weeks > FEW {
                self.cut(&point, &settled)
            } else {
                None
            };
            let Some(cut) = cut else {
                if !self.walk(&point, &settled.multipliers) {
                    return false;
                }
                continue;
            };
            let (one, other) = self.split(&point, &settled, &cut);
            for mut child in [other, one] {
                child.bound = settled.bound;
                child.multipliers.clone_from(&settled.multipliers);
                if child.days.iter().all(|held| !held.is_empty()) {
                    open.push(child);
                }
            }
        }
        true
    }

    fn ended(&self) -> bool {
        self.best
            .as_ref()
            .zip(self.enough)
            .is_some_and(|(best, enough)| best.score >= enough)
    }

    fn least(&self) -> i64 {
        self.best
            .as_ref()
            .map_or(self.least, |best| best.score.max(self.least))
    }

    /// The point that holds all of the pools.
    fn start(&self, multipliers: &[i64]) -> Point {
        let rows = self.pools.rows.iter();
        let multipliers = rows
            .map(|row| multipliers.get(row.row).copied().unwrap_or(0))
            .collect();
        Point {
            days: self
                .pools
                .days
                .iter()
                .map(|held| (0..held.len()).collect())
                .collect(),
            ends: self.pools.rows.iter().map(|row| row.ends).collect(),
            multipliers,
            bound: i64::MAX / 4,
            first: true,
        }
    }

    fn walk(&mut self, point: &Point, multipliers: &[i64]) -> bool {
        let mut days = Vec::new();
        for (held, columns) in self.pools.days.iter().zip(&point.days) {
            let mut of_day: Vec<(i64, usize)> = columns
                .iter()
                .filter_map(|column| Some((held.get(*column)?, *column)))
                .map(|(held, column)| {
                    let priced = held.amounts.iter().zip(multipliers).map(|(a, m)| a * m);
                    (held.score + priced.sum::<i64>(), column)
                })
                .collect();
            of_day.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
            days.push(of_day);
        }
        let mut leaf = Leaf {
            pools: &self.pools,
            stage: self.stage,
            own: self.own,
            values: self.values,
            outer: self.outer,
            ends: &point.ends,
            multipliers,
            days,
            least: self.least,
            enough: self.enough,
            best: self.best.take(),
            work: 0,
            most: self.most.saturating_sub(self.work),
            look_up: 0,
            cancel: &self.cancel,
        };
        let whole = leaf.walk();
        let (best, work) = (leaf.best, leaf.work);
        self.best = best;
        self.work += work;
        whole
    }
}
