//! Variations that nobody listed and that serve the causes in focus.
//!
//! A listed exercise with one constraint more. It is worth putting together only where it does
//! something that nothing listed does: of all that serves a cause, nothing listed has as much effect
//! with as little departure.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use crate::base::{At, ExerciseId, Place, RoleId};
use crate::graph::naming::{Movement, Naming, variation};
use crate::rules::vocab::Variation;

use super::select::Placed;
use super::setting::Setting;

/// Everything that the rules let be put together, with constraints that bear on the causes in focus.
pub(crate) fn composable(
    setting: &Setting<'_>,
    naming: &Naming<'_>,
) -> Vec<(At<ExerciseId>, Variation)> {
    let helpful = helpful(setting);
    let mut movements: Vec<Movement> = Vec::new();
    for at in (0..setting.graph.exercises.len()).filter(|at| may_be_varied(setting, *at)) {
        for constraint in &helpful {
            let made = naming.varied(at, *constraint);
            movements.extend(made.filter(|made| !movements.contains(made)));
        }
    }
    let mut all = BTreeMap::new();
    for movement in &movements {
        let Some(mut made) = variation(setting.pack, setting.graph, movement) else {
            continue;
        };
        let Some((place, used_for)) = listed(setting, &made.from.value) else {
            continue;
        };
        used_for.clone_into(&mut made.used_for);
        made.roles = Some(roles(setting, &made.from.value));
        let with = made.with.iter().map(|id| id.as_str());
        let id = format!(
            "{}-with-{}",
            made.from.as_str(),
            with.collect::<Vec<_>>().join("-")
        );
        let free = setting.graph.ids.find(&id).is_none();
        if let Some(id) = id.parse::<ExerciseId>().ok().filter(|_| free) {
            // It stands where the exercise stands that it is made from.
            all.insert(At::new(id, place.clone()), made);
        }
    }
    all.into_iter().collect()
}

/// Where a listed exercise that is no complex stands, and what it is used for.
fn listed<'a>(setting: &Setting<'a>, id: &ExerciseId) -> Option<(&'a Place, &'a str)> {
    let pack = setting.pack;
    let root = pack.roots.get_key_value(id);
    let root = root.map(|(key, held)| (&key.place, held.used_for.as_str()));
    let variation = pack.variations.get_key_value(id);
    root.or_else(|| variation.map(|(key, held)| (&key.place, held.used_for.as_str())))
}

/// Roles of what is made from an exercise: those of all rules that speak of it.
fn roles(setting: &Setting<'_>, from: &ExerciseId) -> Vec<At<RoleId>> {
    let at = setting.graph.ids.find(from.as_str());
    let rules = setting.speaking(&setting.rules().compose);
    let of = rules.filter(|(_, rule)| {
        at.is_some_and(|at| setting.matches(&rule.what, &Placed::unplaced(at)))
    });
    let all: BTreeSet<At<RoleId>> = of.flat_map(|(_, rule)| rule.roles.clone()).collect();
    all.into_iter().collect()
}

/// Constraints with an effect above 0 on a cause in focus.
fn helpful(setting: &Setting<'_>) -> Vec<usize> {
    let causes: BTreeSet<&str> = setting
        .focus
        .iter()
        .filter(|pair| pair.movement)
        .filter_map(|pair| setting.graph.causes.get(pair.cause))
        .map(|id| id.as_str())
        .collect();
    let axes = setting.pack.axes.values();
    let helping = axes
        .flat_map(|axis| &axis.constraints)
        .filter(|(_, held)| {
            let mut effects = held.effect.iter();
            effects.any(|(cause, points)| points.value > 0 && causes.contains(cause.as_str()))
        })
        .filter_map(|(id, _)| setting.graph.constraints.find(id.as_str()));
    helping.collect()
}

fn may_be_varied(setting: &Setting<'_>, at: usize) -> bool {
    let alone = setting
        .graph
        .exercises
        .get(at)
        .is_some_and(|held| !held.is_complex());
    alone
        && setting.allowed.get(at) == Some(&true)
        && setting
            .speaking(&setting.rules().compose)
            .any(|(_, rule)| setting.matches(&rule.what, &Placed::unplaced(at)))
}

/// Of what was put together the variations that are worth having: for each movement cause in focus
/// those with the most effect, then the least departure, then the first by id, as many as the rules
/// that speak of what they are made from allow. `setting` has them among its exercises.
pub(crate) fn worth_having(
    setting: &Setting<'_>,
    made: &[(At<ExerciseId>, Variation)],
) -> BTreeSet<ExerciseId> {
    let own: BTreeMap<usize, usize> = made
        .iter()
        .filter_map(|(id, held)| {
            let from = setting.graph.ids.find(held.from.as_str())?;
            Some((setting.graph.ids.find(id.as_str())?, from))
        })
        .collect();
    let mut kept = BTreeSet::new();
    for (number, pair) in setting.focus.iter().enumerate() {
        if !pair.movement {
            continue;
        }
        let of = |at: usize| {
            let exercise = setting.graph.exercises.get(at)?;
            let effect = setting.effects(at).get(number).copied()?;
            let may = setting.allowed.get(at) == Some(&true) && !exercise.is_complex();
            (may && effect > 0).then_some((effect, exercise.departure))
        };
        let listed: Vec<(i64, i64)> = (0..setting.graph.exercises.len())
            .filter(|at| !own.contains_key(at))
            .filter_map(of)
            .collect();
        let is_matched = |effect: i64, departure: i64| {
            let mut listed = listed.iter();
            listed.any(|(other, cost)| *other >= effect && *cost <= departure)
        };
        for (_, rule) in setting.speaking(&setting.rules().compose) {
            let mut better: Vec<(Reverse<i64>, i64, usize)> = own
                .iter()
                .filter(|(_, from)| setting.matches(&rule.what, &Placed::unplaced(**from)))
                .filter_map(|(at, _)| {
                    let (effect, departure) = of(*at)?;
                    (!is_matched(effect, departure)).then_some((Reverse(effect), departure, *at))
                })
                .collect();
            better.sort_unstable();
            let most = usize::from(rule.per_cause_at_most.value);
            let first = better.into_iter().take(most);
            kept.extend(first.filter_map(|(_, _, at)| setting.graph.ids.get(at).cloned()));
        }
    }
    kept
}
