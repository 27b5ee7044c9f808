//! A walk over the days with pools of sessions: rows by bound, two-day rules exactly.
//!
//! Everything is counted as loss: what a session lies below its day's best, and a row's total below
//! the row's best. A week matters if its losses fit between the bound and the best week so far, so at
//! each point every session of the open days that no longer fits is left out before one is chosen.

use std::collections::BTreeMap;

use crate::plan::model::Model;

use super::marks::{Marking, Marks};
use super::ranges::{NEVER, Ranges};
use super::rows::RowValues;
use super::session::Session;
use super::stage::Stage;
use super::whole::{Found, two_days, whole};

/// A walk over pools.
pub(super) struct Weeks<'w> {
    pub(super) model: &'w Model,
    pub(super) stage: &'w Stage,
    pub(super) rows: &'w [RowValues],
    /// Ends that a node sets to rows.
    pub(super) ends: &'w [(i64, i64)],
    pub(super) multipliers: &'w [i64],
    /// By day, by falling value under the multipliers.
    pub(super) pools: &'w [Vec<(i64, Session)>],
    /// Most points of the walk.
    pub(super) work: u64,
    /// The best so far; only better or equal ones are kept.
    pub(super) best: Option<Found>,
    /// By how much a week must beat the best to matter.
    pub(super) step: i64,
    /// A score that can't be beaten on the minimised level: the walk ends there.
    pub(super) enough: Option<i64>,
}

/// How a walk ended.
pub(super) struct Walked {
    pub(super) best: Option<Found>,
    pub(super) cut: bool,
    pub(super) work: u64,
}

/// How many sessions looked at cost one point of work.
const LOOKS: u64 = 8;
/// Most times that a point leaves sessions out before it chooses.
const ROUNDS: usize = 3;

/// A session as the walk sees it.
struct Entry<'w> {
    session: &'w Session,
    value: i64,
    /// By row that matters.
    amounts: Vec<i64>,
    marks: Marks,
}

/// A row that the pools can still tell apart.
struct Priced {
    row: usize,
    /// Value less multiplier times total.
    ranges: Ranges,
    /// The most of it within reach.
    top: i64,
}

/// By open day: sessions still open, best first.
type Open = Vec<Vec<u32>>;

/// Days chosen so far.
#[derive(Clone, Default)]
struct Chosen {
    /// By day: its session.
    at: Vec<Option<u32>>,
    /// By row that matters.
    totals: Vec<i64>,
    value: i64,
    misses: [i64; 3],
    /// By repeat mark: days that have it.
    counts: Vec<i64>,
}

struct Walk<'w> {
    weeks: &'w Weeks<'w>,
    marking: Marking<'w>,
    days: Vec<Vec<Entry<'w>>>,
    rows: Vec<Priced>,
    best: Option<Found>,
    /// Values of the rows that don't matter.
    constant: i64,
    cut: bool,
    ended: bool,
    looks: u64,
}

impl<'w> Weeks<'w> {
    pub(super) fn walk(&'w self) -> Walked {
        let mut marking = Marking::of(self.model, *self.stage);
        let days = self
            .pools
            .iter()
            .enumerate()
            .map(|(day, pool)| {
                pool.iter()
                    .map(|(value, session)| Entry {
                        session,
                        value: *value,
                        amounts: Vec::new(),
                        marks: marking.marks(day, session),
                    })
                    .collect()
            })
            .collect();
        let mut walk = Walk {
            weeks: self,
            marking,
            days,
            rows: Vec::new(),
            best: self.best.clone(),
            constant: 0,
            cut: false,
            ended: false,
            looks: 0,
        };
        if let Some(open) = walk.narrow() {
            let chosen = walk.nothing();
            walk.point(&chosen, &open);
        }
        Walked {
            best: walk.best,
            cut: walk.cut,
            work: walk.looks / LOOKS + 1,
        }
    }
}

impl<'w> Walk<'w> {
    fn nothing(&self) -> Chosen {
        Chosen {
            at: vec![None; self.days.len()],
            totals: vec![0; self.rows.len()],
            value: 0,
            misses: [0; 3],
            counts: vec![0; self.marking.repeats()],
        }
    }

