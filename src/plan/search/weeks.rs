//! A walk over the days with pools of sessions: rows by bound, two-day rules exactly.

use crate::graph::Bits;
use crate::plan::model::{Model, TwoDaysKind};

use super::rows::RowValues;
use super::session::Session;
use super::stage::Stage;

/// A whole week: one session a day.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub(super) sessions: Vec<Session>,
    pub(super) score: i64,
    pub(super) misses: [i64; 3],
}

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
    /// A score that can't be beaten on the minimised level: the walk ends there.
    pub(super) enough: Option<i64>,
}

/// How a walk ended.
pub(super) struct Walked {
    pub(super) best: Option<Found>,
    pub(super) cut: bool,
    pub(super) work: u64,
}

struct Point<'w> {
    weeks: &'w Weeks<'w>,
    order: Vec<usize>,
    /// By depth, by row: least and most that the days not chosen yet add.
    left: Vec<Vec<(i64, i64)>>,
    /// By depth: best value of the days not chosen yet.
    best_left: Vec<i64>,
    /// By row: value less multiplier times total, with the most over ranges.
    priced: Vec<Ranges>,
    chosen: Vec<Option<usize>>,
    totals: Vec<i64>,
    best: Option<Found>,
    cut: bool,
    ended: bool,
    work: u64,
}

/// The most of a list over any range.
struct Ranges {
    low: i64,
    levels: Vec<Vec<i64>>,
}

const NEVER: i64 = i64::MIN / 4;

impl Ranges {
    fn of(values: &RowValues, ends: (i64, i64), multiplier: i64) -> Self {
        let first: Vec<i64> = values
            .values
            .iter()
            .enumerate()
            .map(|(at, value)| {
                let total = values.low + i64::try_from(at).unwrap_or(0);
                match value {
                    Some(value) if total >= ends.0 && total <= ends.1 => value - multiplier * total,
                    _ => NEVER,
                }
            })
            .collect();
        let mut levels = vec![first];
        let mut width = 1usize;
        while let Some(last) = levels.last().filter(|last| last.len() > width) {
            let next: Vec<i64> = (0..last.len() - width)
                .map(|at| {
                    last.get(at)
                        .copied()
                        .unwrap_or(NEVER)
                        .max(last.get(at + width).copied().unwrap_or(NEVER))
                })
                .collect();
            if next.is_empty() {
                break;
            }
            levels.push(next);
            width *= 2;
        }
        Self {
            low: values.low,
            levels,
        }
    }

    fn most(&self, low: i64, high: i64) -> i64 {
        let count = i64::try_from(self.levels.first().map_or(0, Vec::len)).unwrap_or(0);
        let (from, to) = ((low - self.low).max(0), (high - self.low).min(count - 1));
        if from > to {
            return NEVER;
        }
        let length = usize::try_from(to - from + 1).unwrap_or(1);
        let level = (usize::BITS - 1 - length.leading_zeros()) as usize;
        let width = 1usize << level;
        let (from, to) = (
            usize::try_from(from).unwrap_or(0),
            usize::try_from(to).unwrap_or(0),
        );
        let Some(list) = self.levels.get(level) else {
            return NEVER;
        };
        let one = list.get(from).copied().unwrap_or(NEVER);
        let other = list
            .get((to + 1).saturating_sub(width))
            .copied()
            .unwrap_or(NEVER);
        one.max(other)
    }
}

impl Weeks<'_> {
    pub(super) fn walk(self) -> Walked {
        let mut order: Vec<usize> = (0..self.pools.len()).collect();
        order.sort_by_key(|day| (self.pools.get(*day).map_or(0, Vec::len), *day));
        let rows = self.rows.len();
        let mut left = vec![vec![(0i64, 0i64); rows]];
        let mut best_left = vec![0i64];
        for day in order.iter().rev() {
            let pool = self.pools.get(*day).map_or(&[][..], Vec::as_slice);
            let mut ends = vec![(i64::MAX, i64::MIN); rows];
            for (_, session) in pool {
                for (held, amount) in ends.iter_mut().zip(&session.amounts) {
                    held.0 = held.0.min(*amount);
                    held.1 = held.1.max(*amount);
                }
            }
            let last = left.last().cloned().unwrap_or_default();
            left.push(
                ends.iter()
                    .zip(&last)
                    .map(|(a, b)| (a.0.saturating_add(b.0), a.1.saturating_add(b.1)))
                    .collect(),
            );
            let best = pool.iter().map(|(value, _)| *value).max().unwrap_or(NEVER);
            best_left.push(best_left.last().copied().unwrap_or(0).saturating_add(best));
        }
        left.reverse();
        best_left.reverse();
        let priced = self
            .rows
            .iter()
            .zip(self.ends)
            .zip(self.multipliers)
            .map(|((row, ends), multiplier)| Ranges::of(row, *ends, *multiplier))
            .collect();
        let days = self.pools.len();
        let best = self.best.clone();
        let mut point = Point {
            weeks: &self,
            order,
            left,
            best_left,
            priced,
            chosen: vec![None; days],
            totals: vec![0; rows],
            best,
            cut: false,
            ended: false,
            work: 0,
        };
        if self.pools.iter().all(|pool| !pool.is_empty()) {
            point.day(0, 0);
        }
        Walked {
            best: point.best,
            cut: point.cut,
            work: point.work,
        }
    }
}

