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
fn counted(against: &[Refusal]) -> usize {
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
        let standing = Standing::of(options, taken);
        let days = standing.days();
        let verdict = judged(setting, week, &days, By::Everything);
        // The order of the lines is the writer's own.
        let disorder: usize = days.iter().map(|day| disorder(day)).sum();
        (disorder, cost(&verdict, &days, standing.against()))
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
pub(crate) struct Standing<'o> {
    /// By day, the lines that stand, in their order.
    days: Vec<Vec<&'o Stood>>,
    /// Lines that stand nowhere.
    unplaced: usize,
}

impl<'o> Standing<'o> {
    /// By day and line, the places that were taken of those that there are.
    pub(crate) fn of(options: &'o [Vec<Vec<Stood>>], taken: &[Vec<Option<usize>>]) -> Self {
        let of_day = |(lines, taken): (&'o Vec<Vec<Stood>>, &Vec<Option<usize>>)| {
            let lines = lines.iter().zip(taken);
            let stood = lines.filter_map(|(all, at)| at.and_then(|at| all.get(at)));
            stood.collect::<Vec<&Stood>>()
        };
        let days: Vec<Vec<&Stood>> = options.iter().zip(taken).map(of_day).collect();
        let lines: usize = options.iter().map(Vec::len).sum();
        let placed: usize = days.iter().map(Vec::len).sum();
        Self {
            days,
            unplaced: lines - placed,
        }
    }

    /// The items of each day as they are written.
    pub(crate) fn days(&self) -> Vec<Vec<Item>> {
        let of_day = |day: &Vec<&Stood>| day.iter().map(|stood| stood.item.clone()).collect();
        self.days.iter().map(of_day).collect()
    }

    /// How much there is against single lines.
    pub(crate) fn against(&self) -> usize {
        let all = self.days.iter().flatten();
        self.unplaced + all.map(|stood| counted(&stood.against)).sum::<usize>()
    }

    /// Hands out every change of one line, with its day as it is then and how much there is against single lines of the week.
    fn each_step(&self, pool: &[Vec<Item>], mut each: impl FnMut(Step, Vec<Item>, usize)) {
        let all = self.against();
        for (day, lines) in self.days.iter().enumerate() {
            let items: Vec<Item> = lines.iter().map(|stood| stood.item.clone()).collect();
            let candidates = pool.get(day).map_or(&[][..], Vec::as_slice);
            let is_new = |item: &Item, but: Option<usize>| {
                let mut others = items.iter().enumerate();
                !others.any(|(at, held)| Some(at) != but && held.exercise == item.exercise)
            };
            for (at, stood) in lines.iter().enumerate() {
                let left = all - counted(&stood.against);
                let mut without = items.clone();
                without.remove(at);
                for to in (0..items.len()).filter(|to| *to != at) {
                    let mut moved = without.clone();
                    moved.insert(to, stood.item.clone());
                    each(Step::Move { day, at, to }, moved, all);
                }
                each(Step::Drop { day, at }, without.clone(), left);
                let put = |item: &Item| {
                    let mut changed = without.clone();
                    changed.insert(at, item.clone());
                    changed
                };
                let item = stood.usual.clone();
                each(Step::Dose { day, at, item }, put(&stood.usual), left);
                for item in candidates.iter().filter(|item| is_new(item, Some(at))) {
                    let changed = put(item);
                    let item = item.clone();
                    each(Step::Swap { day, at, item }, changed, left);
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
                    each(Step::Add { day, at, item }, more, all);
                }
            }
        }
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
    let mut days = standing.days();
    let of = |days: &[Vec<Item>], against: usize| {
        let verdict = judged(setting, week, days, By::Everything);
        (cost(&verdict, days, against), verdict)
    };
    let (now, _) = of(&days, standing.against());
    let mut best: Option<(Cost, Step, Verdict)> = None;
    standing.each_step(pool, |step, items, against| {
        let Some(day) = days.get_mut(step.day()) else {
            return;
        };
        let own = std::mem::replace(day, items);
        let (cost, verdict) = of(&days, against);
        if let Some(day) = days.get_mut(step.day()) {
            *day = own;
        }
        if cost < now && best.as_ref().is_none_or(|(held, ..)| cost < *held) {
            best = Some((cost, step, verdict));
        }
    });
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
