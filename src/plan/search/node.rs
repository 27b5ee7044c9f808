//! One point of the search and its bound.

use std::mem::take;

use super::master::{Choice, Proposal, propose};
use super::rows::{RowValues, Twice, hull_within};
use super::session::{DaySearch, Fixed, Found as Priced, Session, Wanted};
use super::solver::Solver;
use super::stage::{POINT, Stage};

/// What a node fixes.
#[derive(Debug, Clone)]
pub(super) struct Node {
    pub(super) days: Vec<Fixed>,
    /// Ends of each row's total.
    pub(super) ends: Vec<(i64, i64)>,
    /// No week of the node scores above this.
    pub(super) bound: i64,
}

/// A node's relaxation.
pub(super) struct Relaxed {
    pub(super) multipliers: Vec<i64>,
    /// By day: the best value under the multipliers.
    pub(super) tops: Vec<i64>,
    /// The bound of these multipliers: what a session loses is measured from it.
    pub(super) own: i64,
    /// No week of the node scores above this.
    pub(super) bound: i64,
    pub(super) last: Option<Proposal>,
    /// Columns of the last proposal: day and index of the known sessions.
    pub(super) columns: Vec<(usize, usize)>,
    /// Whether more sessions would hardly lower the bound.
    pub(super) settled: bool,
}

/// How a node's relaxation ended.
pub(super) enum Relaxation {
    Bounded(Relaxed),
    /// Some day has no session, or the bound says that nothing is left.
    Empty,
    /// The work was used up.
    Stopped,
}

const ROUNDS: usize = 60;
/// How much better than the best found a session must be to be looked for where multipliers are
/// tried: less than what tells weeks apart, so bounds hardly suffer.
pub(super) const NEAR: i64 = 2 * POINT;
/// How far a bound may be from the best that the sessions known leave open.
const NEAR_ENOUGH: i64 = 8 * POINT;
/// Most points of one walk that prices, and of one that settles what such a walk left loose.
const PRICING: u64 = 15_000;
const PRICING_OUT: u64 = 500_000;
/// How much further walks go each time that those before were cut and found nothing.
const FURTHER: u64 = 8;
/// What a unit out of a hard bound costs where a relaxation proposes multipliers: mild at first,
/// since wild multipliers make pricing slow, and more where that leaves a bound broken. Never in a bound.
const MILD: i64 = 1 << 31;
/// The most that it costs: high enough to show that nothing is left.
pub(super) const HARD: i64 = 1 << 47;
/// How much more each time.
const DEARER: i64 = 16;
/// Below any score that a week can have.
pub(super) const NOTHING: i64 = i64::MIN / 8;

/// Halfway between two sets of multipliers.
fn middle(one: &[i64], other: &[i64]) -> Vec<i64> {
    one.iter().zip(other).map(|(a, b)| a / 2 + b / 2).collect()
}

impl Node {
    pub(super) fn takes(&self, day: usize, session: &Session) -> bool {
        self.days.get(day).is_some_and(|fixed| fixed.takes(session))
    }

    /// The node with one item put on a day, and the node with it ruled out there.
    pub(super) fn split_item(&self, day: usize, item: usize) -> (Self, Self) {
        let (mut with, mut without) = (self.clone(), self.clone());
        if let Some(fixed) = with.days.get_mut(day) {
            fixed.has.push(item);
        }
        if let Some(fixed) = without.days.get_mut(day) {
            fixed.lacks.insert(item);
        }
        (with, without)
    }

    /// Rules out what an exercise's row leaves no total for.
    pub(super) fn keep_out(&mut self, twices: &[Twice], stage: &Stage) {
        for twice in twices {
            let Some(ends) = self.ends.get(twice.row) else {
                continue;
            };
            if ends.1 <= 0 || (stage.hard(twice.level) && ends.1 < twice.at_least) {
                for (fixed, items) in self.days.iter_mut().zip(&twice.items) {
                    for item in items {
                        fixed.lacks.insert(*item);
                    }
                }
            }
        }
    }

    /// The node with a row's total at most so much, and the one with more.
    pub(super) fn split_row(&self, row: usize, at: i64) -> (Self, Self) {
        let (mut low, mut high) = (self.clone(), self.clone());
        if let Some(ends) = low.ends.get_mut(row) {
            ends.1 = ends.1.min(at);
        }
        if let Some(ends) = high.ends.get_mut(row) {
            ends.0 = ends.0.max(at + 1);
        }
        (low, high)
    }
}

