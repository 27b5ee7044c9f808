//! Finds the best week: first the one in which nothing gives way, else level by level.

mod close;
mod cuts;
mod known;
mod leaf;
mod marks;
mod master;
mod needs;
mod node;
mod ones;
mod order;
mod pooled;
mod pools;
mod prices;
#[cfg(test)]
pub(crate) mod probe;
mod program;
mod ranges;
mod rows;
mod session;
mod simplex;
mod solver;
mod split;
mod stage;
mod walk;
mod whole;

use crate::base::Cancel;
use crate::infer::Setting;
use crate::plan::item::{Item, Pool};
use crate::plan::model::{Model, build};
use crate::plan::slots::Week;

use pools::Reductions;
use solver::{Solver, StageEnd};
use stage::{POINT, Part, Scale, Stage};
use whole::Found;

/// A bound that a search proved before its work was used up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Bound {
    /// No week misses fewer units, level by level.
    pub(crate) missed: [i64; 3],
    /// No week that misses as few is worth more.
    pub(crate) worth: i64,
}

/// The best week found.
#[derive(Debug, Clone)]
pub(crate) struct Solved {
    /// Items of each day in the order of the session.
    pub(crate) days: Vec<Vec<Item>>,
    /// Units missed on the levels `last`, `middle`, `first`.
    pub(crate) missed: [i64; 3],
    pub(crate) worth: i64,
    pub(crate) tie: i64,
    /// Set where the work was used up before the week was proven best.
    pub(crate) bound: Option<Bound>,
    /// Points of the search.
    pub(crate) nodes: u64,
}

/// What a search comes to.
#[derive(Debug, Clone)]
pub(crate) enum Outcome {
    /// A week.
    Found(Box<Solved>),
    /// The hard rules leave no week.
    NoWeek,
    /// The work was used up before any week was found.
    NotFound {
        /// Points of the search.
        nodes: u64,
    },
}

/// Why a search can't be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum SearchError {
    /// A rule's totals or the worths are too large for exact scores; names the rule.
    TooLarge(String),
}

/// The most points of a search where the caller sets none.
pub(crate) const USUAL_WORK: u64 = 60_000_000;

/// The most that all worths of a week may come to, either way, in hundredths of a point.
const MOST_WORTH: i128 = 1 << 23;

/// Finds the best week with at most `work` points.
///
/// # Errors
///
/// [`SearchError::TooLarge`] where the pack's numbers leave the range in which scores are exact.
pub(crate) fn search(
    setting: &Setting<'_>,
    week: &Week<'_>,
    pool: &Pool,
    work: u64,
    cancel: &Cancel,
) -> Result<Outcome, SearchError> {
    search_leaving_out(setting, week, pool, (work, cancel), Reductions::ALL)
}

/// The same, leaving out only so much: tests hold what is left out against a search without it.
fn search_leaving_out(
    setting: &Setting<'_>,
    week: &Week<'_>,
    pool: &Pool,
    (work, cancel): (u64, &Cancel),
    reductions: Reductions,
) -> Result<Outcome, SearchError> {
    let model = build(setting, week, pool);
    let scale = fits(&model)?;
    let mut solver = Solver::new(model.clone(), scale, work / 2, cancel);
    solver.reductions = reductions;
    let strict = Stage::strict(scale);
    let end = solver.solve(strict);
    if let Some(found) = end.best {
        let bound = end.bound.map(|score| Bound {
            missed: [0; 3],
            worth: worth_of(score, &strict),
        });
        return Ok(Outcome::Found(Box::new(solved(
            &model,
            pool,
            &strict,
            found,
            bound,
            solver.spent(),
        ))));
    }
    Ok(by_level(&model, scale, pool, solver, work))
}

