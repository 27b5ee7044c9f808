//! What is said beside an item: the lighter sets that lead to it, and what to look at.

use std::cmp::Reverse;

use crate::base::{At, CauseId};
use crate::infer::Setting;
use crate::plan::{Item, Loads, Week, ramp_step};

use super::answer::{BarLoad, LighterSet, Load, Watch};
use super::assemble::decimal;

/// The lighter sets before the first working set, rising; those that the bar, or what can be made on it,
/// makes no lighter than the next one are left out.
pub(crate) fn lighter_sets(
    setting: &Setting<'_>,
    week: &Week<'_>,
    loads: &Loads,
    item: &Item,
    load: Option<&Load>,
) -> Vec<LighterSet> {
    let Some((rule, step)) = ramp_step(setting, &item.placed(week)) else {
        return Vec::new();
    };
    let round = |reps: u16| match setting.graph.exercises.get(item.exercise) {
        Some(held) if held.is_complex() => held.pieces.iter().map(|piece| piece.reps).collect(),
        _ => vec![i64::from(reps)],
    };
    let room = rule.lighter_for_fewer_pieces.as_ref();
    let room = room.map_or(0, |room| i64::from(room.value));
    let mut reached = None;
    let sets = step.sets.iter().filter_map(|set| {
        let percent = i64::from(set.percent_of_load);
        let made = load.map(|load| {
            let target = load.low.thousandths() * percent / 100;
            loads.make_with_few_pieces(target, target * (100 - room) / 100)
        });
        if let (Some(made), Some(load)) = (&made, load) {
            let risen = reached.is_none_or(|reached| made.thousandths > reached);
            if !risen || made.thousandths >= load.low.thousandths() {
                return None;
            }
            reached = Some(made.thousandths);
        }
        Some(LighterSet {
            percent_of_load: percent,
            round: round(set.reps),
            load: made.map(|made| BarLoad {
                weight: decimal(made.thousandths),
                pieces: made.side.iter().map(|piece| decimal(*piece)).collect(),
            }),
        })
    });
    sets.collect()
}

/// The most that an item does against one of these causes, in half points; 0 where none is in focus.
fn helps(setting: &Setting<'_>, week: &Week<'_>, item: &Item, causes: &[At<CauseId>]) -> i64 {
    let pairs = setting.focus.iter().enumerate();
    pairs
        .filter(|(_, held)| {
            let cause = setting.graph.causes.get(held.cause);
            cause.is_some_and(|cause| causes.iter().any(|id| id.value == *cause))
        })
        .map(|(pair, _)| item.effect(setting, week, pair))
        .max()
        .unwrap_or(0)
}

/// What to look at while it is done: the rule of the highest rank that speaks of it; of several the one
/// whose causes it helps most.
pub(crate) fn watch(setting: &Setting<'_>, week: &Week<'_>, item: &Item) -> Option<Watch> {
    let placed = item.placed(week);
    let speaking = setting.speaking(&setting.rules().watch);
    let (id, rule) = speaking
        .filter(|(_, rule)| setting.matches(&rule.what, &placed))
        .min_by_key(|(id, rule)| {
            let help = helps(setting, week, item, &rule.what.helps);
            (Reverse(rule.rank.value), Reverse(help), &id.value)
        })?;
    Some(Watch {
        rule: id.value.clone(),
        place: id.place.clone(),
        look: rule.look.en.clone(),
        lighten: rule.lighten.en.clone(),
    })
}
