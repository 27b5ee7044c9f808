//! Weeks thrown together, and weeks made from a solved one by a few changes.

use crate::plan::Item;
use crate::plan::model::{DayModel, Model};

use super::make::random::Random;

fn up_to(random: &mut Random, most: usize) -> usize {
    usize::try_from(random.between(0, i64::try_from(most).unwrap())).unwrap()
}

/// Any items of every day, mostly within what the parts take.
pub(super) fn thrown_together(model: &Model, random: &mut Random) -> Vec<Vec<usize>> {
    let of_day = |day: &DayModel| {
        let mut set = Vec::new();
        for slot in &day.slots {
            if slot.candidates.is_empty() {
                continue;
            }
            let most = slot.at_most + usize::from(random.percent(4));
            for _ in 0..up_to(random, most) {
                let at = *random.one(&slot.candidates);
                if !set.contains(&at) && (fresh(day, &set, at) || random.percent(4)) {
                    set.push(at);
                }
            }
        }
        set
    };
    model.days.iter().map(of_day).collect()
}

/// Whether the session does not have the exercise yet.
fn fresh(day: &DayModel, set: &[usize], at: usize) -> bool {
    let exercise = day.candidates[at].exercise;
    set.iter()
        .all(|other| day.candidates[*other].exercise != exercise)
}

/// One to three changes: an item dropped, added, swapped for another of its part, or moved to
/// another day or part.
pub(super) fn changed(start: &[Vec<usize>], model: &Model, random: &mut Random) -> Vec<Vec<usize>> {
    let mut week = start.to_vec();
    for _ in 0..random.between(1, 3) {
        let day = up_to(random, week.len() - 1);
        let held = &model.days[day];
        let kind = random.between(0, 3);
        if kind == 0 || kind == 2 {
            drop_one(&mut week[day], random);
        }
        if kind == 1 || kind == 2 {
            let slots: Vec<&Vec<usize>> = held
                .slots
                .iter()
                .map(|slot| &slot.candidates)
                .filter(|candidates| !candidates.is_empty())
                .collect();
            if !slots.is_empty() {
                let slot = *random.one(&slots);
                let at = *random.one(slot);
                if !week[day].contains(&at) && (fresh(held, &week[day], at) || random.percent(10)) {
                    week[day].push(at);
                }
            }
        }
        if kind == 3 {
            move_one(&mut week, day, model, random);
        }
    }
    week
}

fn drop_one(set: &mut Vec<usize>, random: &mut Random) -> Option<usize> {
    (!set.is_empty()).then(|| {
        let at = up_to(random, set.len() - 1);
        set.remove(at)
    })
}

/// Takes an item off one day and puts the same exercise, in whatever role and part, on another or the same.
fn move_one(week: &mut [Vec<usize>], day: usize, model: &Model, random: &mut Random) {
    let Some(at) = drop_one(&mut week[day], random) else {
        return;
    };
    let exercise = model.days[day].candidates[at].exercise;
    let to = up_to(random, week.len() - 1);
    let same: Vec<usize> = model.days[to]
        .candidates
        .iter()
        .enumerate()
        .filter(|(_, candidate)| candidate.exercise == exercise)
        .map(|(at, _)| at)
        .collect();
    if !same.is_empty() {
        let at = *random.one(&same);
        if !week[to].contains(&at) {
            week[to].push(at);
        }
    }
}

/// The items of a day in the order of its parts, inside a part in any order.
pub(super) fn within_parts(set: &[usize], pool: &[Item], random: &mut Random) -> Vec<usize> {
    let mut keyed: Vec<(usize, i64, usize)> = set
        .iter()
        .map(|at| (pool[*at].slot, random.between(0, 1_000_000), *at))
        .collect();
    keyed.sort_unstable();
    keyed.into_iter().map(|(_, _, at)| at).collect()
}
