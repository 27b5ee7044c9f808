//! What a whole week comes to: rows, two-day rules and units missed, exactly.

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

impl Found {
    /// Whether it is the better week: by score, then by the items themselves.
    pub(super) fn betters(&self, other: &Self) -> bool {
        let items = |week: &Self| -> Vec<Vec<usize>> {
            week.sessions
                .iter()
                .map(|held| held.items.clone())
                .collect()
        };
        self.score > other.score || (self.score == other.score && items(self) < items(other))
    }
}

/// Score and misses of a whole week; none where a hard rule or an end is broken.
///
/// Rows from `own` on were added by the search: they only repeat what rules about two days say.
pub(super) fn whole(
    model: &Model,
    stage: &Stage,
    own: usize,
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
        let value = rows.get(at)?.value(total)?;
        if at >= own {
            continue;
        }
        score += value;
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
