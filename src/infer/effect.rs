//! What an exercise does to a cause of a skill, in half points.

use crate::graph::{Bits, Body, Exercise, Graph};
use crate::rules::pack::Pack;

use super::demand::Pair;

/// Percent of one skill's effect on a cause that counts for another skill.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Carry {
    pub(crate) from: usize,
    pub(crate) to: usize,
    pub(crate) cause: usize,
    pub(crate) percent: i64,
}

/// Effect of an exercise on a movement pair, before its role is looked at.
pub(crate) fn of_exercise(
    pack: &Pack,
    graph: &Graph,
    carries: &[Carry],
    exercise: &Exercise,
    pair: &Pair,
) -> i64 {
    let effects = exercise
        .pieces
        .iter()
        .map(|piece| of_body(pack, graph, carries, &piece.body, pair));
    let (mut most, mut least) = (i64::MIN, i64::MAX);
    for effect in effects {
        most = most.max(effect);
        least = least.min(effect);
    }
    most.max(0) + least.min(0)
}

fn of_body(pack: &Pack, graph: &Graph, carries: &[Carry], body: &Body, pair: &Pair) -> i64 {
    let effect = body.effects.get(pair.cause).copied().unwrap_or(0);
    if effect == 0 {
        return 0;
    }
    if body.skills.has(pair.skill) {
        let of_skill = graph.skill_stages.get(pair.skill);
        return of_skill.map_or(0, |stages| {
            staged(pack, graph, body, pair.cause, stages, effect)
        });
    }
    // Work on another skill is judged by the stages of what it works on, all its skills together.
    let percent = carries
        .iter()
        .filter(|carry| {
            body.skills.has(carry.from) && carry.to == pair.skill && carry.cause == pair.cause
        })
        .map(|carry| carry.percent)
        .max()
        .unwrap_or(0);
    let stages: Bits = body
        .skills
        .iter()
        .filter_map(|skill| graph.skill_stages.get(skill))
        .flat_map(|stages| stages.iter().collect::<Vec<_>>())
        .collect();
    staged(pack, graph, body, pair.cause, &stages, effect) * percent / 100
}

/// Absence is no cure: of the cause's stages that are asked for, nothing where all are gone, half where some are.
fn staged(
    pack: &Pack,
    graph: &Graph,
    body: &Body,
    cause: usize,
    asked_for: &Bits,
    effect: i64,
) -> i64 {
    let Some(cause) = graph
        .causes
        .get(cause)
        .and_then(|id| pack.movement_causes.get(id))
    else {
        return 0;
    };
    let (mut asked, mut there) = (0u32, 0u32);
    for stage in &cause.stages {
        if let Some(at) = graph
            .stages
            .find(stage.as_str())
            .filter(|at| asked_for.has(*at))
        {
            asked += 1;
            there += u32::from(body.stages.has(at));
        }
    }
    match there {
        0 => 0,
        _ if there == asked => effect,
        _ => effect / 2,
    }
}