impl Point<'_> {
    fn bound(&self, depth: usize, value: i64) -> i64 {
        let left = self.left.get(depth).map_or(&[][..], Vec::as_slice);
        let mut bound = value + self.best_left.get(depth).copied().unwrap_or(0);
        for ((ranges, total), (low, high)) in self.priced.iter().zip(&self.totals).zip(left) {
            bound = bound.saturating_add(ranges.most(total + low, total + high));
            if bound <= NEVER / 2 {
                return NEVER;
            }
        }
        bound
    }

    fn day(&mut self, depth: usize, value: i64) {
        let Some(day) = self.order.get(depth).copied() else {
            self.complete();
            return;
        };
        let weeks = self.weeks;
        let Some(pool) = weeks.pools.get(day) else {
            return;
        };
        // The pool falls in value: what the rows can still give at this point bounds all the rest of it.
        let later = self.best_left.get(depth + 1).copied().unwrap_or(0);
        let rows = self
            .bound(depth, 0)
            .saturating_sub(self.best_left.get(depth).copied().unwrap_or(0));
        for (at, (here, session)) in pool.iter().enumerate() {
            if self.ended {
                return;
            }
            let least = self.best.as_ref().map_or(NEVER + 1, |best| best.score);
            if rows.saturating_add(value + here + later) < least {
                return;
            }
            self.work += 1;
            if self.work > weeks.work {
                self.cut = true;
                self.ended = true;
                return;
            }
            for (total, amount) in self.totals.iter_mut().zip(&session.amounts) {
                *total += amount;
            }
            let bound = self.bound(depth + 1, value + here);
            let least = self.best.as_ref().map_or(NEVER + 1, |best| best.score);
            if bound >= least {
                if let Some(slot) = self.chosen.get_mut(day) {
                    *slot = Some(at);
                }
                if self.days_fit() {
                    self.day(depth + 1, value + here);
                }
                if let Some(slot) = self.chosen.get_mut(day) {
                    *slot = None;
                }
            }
            for (total, amount) in self.totals.iter_mut().zip(&session.amounts) {
                *total -= amount;
            }
        }
    }

    fn sessions(&self) -> Vec<Option<&Session>> {
        self.chosen
            .iter()
            .zip(self.weeks.pools)
            .map(|(at, pool)| at.and_then(|at| pool.get(at)).map(|(_, session)| session))
            .collect()
    }

    /// Whether what is missed for sure by the days chosen is allowed.
    fn days_fit(&self) -> bool {
        let sessions = self.sessions();
        match two_days(self.weeks.model, self.weeks.stage, &sessions) {
            Some(mut misses) => {
                for session in sessions.iter().flatten() {
                    for (slot, units) in misses.iter_mut().zip(session.misses) {
                        *slot += units;
                    }
                }
                self.weeks.stage.allows(misses)
            }
            None => false,
        }
    }

    fn complete(&mut self) {
        let sessions = self.sessions();
        if let Some(found) = whole(
            self.weeks.model,
            self.weeks.stage,
            self.weeks.rows,
            self.weeks.ends,
            &sessions,
        ) {
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
                self.ended = self
                    .weeks
                    .enough
                    .is_some_and(|enough| found.score >= enough);
                self.best = Some(found);
            }
        }
    }
}

/// Score and misses of a whole week; none where a hard rule is broken.
pub(super) fn whole(
    model: &Model,
    stage: &Stage,
    rows: &[RowValues],
    ends: &[(i64, i64)],
    sessions: &[Option<&Session>],
) -> Option<Found> {
    let held: Vec<&Session> = sessions.iter().copied().collect::<Option<_>>()?;
    let mut misses = two_days(model, stage, sessions)?;
    let mut score = -stage.weight(misses);
    for session in &held {
        score += session.score;
        for (slot, units) in misses.iter_mut().zip(session.misses) {
            *slot += units;
        }
    }
    for (at, row) in model.rows.iter().enumerate() {
        let total: i64 = held
            .iter()
            .filter_map(|session| session.amounts.get(at))
            .sum();
        let (low, high) = ends.get(at).copied()?;
        if total < low || total > high {
            return None;
        }
        score += rows.get(at)?.value(total)?;
        let (units, _) = row.misses(total);
        for (slot, units) in misses.iter_mut().zip(units) {
            *slot += units;
        }
    }
    if !stage.allows(misses) {
        return None;
    }
    Some(Found {
        sessions: held.into_iter().cloned().collect(),
        score,
        misses,
    })
}