/// Whether the hard rules leave any week, whatever gives way; none where the work was used up or it was cancelled.
///
/// # Errors
///
/// As [`search`].
pub(crate) fn any_week(
    setting: &Setting<'_>,
    week: &Week<'_>,
    pool: &Pool,
    work: u64,
    cancel: &Cancel,
) -> Result<Option<bool>, SearchError> {
    let model = build(setting, week, pool);
    let scale = fits(&model)?;
    let mut solver = Solver::new(model, scale, work, cancel);
    solver.any = true;
    let end = solver.solve(Stage {
        levels: [Part::Free; 3],
        scale,
    });
    Ok(match (end.best, end.bound) {
        (Some(_), _) => Some(true),
        (None, None) => Some(false),
        (None, Some(_)) => None,
    })
}

/// Level by level: as few units missed as can be, each held while the next is minimised, then worth.
fn by_level(model: &Model, scale: Scale, pool: &Pool, mut solver: Solver, work: u64) -> Outcome {
    let mut levels = [Part::Free; 3];
    let mut least = [0i64; 3];
    let mut limited = false;
    // The week of the last stage that had one, with its stage.
    let mut known: Option<(Stage, Found)> = None;
    for level in 0..levels.len() {
        // What a week already found does not miss needs no search.
        let free = known
            .as_ref()
            .is_some_and(|(_, found)| found.misses.get(level) == Some(&0));
        let mut units = 0;
        if !free {
            let share = solver.spent() + work.saturating_sub(solver.spent()) / 2;
            solver.allow(share.max(solver.spent() + 1));
            // Whether the level can be kept whole is a question of its own: hard bounds show sooner
            // than weights that nothing is left.
            if let Some(part) = levels.get_mut(level) {
                *part = Part::Hard;
            }
            solver.any = true;
            let stage = Stage { levels, scale };
            let kept = solver.solve(stage);
            solver.any = false;
            if let Some(found) = kept.best {
                known = Some((stage, found));
                continue;
            }
            let fewest = i64::from(kept.bound.is_none());
            if let Some(part) = levels.get_mut(level) {
                *part = Part::Least;
            }
            let stage = Stage { levels, scale };
            solver.fewest = fewest;
            let share = solver.spent() + work.saturating_sub(solver.spent()) / 2;
            solver.allow(share.max(solver.spent() + 1));
            let StageEnd { best, bound } = solver.solve(stage);
            solver.fewest = 0;
            let Some(found) = best else {
                if bound.is_none() && level == 0 {
                    return Outcome::NoWeek;
                }
                return unfinished(model, pool, known, (levels, least), &mut solver, work);
            };
            units = found.misses.get(level).copied().unwrap_or(0);
            let proved = bound.map_or(units, |bound| {
                stage.least_units(bound).max(fewest).min(units)
            });
            limited |= proved < units;
            if let Some(slot) = least.get_mut(level) {
                *slot = proved;
            }
            known = Some((stage, found));
        }
        if let Some(part) = levels.get_mut(level) {
            *part = if units == 0 {
                Part::Hard
            } else {
                Part::Held(units)
            };
        }
    }
    // What a week is worth at most is said too, even where the levels took all the work.
    solver.allow(work.max(solver.spent() + work / 8));
    let stage = Stage { levels, scale };
    let StageEnd { best, bound } = solver.solve(stage);
    let Some(found) = best else {
        return unfinished(model, pool, known, (levels, least), &mut solver, work);
    };
    let mut worth = bound.map(|score| worth_of(score, &stage));
    if let Some(held) = worth.as_mut().filter(|_| stage.given() > 0) {
        // A bound that dodges what is missed is off by all that this weighs; without any weights it is not.
        let most = most_without_weights(&mut solver, levels, scale, work);
        *held = most.map_or(*held, |most| most.min(*held));
    }
    let bound = match worth {
        Some(worth) => Some(Bound {
            missed: least,
            worth,
        }),
        None if limited => Some(Bound {
            missed: least,
            worth: worth_of(found.score, &stage),
        }),
        None => None,
    };
    let nodes = solver.spent();
    Outcome::Found(Box::new(solved(model, pool, &stage, found, bound, nodes)))
}

