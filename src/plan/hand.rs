//! A week that somebody wrote: each line in a part and role of its day, with its own sets, repetitions and percents.
//!
//! A line says neither part nor role. Of all places that leave the lines in their order it gets those with which the
//! week comes to most: what it breaks first, then what it misses level by level, then what it is worth. Places
//! are tried line by line until none makes the week better.

use std::cmp::Reverse;

use crate::infer::Setting;

use super::dose::redone;
use super::item::{Item, Refusal, Spot, anyhow};
use super::load::Loads;
use super::recheck::{By, Verdict, judged};
use super::slots::Week;

/// What somebody wrote of an exercise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct ByHand {
    pub(crate) exercise: usize,
    pub(crate) sets: i64,
    /// Repetitions of a set; of a round all of it.
    pub(crate) reps: i64,
    /// What the rules give where nothing is said.
    pub(crate) percent: Option<(i64, i64)>,
}

/// A line in a place where it can be taken to stand.
#[derive(Debug, Clone)]
pub(crate) struct Stood {
    /// As it is written.
    pub(crate) item: Item,
    /// As the rules dose it there.
    pub(crate) usual: Item,
    /// What the rules have against it there.
    pub(crate) against: Vec<Refusal>,
}

/// What a week comes to, the least first: lines out of order, what clashes, what it misses level by level, then worth.
type Cost = (usize, i64, [i64; 3], Reverse<i64>);

/// Hard units that are broken and things that may not stand, with so many of those beyond the verdict's own.
pub(crate) fn clashes(verdict: &Verdict, against: usize) -> i64 {
    let broken: i64 = verdict.broken.iter().map(|miss| miss.units).sum();
    let wrong = verdict.illegal.len() + against;
    broken.saturating_add(i64::try_from(wrong).unwrap_or(i64::MAX))
}

fn cost(verdict: &Verdict, days: &[Vec<Item>], against: usize) -> Cost {
    let disorder = days.iter().map(|day| disorder(day)).sum();
    let clashes = clashes(verdict, against);
    (disorder, clashes, verdict.missed, Reverse(verdict.worth))
}

/// All places of a line on a day: where nothing is against it, else where it fits part and role.
pub(crate) fn places(
    setting: &Setting<'_>,
    week: &Week<'_>,
    loads: &Loads,
    day: usize,
    written: ByHand,
) -> Vec<Stood> {
    let (Some(held), Some(exercise)) = (
        week.days.get(day),
        setting.graph.exercises.get(written.exercise),
    ) else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for (slot, of_day) in held.layout.parts.iter().enumerate() {
        let Some(part) = setting.pack.parts.get(&of_day.part.value) else {
            continue;
        };
        let takes = |role: &&crate::base::RoleId| part.roles.iter().any(|id| id.value == **role);
        for role in exercise.roles.iter().filter(takes) {
            let spot = Spot {
                day,
                slot,
                exercise: written.exercise,
                role,
            };
            let Some((usual, against)) = anyhow(setting, week, loads, spot) else {
                continue;
            };
            let mut item = usual.clone();
            item.dosed = redone(setting, week, &usual, written);
            all.push(Stood {
                item,
                usual,
                against,
            });
        }
    }
    if all.iter().any(|stood| stood.against.is_empty()) {
        all.retain(|stood| stood.against.is_empty());
    }
    all
}

/// By day, by line: where each line is taken to stand; none where no part of the day takes it.
pub(crate) fn stood(
    setting: &Setting<'_>,
    week: &Week<'_>,
    options: &[Vec<Vec<Stood>>],
) -> Vec<Vec<Option<usize>>> {
    let first = |day: &Vec<Vec<Stood>>| {
        let mut reached = 0;
        let mut taken = Vec::new();
        for line in day {
            let on = line.iter().position(|stood| stood.item.slot >= reached);
            let at = on.or((!line.is_empty()).then_some(0));
            if let Some(stood) = on.and_then(|at| line.get(at)) {
                reached = stood.item.slot;
            }
            taken.push(at);
        }
        taken
    };
    let mut taken: Vec<Vec<Option<usize>>> = options.iter().map(first).collect();
    let of = |taken: &[Vec<Option<usize>>]| {
        let (days, against) = items(options, taken);
        let verdict = judged(setting, week, &days, By::Everything);
        cost(&verdict, &days, against)
    };
    let mut best = of(&taken);
    for _ in 0..ROUNDS {
        let before = best;
        for (day, lines) in options.iter().enumerate() {
            for (line, all) in lines.iter().enumerate() {
                for at in 0..all.len() {
                    let mut other = taken.clone();
                    let slot = other.get_mut(day).and_then(|lines| lines.get_mut(line));
                    if let Some(slot) = slot.filter(|slot| **slot != Some(at)) {
                        *slot = Some(at);
                        let now = of(&other);
                        if now < best {
                            (best, taken) = (now, other);
                        }
                    }
                }
            }
        }
        if best == before {
            break;
        }
    }
    taken
}

