//! A week that somebody wrote: each line in a part and role of its day, with its own sets, repetitions and percents.
//!
//! A line says neither part nor role. Of all places that leave the lines in their order it gets those with which the
//! week comes to most: what it breaks first, then what it misses level by level, then what it is worth. Places
//! are tried line by line until none makes the week better.

use std::cmp::Reverse;

use crate::infer::Setting;

use super::dose::{Basis, redone};
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

/// What a week comes to, the least first: what clashes, what it misses level by level, then worth.
type Cost = (i64, [i64; 3], Reverse<i64>);

/// Hard units that are broken, lines out of order, and so many things more that may not stand.
pub(crate) fn clashes(verdict: &Verdict, days: &[Vec<Item>], against: usize) -> i64 {
    let broken: i64 = verdict.broken.iter().map(|miss| miss.units).sum();
    let disorder: usize = days.iter().map(|day| disorder(day)).sum();
    let wrong = verdict.illegal.len() + disorder + against;
    broken.saturating_add(i64::try_from(wrong).unwrap_or(i64::MAX))
}

fn cost(verdict: &Verdict, days: &[Vec<Item>], against: usize) -> Cost {
    let clashes = clashes(verdict, days, against);
    (clashes, verdict.missed, Reverse(verdict.worth))
}

/// All places of a line on a day: where nothing is against it, else where only the case, a rule or its load is.
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
            let Some((usual, mut against)) = anyhow(setting, week, loads, spot) else {
                continue;
            };
            if against.iter().any(is_misfit) {
                continue;
            }
            let mut item = usual.clone();
            item.dosed = redone(setting, week, &usual, written);
            let highest = Basis::of(setting, exercise).highest;
            let asks_too_much = item.dosed.percent.is_some_and(|(_, high)| high > highest);
            if asks_too_much && !against.contains(&Refusal::TooHeavy) {
                against.push(Refusal::TooHeavy);
            }
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

/// How much of what is against a line counts beside the week's own verdict, which counts what a rule excludes.
pub(crate) fn counted(against: &[Refusal]) -> usize {
    let own = |why: &&Refusal| !matches!(why, Refusal::Excluded(_));
    against.iter().filter(own).count()
}

/// Whether it is the wrong place: part, role and exercise do not go together.
fn is_misfit(against: &Refusal) -> bool {
    match against {
        Refusal::Unknown
        | Refusal::NotItsRole
        | Refusal::NotInPart
        | Refusal::NotForPart
        | Refusal::Gate
        | Refusal::NoDose => true,
        Refusal::Asks(_) | Refusal::Excluded(_) | Refusal::TooLight(_) | Refusal::TooHeavy => false,
    }
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
        let disorder: usize = days.iter().map(|day| disorder(day)).sum();
        let verdict = judged(setting, week, &days, By::Everything);
        // The order of the lines is the writer's own.
        (disorder, cost(&verdict, &days, against))
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
                against += counted(&stood.against);
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
    /// The line stands at another place of the day.
    Move { day: usize, at: usize, to: usize },
}

/// A written week as it is taken to stand.
pub(crate) struct Standing<'w> {
    pub(crate) days: &'w [Vec<Item>],
    /// The same lines as the rules dose them.
    pub(crate) usual: &'w [Vec<Item>],
    /// By day, by item: how much the rules have against it where it stands.
    pub(crate) against: &'w [Vec<usize>],
    /// Lines that stand nowhere.
    pub(crate) unplaced: usize,
}

impl Standing<'_> {
    fn against(&self) -> usize {
        self.unplaced + self.against.iter().flatten().sum::<usize>()
    }

    fn own(&self, day: usize, at: usize) -> usize {
        let of_day = self.against.get(day);
        of_day.and_then(|of| of.get(at)).copied().unwrap_or(0)
    }

    /// Every change of one line with the day as it is then, and how much the rules have against single lines of the week.
    fn steps(&self, pool: &[Vec<Item>]) -> Vec<(Step, Vec<Item>, usize)> {
        let all = self.against();
        let mut steps = Vec::new();
        for (day, items) in self.days.iter().enumerate() {
            let candidates = pool.get(day).map_or(&[][..], Vec::as_slice);
            let is_new = |item: &Item, but: Option<usize>| {
                let mut others = items.iter().enumerate();
                !others.any(|(at, held)| Some(at) != but && held.exercise == item.exercise)
            };
            for (at, own) in items.iter().enumerate() {
                let left = all - self.own(day, at);
                let mut without = items.clone();
                without.remove(at);
                for to in (0..items.len()).filter(|to| *to != at) {
                    let mut moved = without.clone();
                    moved.insert(to, own.clone());
                    steps.push((Step::Move { day, at, to }, moved, all));
                }
                steps.push((Step::Drop { day, at }, without, left));
                let put = |item: &Item| {
                    let mut changed = items.clone();
                    if let Some(slot) = changed.get_mut(at) {
                        slot.clone_from(item);
                    }
                    changed
                };
                if let Some(usual) = self.usual.get(day).and_then(|usual| usual.get(at)) {
                    let item = usual.clone();
                    steps.push((Step::Dose { day, at, item }, put(usual), left));
                }
                for item in candidates.iter().filter(|item| is_new(item, Some(at))) {
                    let changed = put(item);
                    let item = item.clone();
                    steps.push((Step::Swap { day, at, item }, changed, left));
                }
            }
            for item in candidates.iter().filter(|item| is_new(item, None)) {
                let before =
                    |slot: usize| items.iter().take_while(|held| held.slot <= slot).count();
                let start = item.slot.checked_sub(1).map_or(0, before);
                for at in start..=before(item.slot) {
                    let mut more = items.clone();
                    more.insert(at, item.clone());
                    let item = item.clone();
                    steps.push((Step::Add { day, at, item }, more, all));
                }
            }
        }
        steps
    }
}

/// The change of one line with which a week comes to most, with what it comes to and what clashes in it then; none
/// where each leaves it no better. All are tried, so that no other is better. `pool` is what may stand on each day.
pub(crate) fn best_step(
    setting: &Setting<'_>,
    week: &Week<'_>,
    standing: &Standing<'_>,
    pool: &[Vec<Item>],
) -> Option<(Step, Verdict, i64)> {
    let of = |days: &[Vec<Item>], against: usize| {
        let verdict = judged(setting, week, days, By::Everything);
        (cost(&verdict, days, against), verdict)
    };
    let (now, _) = of(standing.days, standing.against());
    let mut best: Option<(Cost, Step, Verdict)> = None;
    for (step, items, against) in standing.steps(pool) {
        let mut changed = standing.days.to_vec();
        if let Some(slot) = changed.get_mut(step.day()) {
            *slot = items;
        }
        let (cost, verdict) = of(&changed, against);
        if cost < now && best.as_ref().is_none_or(|(held, ..)| cost < *held) {
            best = Some((cost, step, verdict));
        }
    }
    best.map(|((clashes, ..), step, verdict)| (step, verdict, clashes))
}

impl Step {
    const fn day(&self) -> usize {
        match self {
            Self::Drop { day, .. }
            | Self::Dose { day, .. }
            | Self::Swap { day, .. }
            | Self::Add { day, .. }
            | Self::Move { day, .. } => *day,
        }
    }
}