/// The most worth of a week that keeps the levels that must hold whole, whatever it misses of others.
fn most_without_weights(
    solver: &mut Solver,
    levels: [Part; 3],
    scale: Scale,
    work: u64,
) -> Option<i64> {
    let levels = levels.map(|part| match part {
        Part::Held(_) | Part::Least => Part::Free,
        other => other,
    });
    let free = Stage { levels, scale };
    solver.allow(solver.spent() + (work / 8).max(1));
    let StageEnd { best, bound } = solver.solve(free);
    let best = best.map(|found| found.score);
    bound.or(best).map(|score| worth_of(score, &free))
}

/// The week of an earlier stage, where there is one: the work did not do for a later.
fn unfinished(
    model: &Model,
    pool: &Pool,
    known: Option<(Stage, Found)>,
    (levels, missed): ([Part; 3], [i64; 3]),
    solver: &mut Solver,
    work: u64,
) -> Outcome {
    let nodes = solver.spent();
    let Some((stage, found)) = known else {
        return Outcome::NotFound { nodes };
    };
    let scale = stage.scale;
    let most = most_without_weights(solver, levels, scale, work);
    let worth = most.unwrap_or_else(|| worth_of(scale.span, &Stage::strict(scale)));
    let bound = Some(Bound { missed, worth });
    Outcome::Found(Box::new(solved(model, pool, &stage, found, bound, nodes)))
}

/// The most worth that a score leaves open, rounded up.
fn worth_of(score: i64, stage: &Stage) -> i64 {
    let given = score.saturating_add(stage.given());
    given.div_euclid(POINT) + 1
}

fn solved(
    model: &Model,
    pool: &Pool,
    stage: &Stage,
    found: Found,
    bound: Option<Bound>,
    nodes: u64,
) -> Solved {
    let mut tie = 0;
    for (day, session) in model.days.iter().zip(&found.sessions) {
        tie += session
            .items
            .iter()
            .filter_map(|at| day.candidates.get(*at))
            .map(|held| held.tie)
            .sum::<i64>();
    }
    let worth = (found.score + stage.weight(found.misses) + tie).div_euclid(POINT);
    let days = pool
        .days
        .iter()
        .zip(&found.sessions)
        .map(|(items, session)| {
            session
                .items
                .iter()
                .filter_map(|at| items.get(*at))
                .cloned()
                .collect()
        })
        .collect();
    Solved {
        days,
        missed: found.misses,
        worth,
        tie,
        bound,
        nodes,
    }
}

/// Whether every score stays exact: worth within the span, ties within a point, rows not too wide.
fn fits(model: &Model) -> Result<Scale, SearchError> {
    let mut worth: i128 = 0;
    let mut tie: i128 = 0;
    for day in &model.days {
        for slot in &day.slots {
            let of_slot = slot
                .candidates
                .iter()
                .filter_map(|at| day.candidates.get(*at));
            let most = of_slot
                .clone()
                .map(|held| i128::from(held.worth.abs()))
                .max()
                .unwrap_or(0);
            let ties = of_slot.map(|held| i128::from(held.tie)).max().unwrap_or(0);
            worth += most * slot.at_most as i128;
            tie += ties * slot.at_most as i128;
        }
    }
    for follow in &model.follows {
        worth += i128::from(follow.closer_by.abs()) * 12;
    }
    for (row, (low, high)) in model.rows.iter().zip(rows::reach(model)) {
        if high - low > rows::MOST_TOTALS {
            return Err(SearchError::TooLarge(row.name.clone()));
        }
        worth += i128::from(row.worth(low).abs().max(row.worth(high).abs()));
    }
    if worth > MOST_WORTH {
        return Err(SearchError::TooLarge("worth".to_owned()));
    }
    if tie >= i128::from(POINT) {
        return Err(SearchError::TooLarge("ties".to_owned()));
    }
    Ok(Scale::of(i64::try_from(worth).unwrap_or(i64::MAX)))
}
