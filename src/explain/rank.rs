//! What helps, ranked, with why.

use std::sync::Arc;

use crate::base::{CauseId, ConstraintId, ExerciseId, RoleId, SkillId, TrailError};
use crate::infer::{Pair, Setting};

use super::entries::Called;
use super::glossary::{Glossary, Named};
use super::trace::Trace;

/// An exercise with what it does for the causes that are asked about.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Ranked {
    /// The exercise.
    pub exercise: ExerciseId,
    /// Its canonical name.
    pub name: String,
    /// What it is used for.
    pub used_for: String,
    /// Sum over the causes of demand times net effect in half points.
    pub score: i64,
    /// What it does to each cause, where it does anything; the greatest demand first.
    pub effects: Vec<Effect>,
    /// Whether the case allows it.
    pub allowed: bool,
    /// Sum of what its constraints cost in likeness to the full form.
    pub departure: i64,
    /// Roles that it may take.
    pub roles: Vec<RoleId>,
}

/// What an exercise does to one cause of a skill.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Effect {
    /// The skill.
    pub skill: SkillId,
    /// The cause.
    pub cause: Called<CauseId>,
    /// The demand of the pair, 1 to 300.
    pub demand: i64,
    /// Net effect in half points, before any role; below 0 it feeds the cause.
    pub half_points: i64,
    /// The constraints that help most; none where the exercise helps by itself.
    pub by: Vec<Called<ConstraintId>>,
}

/// Exercises by what they do for the causes in focus, the best first, then by departure and id.
/// Those that do nothing come last, with those that harm after them.
pub(crate) fn ranked(
    setting: &Setting<'_>,
    glossary: &Arc<Glossary>,
) -> Result<Vec<Ranked>, TrailError> {
    let trace = Trace::of(setting, glossary)?;
    let mut all: Vec<Ranked> = setting
        .graph
        .exercises
        .iter()
        .enumerate()
        .map(|(at, exercise)| {
            let effects = effects(setting, &trace, at);
            Ranked {
                exercise: exercise.id.clone(),
                name: exercise.name.clone(),
                used_for: glossary.used_for(exercise.id.as_str()).to_owned(),
                score: effects
                    .iter()
                    .map(|effect| effect.demand * effect.half_points)
                    .sum(),
                effects,
                allowed: setting.allowed.get(at) == Some(&true),
                departure: exercise.departure,
                roles: exercise.roles.clone(),
            }
        })
        .collect();
    all.sort_by(|one, other| {
        (-one.score, one.departure, &one.exercise).cmp(&(
            -other.score,
            other.departure,
            &other.exercise,
        ))
    });
    Ok(all)
}

fn effects(setting: &Setting<'_>, trace: &Trace<'_>, exercise: usize) -> Vec<Effect> {
    setting
        .focus
        .iter()
        .zip(setting.effects(exercise))
        .filter(|(pair, effect)| pair.movement && **effect != 0)
        .filter_map(|(pair, effect)| {
            Some(Effect {
                skill: setting.graph.skills.get(pair.skill)?.clone(),
                cause: Called::new(
                    &trace.glossary,
                    Named::Cause,
                    setting.graph.causes.get(pair.cause)?,
                ),
                demand: pair.demand,
                half_points: *effect,
                by: if *effect > 0 {
                    by(trace, exercise, pair)
                } else {
                    Vec::new()
                },
            })
        })
        .collect()
}

fn by(trace: &Trace<'_>, exercise: usize, pair: &Pair) -> Vec<Called<ConstraintId>> {
    trace
        .by(exercise, pair)
        .iter()
        .map(|id| Called::new(&trace.glossary, Named::Constraint, id))
        .collect()
}