/// Units missed for sure between the days that are chosen; none where a hard rule is broken.
fn two_days(model: &Model, stage: &Stage, sessions: &[Option<&Session>]) -> Option<[i64; 3]> {
    let mut misses = [0i64; 3];
    let mut add = |level: Option<usize>, units: i64| -> bool {
        match level.and_then(|level| misses.get_mut(level)) {
            Some(slot) => {
                *slot += units;
                !(units > 0 && stage.hard(level))
            }
            None => units == 0,
        }
    };
    for rule in &model.two_days {
        let units = match &rule.kind {
            TwoDaysKind::Apart { what, from, near } => apart(what, from, near, sessions),
            TwoDaysKind::Differ { what, at_most } => differ(model, what, *at_most, sessions),
            TwoDaysKind::Repeat {
                what,
                at_least,
                at_most,
            } => repeat(model, what, *at_least, *at_most, sessions),
        };
        if !add(rule.level, units) {
            return None;
        }
    }
    for (at, follow) in model.follows.iter().enumerate() {
        let mut units = 0;
        for (day, session) in sessions.iter().enumerate() {
            let waits = session
                .and_then(|session| session.waits.get(at))
                .map_or(&[][..], Vec::as_slice);
            if waits.is_empty() {
                continue;
            }
            let later = sessions.get(day + 1..).unwrap_or(&[]);
            if later.iter().any(Option::is_none) {
                continue;
            }
            for class in waits {
                let answered = later.iter().enumerate().any(|(after, session)| {
                    let gives = follow.gives.get(day + 1 + after);
                    session.is_some_and(|session| {
                        session.items.iter().any(|item| {
                            gives
                                .and_then(|gives| gives.get(*item))
                                .is_some_and(|gives: &Bits| gives.has(*class))
                        })
                    })
                });
                units += i64::from(!answered);
            }
        }
        if !add(follow.level, units) {
            return None;
        }
    }
    Some(misses)
}

fn apart(
    what: &[Vec<Bits>],
    from: &[Vec<Bits>],
    near: &[(usize, usize)],
    sessions: &[Option<&Session>],
) -> i64 {
    let held = |keys: &[Vec<Bits>], day: usize| -> Bits {
        let session = sessions.get(day).copied().flatten();
        let keys = keys.get(day).map_or(&[][..], Vec::as_slice);
        session
            .into_iter()
            .flat_map(|session| &session.items)
            .filter_map(|item| keys.get(*item))
            .flat_map(|keys| keys.iter().collect::<Vec<_>>())
            .collect()
    };
    let met: Vec<(usize, usize)> = near
        .iter()
        .copied()
        .filter(|(one, other)| held(what, *one).meets(&held(from, *other)))
        .map(|(one, other)| (one.min(other), one.max(other)))
        .collect();
    let pairs: std::collections::BTreeSet<(usize, usize)> = met.into_iter().collect();
    i64::try_from(pairs.len()).unwrap_or(i64::MAX)
}

fn exercises(model: &Model, what: &[Bits], day: usize, session: Option<&Session>) -> Vec<usize> {
    let (Some(what), Some(held)) = (what.get(day), model.days.get(day)) else {
        return Vec::new();
    };
    session
        .into_iter()
        .flat_map(|session| &session.items)
        .filter(|item| what.has(**item))
        .filter_map(|item| held.candidates.get(*item).map(|held| held.exercise))
        .collect()
}

fn differ(model: &Model, what: &[Bits], at_most: i64, sessions: &[Option<&Session>]) -> i64 {
    let held: Vec<Bits> = sessions
        .iter()
        .enumerate()
        .map(|(day, session)| exercises(model, what, day, *session).into_iter().collect())
        .collect();
    let mut units = 0;
    for (at, one) in held.iter().enumerate() {
        for other in held.iter().skip(at + 1) {
            let shared = i64::try_from(one.shared(other).len()).unwrap_or(i64::MAX);
            units += (shared - at_most).max(0);
        }
    }
    units
}

fn repeat(
    model: &Model,
    what: &[Bits],
    at_least: i64,
    at_most: i64,
    sessions: &[Option<&Session>],
) -> i64 {
    let mut counts: Vec<(usize, i64)> = Vec::new();
    for (day, session) in sessions.iter().enumerate() {
        for exercise in exercises(model, what, day, *session) {
            match counts.iter_mut().find(|(held, _)| *held == exercise) {
                Some((_, count)) => *count += 1,
                None => counts.push((exercise, 1)),
            }
        }
    }
    let open: Vec<usize> = sessions
        .iter()
        .enumerate()
        .filter(|(_, s)| s.is_none())
        .map(|(day, _)| day)
        .collect();
    counts
        .into_iter()
        .map(|(exercise, count)| {
            // A day that is not chosen yet may still bring one.
            let may = open.iter().filter(|day| {
                let (Some(what), Some(held)) = (what.get(**day), model.days.get(**day)) else {
                    return false;
                };
                what.iter().any(|at| {
                    held.candidates
                        .get(at)
                        .is_some_and(|held| held.exercise == exercise)
                })
            });
            let reachable = count + i64::try_from(may.count()).unwrap_or(0);
            (at_least - reachable).max(0) + (count - at_most).max(0)
        })
        .sum()
}