/// How often places are tried anew.
const ROUNDS: usize = 4;

/// Lines that stand before one of an earlier part.
pub(crate) fn disorder(day: &[Item]) -> usize {
    let pairs = day.iter().zip(day.iter().skip(1));
    pairs.filter(|(one, next)| next.slot < one.slot).count()
}

/// The items of each day, and how much is against them.
pub(crate) fn items(
    options: &[Vec<Vec<Stood>>],
    taken: &[Vec<Option<usize>>],
) -> (Vec<Vec<Item>>, usize) {
    let mut against = 0;
    let mut days = Vec::new();
    for (lines, taken) in options.iter().zip(taken) {
        let mut day = Vec::new();
        for (all, at) in lines.iter().zip(taken) {
            if let Some(stood) = at.and_then(|at| all.get(at)) {
                against += stood.against.len();
                day.push(stood.item.clone());
            } else {
                against += 1;
            }
        }
        days.push(day);
    }
    (days, against)
}

/// A change of one line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Step {
    /// The line is left out.
    Drop { day: usize, at: usize },
    /// The line is done as the rules dose it.
    Dose { day: usize, at: usize, item: Item },
    /// Something else stands there.
    Swap { day: usize, at: usize, item: Item },
    /// Something more is done, before the line of this place.
    Add { day: usize, at: usize, item: Item },
}

/// The change of one line with which a week comes to most, with what it comes to and what clashes in it then; none where each leaves it no better.
/// All are tried, so that no other is better. `pool` is what may stand on each day.
pub(crate) fn best_step(
    setting: &Setting<'_>,
    week: &Week<'_>,
    days: &[Vec<Item>],
    usual: &[Vec<Item>],
    pool: &[Vec<Item>],
    // By day, by item: how much the rules have against it where it stands.
    against: &[Vec<usize>],
) -> Option<(Step, Verdict, i64)> {
    let all: usize = against.iter().flatten().sum();
    let whole = judged(setting, week, days, By::Everything);
    let now = cost(&whole, days, all);
    let mut best: Option<(Cost, Step, Verdict)> = None;
    let mut tried = |day: usize, items: Vec<Item>, left: usize, step: Step| {
        let mut changed = days.to_vec();
        let Some(slot) = changed.get_mut(day) else {
            return;
        };
        *slot = items;
        let verdict = judged(setting, week, &changed, By::Everything);
        let cost = cost(&verdict, &changed, left);
        if cost < now && best.as_ref().is_none_or(|(held, ..)| cost < *held) {
            best = Some((cost, step, verdict));
        }
    };
    for (day, items) in days.iter().enumerate() {
        let candidates = pool.get(day).map_or(&[][..], Vec::as_slice);
        let own = |at: usize| {
            let of_day = against.get(day);
            of_day.and_then(|of| of.get(at)).copied().unwrap_or(0)
        };
        let is_new = |item: &Item, but: Option<usize>| {
            let mut others = items.iter().enumerate();
            !others.any(|(at, held)| Some(at) != but && held.exercise == item.exercise)
        };
        for at in 0..items.len() {
            let mut without = items.clone();
            without.remove(at);
            tried(day, without, all - own(at), Step::Drop { day, at });
            let usual = usual.get(day).and_then(|usual| usual.get(at));
            let put = |item: &Item| {
                let mut changed = items.clone();
                if let Some(slot) = changed.get_mut(at) {
                    *slot = item.clone();
                }
                changed
            };
            if let Some(usual) = usual {
                let item = usual.clone();
                tried(day, put(&item), all, Step::Dose { day, at, item });
            }
            for item in candidates.iter().filter(|item| is_new(item, Some(at))) {
                let step = Step::Swap {
                    day,
                    at,
                    item: item.clone(),
                };
                tried(day, put(item), all - own(at), step);
            }
        }
        for item in candidates.iter().filter(|item| is_new(item, None)) {
            // Behind all of its own part and those before.
            let at = items
                .iter()
                .take_while(|held| held.slot <= item.slot)
                .count();
            let start = items
                .iter()
                .take_while(|held| held.slot < item.slot)
                .count();
            for at in start..=at {
                let mut more = items.clone();
                more.insert(at, item.clone());
                let step = Step::Add {
                    day,
                    at,
                    item: item.clone(),
                };
                tried(day, more, all, step);
            }
        }
    }
    best.map(|((_, clashes, ..), step, verdict)| (step, verdict, clashes))
}
