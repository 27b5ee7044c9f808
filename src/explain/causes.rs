//! The causes of a week: what is worked on, by what, and what waits.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use crate::base::ExerciseId;

use super::answer::{Waiting, Worked};
use super::claim::Claim;
use super::reason::Held;
use super::trace::Trace;

/// The exercises of the week that work on a pair in focus, by what all their items together do, the most first.
fn works_on(held: &Held<'_>, pair: usize) -> Vec<ExerciseId> {
    let mut sums: BTreeMap<usize, i64> = BTreeMap::new();
    for item in held.days.iter().flatten() {
        let effect = item.effect(held.setting, held.week, pair);
        if effect > 0 {
            *sums.entry(item.exercise).or_insert(0) += effect;
        }
    }
    let mut by: Vec<(usize, i64)> = sums.into_iter().collect();
    by.sort_by_key(|(exercise, sum)| (Reverse(*sum), *exercise));
    let exercises = &held.setting.graph.exercises;
    let by = by.into_iter();
    by.filter_map(|(at, _)| Some(exercises.get(at)?.id.clone()))
        .collect()
}

/// The causes in focus, each with what in the week works on it most.
pub(super) fn worked(held: &Held<'_>, trace: &Trace<'_>) -> Vec<Worked> {
    let claims = trace
        .focus
        .iter()
        .enumerate()
        .filter_map(|(pair, fact)| Some((pair, *fact, trace.trail.get(*fact)?.claim())));
    claims
        .filter_map(|(pair, fact, claim)| match claim {
            Claim::InFocus {
                skill,
                cause,
                points,
            } => Some(Worked {
                skill: skill.clone(),
                cause: cause.clone(),
                demand: *points,
                sure: trace.is_sure(skill, cause),
                by: works_on(held, pair),
                fact,
            }),
            _ => None,
        })
        .collect()
}

/// The causes that wait, each with why.
pub(super) fn waiting(trace: &Trace<'_>) -> Vec<Waiting> {
    let claims = trace
        .waiting
        .iter()
        .filter_map(|fact| Some((*fact, trace.trail.get(*fact)?.claim())));
    claims
        .filter_map(|(fact, claim)| match claim {
            Claim::Waits {
                skill,
                cause,
                points,
                why,
            } => Some(Waiting {
                skill: skill.clone(),
                cause: cause.clone(),
                demand: *points,
                why: why.clone(),
                fact,
            }),
            _ => None,
        })
        .collect()
}