    /// Leaves out, before anything is chosen, what can't be in a week that matters, and of sessions
    /// that nothing can tell apart all but the best; none if a day is left without any.
    fn narrow(&mut self) -> Option<Open> {
        loop {
            let before: usize = self.days.iter().map(Vec::len).sum();
            if self.days.iter().any(Vec::is_empty) {
                return None;
            }
            self.weigh();
            for day in &mut self.days {
                told_apart(day);
            }
            let all: Open = self
                .days
                .iter()
                .map(|day| (0u32..).take(day.len()).collect())
                .collect();
            let open = self.fit(&self.nothing(), all)?;
            for (day, left) in self.days.iter_mut().zip(&open) {
                let mut at = 0u32;
                let mut left = left.iter().peekable();
                day.retain(|_| {
                    let keep = left.peek() == Some(&&at);
                    if keep {
                        left.next();
                    }
                    at += 1;
                    keep
                });
            }
            let after: usize = self.days.iter().map(Vec::len).sum();
            if after == before {
                return Some(open);
            }
        }
    }

    /// Finds the rows that can still tell weeks apart, and gives the entries their amounts.
    fn weigh(&mut self) {
        self.rows.clear();
        self.constant = 0;
        let weeks = self.weeks;
        for (row, ((values, ends), multiplier)) in weeks
            .rows
            .iter()
            .zip(weeks.ends)
            .zip(weeks.multipliers)
            .enumerate()
        {
            let (mut low, mut high) = (0i64, 0i64);
            for day in &self.days {
                let amounts = day
                    .iter()
                    .map(|entry| entry.session.amounts.get(row).copied().unwrap_or(0));
                low += amounts.clone().min().unwrap_or(0);
                high += amounts.max().unwrap_or(0);
            }
            let ranges = Ranges::of(values, *ends, *multiplier);
            let top = ranges.most(low, high);
            if ranges.least(low, high) == top {
                self.constant = self.constant.saturating_add(top);
            } else {
                self.rows.push(Priced { row, ranges, top });
            }
        }
        for entry in self.days.iter_mut().flatten() {
            entry.amounts = self
                .rows
                .iter()
                .map(|held| entry.session.amounts.get(held.row).copied().unwrap_or(0))
                .collect();
        }
    }