impl Solver {
    /// Column generation: sessions enter while they improve the relaxation.
    pub(super) fn relax(
        &mut self,
        node: &Node,
        days: &[DaySearch<'_>],
        rows: &[RowValues],
        target: i64,
    ) -> Relaxation {
        let hulls_at = |price: i64| -> Vec<Vec<(i64, f64)>> {
            rows.iter()
                .zip(&node.ends)
                .map(|(row, ends)| hull_within(row, *ends, price))
                .collect()
        };
        // Stages that weigh units missed need a price above them from the start.
        let mut price = if self.stage.weighs() {
            self.stage.scale.unit.saturating_mul(2).clamp(MILD, HARD)
        } else {
            MILD
        };
        let mut hulls = hulls_at(price);
        let mut best: Option<(Vec<i64>, Vec<i64>, i64)> = None;
        let mut start = self.multipliers.clone();
        start.resize(rows.len(), 0);
        let mut tried = start;
        let mut last: Option<Proposal> = None;
        let mut columns = Vec::new();
        let mut stale = 0usize;
        let mut best_is_loose = false;
        let mut settled = false;
        let mut pricing = PRICING;
        for round in 0..ROUNDS {
            let mut tops = Vec::new();
            let mut entered = false;
            let mut loose = false;
            for (day, search) in days.iter().enumerate() {
                let Some(fixed) = node.days.get(day) else {
                    return Relaxation::Empty;
                };
                let known = self.best_known(day, &tried, fixed);
                let work = if known.is_some() {
                    self.left().min(pricing)
                } else {
                    self.left()
                };
                let found = self.price(day, search, &tried, fixed, (known, work));
                if found.cut && (known.is_none() || self.left() == 0) {
                    return Relaxation::Stopped;
                }
                // A walk that is cut still bounds its day, if more loosely.
                tops.push(found.top);
                loose |= found.cut;
                entered |= last.is_none();
                match found.sessions.into_iter().next() {
                    Some((_, session)) => entered |= self.know(day, session),
                    // What is known is the best there is, as far as was looked.
                    None if known.is_some() || found.cut => {}
                    None => return Relaxation::Empty,
                }
            }
            let Some(bound) = bound(&tops, rows, &node.ends, &tried) else {
                return Relaxation::Empty;
            };
            let improved = best.as_ref().is_none_or(|(_, _, held)| bound < *held);
            if improved {
                let gain = best.as_ref().map_or(i64::MAX, |(_, _, held)| held - bound);
                stale = if gain > POINT { 0 } else { stale + 1 };
                best = Some((tried.clone(), tops.clone(), bound));
                best_is_loose = loose;
            } else {
                stale += 1;
            }
            if best.as_ref().is_some_and(|(_, _, held)| *held < target) {
                break;
            }
            columns = self.columns(node);
            let of_columns: Vec<Choice<'_>> = columns
                .iter()
                .filter_map(|(day, at)| {
                    let session = self.session(*day, *at)?;
                    Some((*day, session.score, session.amounts.as_slice()))
                })
                .collect();
            let Some(mut proposal) = propose(days.len(), &hulls, &of_columns, &self.cancel) else {
                break;
            };
            let mut work = proposal.work;
            // What the known sessions make of it is nearly all that there is: more rounds would not lower the bound by more.
            let inner = self.within(node, rows, &proposal.multipliers);
            let is_near = best
                .as_ref()
                .zip(inner)
                .is_some_and(|((_, _, held), inner)| held.saturating_sub(inner) <= NEAR_ENOUGH);
            let is_stuck = (!entered && round > 0 && tried == proposal.multipliers) || stale > 8;
            if is_stuck && loose && !is_near && pricing < PRICING_OUT {
                // Sessions that walks did not reach may be missing: look further for them.
                pricing = pricing.saturating_mul(FURTHER).min(PRICING_OUT);
                self.spend(work);
                tried.clone_from(&proposal.multipliers);
                last = Some(proposal);
                stale = 0;
                continue;
            }
            settled = is_near;
            if is_near || is_stuck {
                // Nothing new at this price: a dearer one shows whether what is broken can hold.
                let mut dearer = None;
                while price < HARD && self.breaks(node, rows, &columns, &proposal) {
                    price = price.saturating_mul(DEARER).min(HARD);
                    hulls = hulls_at(price);
                    let Some(next) = propose(days.len(), &hulls, &of_columns, &self.cancel) else {
                        break;
                    };
                    work += next.work;
                    if next.multipliers != tried {
                        dearer = Some(next);
                        break;
                    }
                }
                let Some(next) = dearer else {
                    last = Some(proposal);
                    break;
                };
                proposal = next;
                stale = 0;
            }
            self.spend(work);
            let raw = proposal.multipliers.clone();
            last = Some(proposal);
            let smooth = best
                .as_ref()
                .filter(|_| entered && round % 3 != 2)
                .map(|(centre, _, _)| middle(centre, &raw));
            let next = smooth.unwrap_or(raw);
            if next == tried {
                break;
            }
            tried = next;
        }
        if best_is_loose && let Some((multipliers, tops, held)) = best.as_mut() {
            for (day, (search, top)) in days.iter().zip(tops.iter_mut()).enumerate() {
                let Some(fixed) = node.days.get(day) else {
                    continue;
                };
                let work = self.left().min(PRICING_OUT);
                let known = self.best_known(day, multipliers, fixed);
                let found = self.price(day, search, multipliers, fixed, (known, work));
                *top = (*top).min(found.top);
            }
            match bound(tops, rows, &node.ends, multipliers) {
                Some(bound) => *held = (*held).min(bound),
                None => return Relaxation::Empty,
            }
        }
        match best {
            None => Relaxation::Empty,
            Some((multipliers, tops, bound)) => {
                self.multipliers = multipliers.clone();
                Relaxation::Bounded(Relaxed {
                    multipliers,
                    tops,
                    own: bound,
                    bound: bound.min(node.bound),
                    last,
                    columns,
                    settled,
                })
            }
        }
    }

    /// The best session of a day under multipliers, if it is better than the best known of this value.
    fn price(
        &mut self,
        day: usize,
        search: &DaySearch<'_>,
        multipliers: &[i64],
        fixed: &Fixed,
        (known, work): (Option<i64>, u64),
    ) -> Priced {
        let wanted = Wanted {
            least: known.map_or(NOTHING, |known| known.saturating_add(NEAR + 1)),
            dearer: &[],
            best_only: true,
            near: NEAR,
            work,
            most: usize::MAX,
            cancel: &self.cancel.clone(),
        };
        let mut limits = self.prices.get_mut(day).map(take).unwrap_or_default();
        let mut found = search.walk(multipliers, &mut limits, fixed, wanted);
        if let Some(slot) = self.prices.get_mut(day) {
            *slot = limits;
        }
        found.top = found.top.max(known.unwrap_or(NOTHING));
        self.spend(found.work);
        found
    }

    /// Whether the relaxation leaves a hard bound or an end broken.
    fn breaks(
        &self,
        node: &Node,
        rows: &[RowValues],
        columns: &[(usize, usize)],
        last: &Proposal,
    ) -> bool {
        let mut totals = vec![0.0f64; rows.len()];
        for ((day, at), share) in columns
            .iter()
            .zip(&last.shares)
            .filter(|(_, share)| **share > 1e-9)
        {
            for (total, amount) in totals.iter_mut().zip(
                self.session(*day, *at)
                    .into_iter()
                    .flat_map(|held| &held.amounts),
            ) {
                *total += *amount as f64 * share;
            }
        }
        totals
            .iter()
            .zip(rows)
            .zip(&node.ends)
            .any(|((total, row), ends)| {
                let allowed = (row.low.max(ends.0)..=row.high().min(ends.1))
                    .filter(|at| row.value(*at).is_some());
                let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
                for at in allowed {
                    low = low.min(at as f64);
                    high = high.max(at as f64);
                }
                *total < low - 1e-4 || *total > high + 1e-4
            })
    }

    fn columns(&self, node: &Node) -> Vec<(usize, usize)> {
        let mut columns = Vec::new();
        for (day, known) in self.known.iter().enumerate() {
            for (at, session) in known.iter().enumerate() {
                if node.takes(day, session) {
                    columns.push((day, at));
                }
            }
        }
        columns
    }
}

/// No week scores above this: each day's best, and each row's best total, under the multipliers.
pub(super) fn bound(
    tops: &[i64],
    rows: &[RowValues],
    ends: &[(i64, i64)],
    multipliers: &[i64],
) -> Option<i64> {
    let mut bound: i128 = tops.iter().map(|top| i128::from(*top)).sum();
    for ((row, (low, high)), multiplier) in rows.iter().zip(ends).zip(multipliers) {
        let best = (row.low.max(*low)..=row.high().min(*high))
            .filter_map(|total| {
                row.value(total)
                    .map(|value| i128::from(value) - i128::from(*multiplier) * i128::from(total))
            })
            .max()?;
        bound += best;
    }
    Some(i64::try_from(bound).unwrap_or(if bound > 0 { i64::MAX / 8 } else { NOTHING }))
}
