//! What is said beside an item: the lighter sets that lead to it, and what to look at.

use std::cmp::Reverse;

use crate::base::{At, CauseId};
use crate::infer::Setting;
use crate::plan::{Item, Week, ramp_step, too_light};

use super::answer::{BarLoad, LighterSet, Load, Said, Watch};
use super::assemble::{decimal, pieces};
use super::reason::Held;

/// What is said beside an item.
pub(crate) struct Beside {
    pub(crate) load: Option<Load>,
    pub(crate) lighter_sets: Vec<LighterSet>,
    pub(crate) watch: Option<Watch>,
    pub(crate) notes: Vec<Said>,
}

/// The lighter sets before the first working set, rising. Left out are those that come too near to the one
/// before or to the first working set, and those no heavier than what was done before on the day.
pub(crate) fn lighter_sets(
    held: &Held<'_>,
    item: &Item,
    load: Option<&Load>,
    done_before: i64,
) -> Vec<LighterSet> {
    let (Some((rule, step)), Some(load)) = (ramp_step(held.setting, &item.placed(held.week)), load)
    else {
        return Vec::new();
    };
    let round = |reps: u16| match held.setting.graph.exercises.get(item.exercise) {
        Some(held) if held.is_complex() => held.pieces.iter().map(|piece| piece.reps).collect(),
        _ => vec![i64::from(reps)],
    };
    let percent =
        |stated: &Option<At<u16>>| stated.as_ref().map_or(0, |held| i64::from(held.value));
    let lighter = percent(&rule.lighter_for_fewer_pieces);
    let first = load.low.thousandths();
    let apart = (first * percent(&rule.sets_apart_percent) / 100).max(1);
    let on = held.loads.on_bar_for(first);
    let mut reached = done_before;
    let sets = step.sets.iter().filter_map(|set| {
        let percent = i64::from(set.percent_of_load);
        let target = first * percent / 100;
        let made = on.make_with_few_pieces(target, target * (100 - lighter) / 100);
        // The first set of the day has nothing before it.
        let near_before = reached > 0 && made.thousandths < reached + apart;
        if near_before || made.thousandths + apart > first {
            return None;
        }
        reached = made.thousandths;
        Some(LighterSet {
            percent_of_load: percent,
            round: round(set.reps),
            load: BarLoad {
                weight: decimal(made.thousandths),
                pieces: pieces(&made.side),
            },
        })
    });
    sets.collect()
}

/// The heaviest bar of what was done before an item on its day and trains a skill of it, in thousandths; 0 where
/// nothing was. `before` holds items with their heaviest bars.
pub(crate) fn done_before(setting: &Setting<'_>, item: &Item, before: &[(&Item, i64)]) -> i64 {
    let skills = |item: &Item| {
        let exercise = setting.graph.exercises.get(item.exercise);
        exercise.map(|exercise| &exercise.skills)
    };
    let own = skills(item);
    before
        .iter()
        .filter(|(other, _)| {
            skills(other)
                .zip(own)
                .is_some_and(|(other, own)| other.meets(own))
        })
        .map(|(_, heaviest)| *heaviest)
        .max()
        .unwrap_or(0)
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
/// whose causes it helps most, then the one whose cause that can show in it has the most demand.
pub(crate) fn watch(setting: &Setting<'_>, week: &Week<'_>, item: &Item) -> Option<Watch> {
    let placed = item.placed(week);
    let speaking = setting.speaking(&setting.rules().watch);
    let (id, rule) = speaking
        .filter(|(_, rule)| setting.matches(&rule.what, &placed))
        .min_by_key(|(id, rule)| {
            let ways = || [&rule.what].into_iter().chain(&rule.what.any);
            let help = ways()
                .map(|way| helps(setting, week, item, &way.helps))
                .max();
            let shown = ways()
                .map(|way| setting.most_shown(item.exercise, &way.shows))
                .max();
            let rank = rule.rank.value;
            (Reverse(rank), Reverse(help), Reverse(shown), &id.value)
        })?;
    Some(Watch {
        rule: id.value.clone(),
        place: id.place.clone(),
        look: rule.look.en.clone(),
        lighten: rule.lighten.en.clone(),
    })
}

/// What rules say of an item as light as this.
pub(crate) fn notes(held: &Held<'_>, item: &Item) -> Vec<Said> {
    let rules = too_light(held.setting, held.week, held.loads, item).into_iter();
    rules
        .filter_map(|(id, rule)| {
            Some(Said {
                rule: id.value.clone(),
                place: id.place.clone(),
                words: rule.say.as_ref()?.en.clone(),
            })
        })
        .collect()
}