    fn entry(&self, day: usize, at: u32) -> Option<&Entry<'w>> {
        self.days.get(day)?.get(at as usize)
    }

    /// The lowest score that matters.
    fn least(&self) -> i64 {
        self.best
            .as_ref()
            .map_or(NEVER + 1, |best| best.score.saturating_add(self.weeks.step))
    }

    /// The open sessions that can still be in a week that matters with those chosen; none if a day
    /// has none left.
    fn fit(&mut self, chosen: &Chosen, mut open: Open) -> Option<Open> {
        for _ in 0..ROUNDS {
            let before: usize = open.iter().map(Vec::len).sum();
            self.bring(chosen, &mut open)?;
            self.bounded(chosen, &mut open)?;
            if open.iter().map(Vec::len).sum::<usize>() == before {
                break;
            }
        }
        Some(open)
    }

    /// By bound: each open session with the best that the others can still give.
    fn bounded(&mut self, chosen: &Chosen, open: &mut Open) -> Option<()> {
        let least = self.least();
        let width = self.rows.len();
        let mut ends: Vec<Vec<(i64, i64)>> = Vec::with_capacity(open.len());
        let mut all: Vec<(i64, i64)> = chosen.totals.iter().map(|total| (*total, *total)).collect();
        let mut value = chosen.value.saturating_add(self.constant);
        for (day, left) in open.iter().enumerate() {
            let mut of_day = vec![(i64::MAX, i64::MIN); width];
            if chosen.at.get(day).copied().flatten().is_some() {
                of_day.iter_mut().for_each(|ends| *ends = (0, 0));
            } else {
                let first = left.first().and_then(|at| self.entry(day, *at))?;
                value = value.saturating_add(first.value);
                for entry in left.iter().filter_map(|at| self.entry(day, *at)) {
                    for (held, amount) in of_day.iter_mut().zip(&entry.amounts) {
                        held.0 = held.0.min(*amount);
                        held.1 = held.1.max(*amount);
                    }
                }
            }
            for (sum, held) in all.iter_mut().zip(&of_day) {
                sum.0 += held.0;
                sum.1 += held.1;
            }
            ends.push(of_day);
        }
        let mut looks = 0u64;
        for (day, left) in open.iter_mut().enumerate() {
            let Some(of_day) = ends.get(day) else { continue };
            if chosen.at.get(day).copied().flatten().is_some() {
                continue;
            }
            let Some(entries) = self.days.get(day) else { continue };
            let top = left
                .first()
                .and_then(|at| entries.get(*at as usize))
                .map_or(0, |entry| entry.value);
            let others = value.saturating_sub(top);
            // What the rows give at the very best, so that most sessions fail on value alone.
            let mut rows_top = 0i64;
            for (held, (low, high)) in self.rows.iter().zip(&all) {
                rows_top = rows_top.saturating_add(held.ranges.most(*low, *high));
            }
            looks += left.len() as u64;
            left.retain(|at| {
                let Some(entry) = entries.get(*at as usize) else {
                    return false;
                };
                let mut bound = others.saturating_add(entry.value);
                if bound.saturating_add(rows_top) < least {
                    return false;
                }
                for (((held, amount), (low, high)), (day_low, day_high)) in
                    self.rows.iter().zip(&entry.amounts).zip(&all).zip(of_day)
                {
                    bound = bound.saturating_add(
                        held.ranges
                            .most(low - day_low + amount, high - day_high + amount),
                    );
                    if bound <= NEVER / 2 {
                        return false;
                    }
                }
                bound >= least
            });
            if left.is_empty() {
                return None;
            }
        }
        self.looks += looks;
        Some(())
    }

    /// By what must come again or follow: days that alone can bring it keep only what does.
    fn bring(&self, chosen: &Chosen, open: &mut Open) -> Option<()> {
        for (repeat, count) in chosen.counts.iter().enumerate() {
            let (at_least, _) = self.marking.limits(repeat);
            if *count == 0 || *count >= at_least {
                continue;
            }
            self.need(chosen, open, at_least - count, 0, |marks| {
                marks.repeats.contains(&repeat)
            })?;
        }
        for (day, at) in chosen.at.iter().enumerate() {
            let Some(entry) = at.and_then(|at| self.entry(day, at)) else {
                continue;
            };
            for wait in &entry.marks.waits {
                let met = chosen.at.iter().enumerate().skip(day + 1).any(|(later, at)| {
                    at.and_then(|at| self.entry(later, at))
                        .is_some_and(|entry| entry.marks.gives.has(*wait))
                });
                if !met {
                    self.need(chosen, open, 1, day + 1, |marks| marks.gives.has(*wait))?;
                }
            }
        }
        Some(())
    }

    /// So many of the open days from one on must have a session of a kind.
    fn need(
        &self,
        chosen: &Chosen,
        open: &mut Open,
        days: i64,
        from: usize,
        kind: impl Fn(&Marks) -> bool,
    ) -> Option<()> {
        let able: Vec<usize> = (from..open.len())
            .filter(|day| chosen.at.get(*day).copied().flatten().is_none())
            .filter(|day| {
                open.get(*day).into_iter().flatten().any(|at| {
                    self.entry(*day, *at).is_some_and(|entry| kind(&entry.marks))
                })
            })
            .collect();
        let count = i64::try_from(able.len()).unwrap_or(i64::MAX);
        if count < days {
            return None;
        }
        if count == days {
            for day in able {
                let Some(left) = open.get_mut(day) else { continue };
                left.retain(|at| self.entry(day, *at).is_some_and(|entry| kind(&entry.marks)));
            }
        }
        Some(())
    }

    fn point(&mut self, chosen: &Chosen, open: &Open) {
        let next = open
            .iter()
            .enumerate()
            .filter(|(day, _)| chosen.at.get(*day).copied().flatten().is_none())
            .min_by_key(|(day, left)| (left.len(), *day));
        let Some((day, left)) = next else {
            self.complete(chosen);
            return;
        };
        for at in left {
            if self.ended {
                return;
            }
            if self.looks / LOOKS > self.weeks.work {
                self.cut = true;
                self.ended = true;
                return;
            }
            let Some((more, rest)) = self.choose(chosen, open, day, *at) else {
                continue;
            };
            if let Some(fitting) = self.fit(&more, rest) {
                self.point(&more, &fitting);
            }
        }
    }

    /// One more day chosen, and what stands with it; none where a rule breaks.
    fn choose(&mut self, chosen: &Chosen, open: &Open, day: usize, at: u32) -> Option<(Chosen, Open)> {
        let entry = self.entry(day, at)?;
        let mut more = chosen.clone();
        *more.at.get_mut(day)? = Some(at);
        more.value = more.value.saturating_add(entry.value);
        for (total, amount) in more.totals.iter_mut().zip(&entry.amounts) {
            *total += amount;
        }
        for (slot, units) in more.misses.iter_mut().zip(entry.session.misses) {
            *slot += units;
        }
        let mut full = Vec::new();
        for repeat in &entry.marks.repeats {
            let count = more.counts.get_mut(*repeat)?;
            *count += 1;
            let (_, at_most) = self.marking.limits(*repeat);
            if *count > at_most {
                return None;
            }
            if *count == at_most {
                full.push(*repeat);
            }
        }
        if !self.weeks.stage.allows(more.misses) {
            return None;
        }
        let mut looks = 1u64;
        let mut rest = Open::with_capacity(open.len());
        for (other, left) in open.iter().enumerate() {
            if more.at.get(other).copied().flatten().is_some() {
                rest.push(Vec::new());
                continue;
            }
            looks += left.len() as u64;
            let kept: Vec<u32> = left
                .iter()
                .copied()
                .filter(|held| {
                    self.entry(other, *held).is_some_and(|held| {
                        !full.iter().any(|repeat| held.marks.repeats.contains(repeat))
                            && !self.marking.clash(day, &entry.marks, other, &held.marks)
                    })
                })
                .collect();
            if kept.is_empty() {
                self.looks += looks;
                return None;
            }
            rest.push(kept);
        }
        if self.marking.soft && !self.may_miss(&more) {
            return None;
        }
        self.looks += looks;
        Some((more, rest))
    }

    fn sessions(&self, chosen: &Chosen) -> Vec<Option<&'w Session>> {
        chosen
            .at
            .iter()
            .enumerate()
            .map(|(day, at)| at.and_then(|at| self.entry(day, at)).map(|entry| entry.session))
            .collect()
    }

    /// Whether what the days chosen miss for sure is allowed.
    fn may_miss(&self, chosen: &Chosen) -> bool {
        let sessions = self.sessions(chosen);
        two_days(self.weeks.model, self.weeks.stage, &sessions).is_some_and(|mut misses| {
            for (slot, units) in misses.iter_mut().zip(chosen.misses) {
                *slot += units;
            }
            self.weeks.stage.allows(misses)
        })
    }

    fn complete(&mut self, chosen: &Chosen) {
        let sessions = self.sessions(chosen);
        let weeks = self.weeks;
        let Some(found) = whole(weeks.model, weeks.stage, weeks.rows, weeks.ends, &sessions) else {
            return;
        };
        let better = self.best.as_ref().is_none_or(|best| {
            found.score > best.score
                || (found.score == best.score
                    && found
                        .sessions
                        .iter()
                        .map(|s| &s.items)
                        .lt(best.sessions.iter().map(|s| &s.items)))
        });
        if better {
            self.ended = weeks.enough.is_some_and(|enough| found.score >= enough);
            self.best = Some(found);
        }
    }
}

/// Of sessions that no row that matters and no rule about two days can tell apart, only the best.
fn told_apart(day: &mut Vec<Entry<'_>>) {
    let mut best: BTreeMap<(&[i64], [i64; 3], &[Vec<usize>], &[usize]), usize> = BTreeMap::new();
    let mut out = vec![false; day.len()];
    for (at, entry) in day.iter().enumerate() {
        let key = (
            entry.amounts.as_slice(),
            entry.session.misses,
            entry.session.waits.as_slice(),
            entry.session.classes.as_slice(),
        );
        let held = best.entry(key).or_insert(at);
        if *held == at {
            continue;
        }
        let Some(other) = day.get(*held) else { continue };
        let better = (entry.value, std::cmp::Reverse(&entry.session.items))
            > (other.value, std::cmp::Reverse(&other.session.items));
        if let Some(slot) = out.get_mut(if better { *held } else { at }) {
            *slot = true;
        }
        if better {
            *held = at;
        }
    }
    let mut out = out.into_iter();
    day.retain(|_| !out.next().unwrap_or(false));
}
