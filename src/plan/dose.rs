//! Sets, repetitions, percents and time of an item.

use std::collections::BTreeMap;

use crate::base::{At, Decimal, DoseId, ReferenceId, RuleId};
use crate::graph::Exercise;
use crate::infer::{Placed, Setting};
use crate::rules::kinds::{Ramp, RampStep, Timing};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Dose, Effort, Span};

use super::hand::ByHand;
use super::item::Item;
use super::load::{Best, Load, Loads};
use super::slots::Week;

/// What an exercise's loads are a percent of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Basis {
    pub(crate) reference: Option<ReferenceId>,
    /// The most that can be done in this very exercise, in percent of the reference.
    pub(crate) highest: i64,
    /// Whether that is an estimate.
    pub(crate) estimate: bool,
}

/// How an item is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Dosed {
    pub(crate) dose: DoseId,
    pub(crate) rule: RuleId,
    pub(crate) sets: i64,
    /// Repetitions of one set; of a complex, one round.
    pub(crate) reps: i64,
    /// Low and high end in percent of the reference, where a load is named: what is asked, or what comes
    /// of it where the bar or the gym's pieces do not allow that.
    pub(crate) percent: Option<(i64, i64)>,
    /// The percent that is asked, from which loads are made.
    pub(crate) asked: Option<(i64, i64)>,
    /// Caps that moved the load down.
    pub(crate) caps: Vec<RuleId>,
    /// Rules that took sets away.
    pub(crate) trims: Vec<RuleId>,
    /// Rules that moved the load by steps.
    pub(crate) steps: Vec<RuleId>,
    pub(crate) rest_seconds: i64,
    /// All its time: ramp, sets, rests, changeover.
    pub(crate) seconds: i64,
}

/// Two dose rules that match the same item, neither instead of the other.
#[derive(Debug, Clone)]
pub(crate) struct TwoDoses {
    pub(crate) one: At<RuleId>,
    pub(crate) other: At<RuleId>,
    pub(crate) exercise: usize,
}

fn within(span: Span, percent: i64) -> i64 {
    let (from, to) = (i64::from(span.from), i64::from(span.to));
    from + (to - from) * percent / 100
}

impl Basis {
    /// The basis of an exercise: its own, or its weakest component's.
    pub(crate) fn of(setting: &Setting<'_>, exercise: &Exercise) -> Self {
        Self::with_bests(setting.pack, &setting.case.bests, exercise)
    }

    /// The same by the bests that are known, of no case.
    pub(crate) fn with_bests(
        pack: &Pack,
        bests: &BTreeMap<ReferenceId, Decimal>,
        exercise: &Exercise,
    ) -> Self {
        let less = pack
            .complexes
            .get(&exercise.id)
            .map_or(0, |complex| i64::from(complex.percent_less));
        let bests: Option<Vec<Decimal>> = exercise
            .pieces
            .iter()
            .map(|piece| {
                let reference = piece.body.reference.as_ref();
                reference.and_then(|id| bests.get(id)).copied()
            })
            .collect();
        let weakest = exercise
            .pieces
            .iter()
            .enumerate()
            .min_by_key(|(at, piece)| {
                let best = bests
                    .as_ref()
                    .and_then(|bests| bests.get(*at))
                    .map_or(1, |best| best.thousandths());
                (i128::from(best) * i128::from(piece.body.highest), *at)
            });
        weakest.map_or(
            Self {
                reference: None,
                highest: 100,
                estimate: true,
            },
            |(_, piece)| Self {
                reference: piece.body.reference.clone(),
                highest: (piece.body.highest - less).max(1),
                estimate: piece.body.estimate || exercise.is_complex(),
            },
        )
    }
}

/// The dose of an item, or none where no dose rule speaks for it.
///
/// # Errors
///
/// [`TwoDoses`] where the pack leaves the choice open.
pub(crate) fn dosed(
    setting: &Setting<'_>,
    loads: &Loads,
    placed: &Placed<'_>,
    (week, day): (&Week<'_>, usize),
) -> Result<Option<Dosed>, TwoDoses> {
    let Some(held) = week.days.get(day) else {
        return Ok(None);
    };
    let Some(exercise) = setting.graph.exercises.get(placed.exercise) else {
        return Ok(None);
    };
    let rules = setting.rules();
    let matching: Vec<_> = setting
        .speaking(&rules.dose)
        .filter(|(_, rule)| setting.matches(&rule.what, placed))
        .collect();
    let left: Vec<_> = matching
        .iter()
        .filter(|(id, _)| {
            !matching
                .iter()
                .any(|(other, rule)| other != id && rule.instead_of.contains(id))
        })
        .collect();
    let (id, rule) = match left.as_slice() {
        [] => return Ok(None),
        [only] => *only,
        [one, other, ..] => {
            return Err(TwoDoses {
                one: one.0.clone(),
                other: other.0.clone(),
                exercise: placed.exercise,
            });
        }
    };
    let Some(dose) = setting.pack.doses.get(&rule.give.value) else {
        return Ok(None);
    };
    let given = Given {
        rule: id,
        id: &rule.give.value,
        dose,
    };
    let around = Around {
        effort: held.effort,
        week,
        day,
    };
    Ok(Some(fill(setting, loads, placed, around, exercise, given)))
}

/// Seconds of a day's warm-up.
pub(crate) fn warm_up(setting: &Setting<'_>, week: &Week<'_>, day: usize) -> i64 {
    around_sets(setting, week, day, |rule| rule.warm_up_seconds.value)
}

/// The most of some time around the sets that a rule about a day gives; nought where none does.
fn around_sets(
    setting: &Setting<'_>,
    week: &Week<'_>,
    day: usize,
    of: impl Fn(&Timing) -> u16,
) -> i64 {
    setting
        .speaking(&setting.rules().timing)
        .filter(|(_, rule)| week.on(&rule.on, day))
        .map(|(_, rule)| i64::from(of(rule)))
        .max()
        .unwrap_or(0)
}

/// The day on which something is dosed.
#[derive(Clone, Copy)]
struct Around<'a> {
    effort: &'a Effort,
    week: &'a Week<'a>,
    day: usize,
}

/// A dose, and the rule that gives it.
struct Given<'a> {
    rule: &'a RuleId,
    id: &'a DoseId,
    dose: &'a Dose,
}

fn fill(
    setting: &Setting<'_>,
    loads: &Loads,
    placed: &Placed<'_>,
    Around { effort, week, day }: Around<'_>,
    exercise: &Exercise,
    Given { rule, id, dose }: Given<'_>,
) -> Dosed {
    let rules = setting.rules();
    let mut sets = within(dose.sets.value, i64::from(effort.sets_at_percent.value));
    let (mut fewer, mut least) = (0i64, 1i64);
    let mut trims = Vec::new();
    for (id, trim) in setting
        .speaking(&rules.trim)
        .filter(|(_, trim)| week.on(&trim.on, day) && setting.matches(&trim.what, placed))
    {
        trims.push(id.value.clone());
        fewer += i64::from(trim.sets_fewer.value);
        least = least.max(i64::from(trim.sets_at_least.value));
    }
    if fewer > 0 {
        sets = (sets - fewer).max(least.min(sets));
    }
    let reps = if exercise.is_complex() {
        exercise.round()
    } else {
        within(dose.reps.value, i64::from(effort.reps_at_percent.value))
    };
    let basis = Basis::of(setting, exercise);
    let (mut step, mut steps) = (0i64, Vec::new());
    for (id, rule) in setting
        .speaking(&rules.load_step)
        .filter(|(_, rule)| week.on(&rule.on, day) && setting.matches(&rule.what, placed))
    {
        steps.push(id.value.clone());
        step += rule.points.value;
    }
    let mut caps = Vec::new();
    let asked = dose
        .percent_of_reference
        .as_ref()
        .filter(|_| basis.reference.is_some())
        .map(|span| {
            let stepped =
                |percent: &At<u8>| (within(span.value, percent.value.into()) + step).max(1);
            let low = stepped(&effort.load_from_percent);
            let high = stepped(&effort.load_to_percent);
            capped(setting, placed, &basis, low, high, &mut caps)
        });
    let best = basis
        .reference
        .as_ref()
        .and_then(|id| Best::of(setting, id));
    let (asked, percent) = match (asked, &best) {
        (Some(asked), Some(best)) => {
            let made = made(loads, best, asked);
            (Some(made.asked), Some(made.percent))
        }
        _ => (asked, asked),
    };
    let rest_seconds = within(
        dose.rest_seconds.value,
        i64::from(effort.load_to_percent.value),
    );
    let placed = Placed {
        percent: percent.map(|(_, high)| high),
        ..*placed
    };
    let changeover = around_sets(setting, week, day, |rule| rule.changeover_seconds.value);
    let seconds =
        ramp(setting, &placed) + sets * (i64::from(dose.set_seconds) + rest_seconds) + changeover;
    Dosed {
        dose: id.clone(),
        rule: rule.clone(),
        sets,
        reps,
        percent,
        asked,
        caps,
        trims,
        steps: if asked.is_some() { steps } else { Vec::new() },
        rest_seconds,
        seconds,
    }
}

/// An item's dose as somebody wrote it, its time worked out anew; where the line says no load, as the rules give it.
pub(super) fn redone(
    setting: &Setting<'_>,
    week: &Week<'_>,
    usual: &Item,
    written: ByHand,
) -> Dosed {
    let given = &usual.dosed;
    let percent = given.percent.map(|own| written.percent.unwrap_or(own));
    let placed = Placed {
        percent: percent.map(|(_, high)| high),
        ..usual.placed(week)
    };
    let per_set = setting
        .pack
        .doses
        .get(&given.dose)
        .map_or(0, |dose| i64::from(dose.set_seconds))
        + given.rest_seconds;
    let changeover = around_sets(setting, week, usual.day, |rule| {
        rule.changeover_seconds.value
    });
    Dosed {
        sets: written.sets,
        reps: written.reps,
        percent,
        asked: percent,
        caps: Vec::new(),
        trims: Vec::new(),
        steps: Vec::new(),
        seconds: ramp(setting, &placed) + written.sets * per_set + changeover,
        ..given.clone()
    }
}

/// A load that is rounded down by more points of percent than this is called what it is.
const ROUNDED_DOWN_AT_MOST: i64 = 5;

/// A percent that is asked, as far as it can be made.
struct Made {
    asked: (i64, i64),
    percent: (i64, i64),
}

/// What comes of a percent that is asked: the same, but for a bar that alone is heavier and for pieces that do not go
/// that far; where only the high end can be made nearly, that alone is asked.
fn made(loads: &Loads, best: &Best, (low, high): (i64, i64)) -> Made {
    let ends = loads.ends(best, (low, high));
    let percent = |load: &Load| (load.thousandths * 100 / best.thousandths.max(1)).max(1);
    let (made_low, made_high) = (percent(&ends.low), percent(&ends.high));
    if !(high - ROUNDED_DOWN_AT_MOST..=high).contains(&made_high) {
        return Made {
            asked: (low, high),
            percent: (made_low, made_high),
        };
    }
    if made_low + ROUNDED_DOWN_AT_MOST < low {
        return made(loads, best, (high, high));
    }
    Made {
        asked: (low, high),
        percent: (low.max(made_low), high),
    }
}

fn capped(
    setting: &Setting<'_>,
    placed: &Placed<'_>,
    basis: &Basis,
    low: i64,
    high: i64,
    caps: &mut Vec<RuleId>,
) -> (i64, i64) {
    let mut least = high;
    for (id, cap) in setting
        .speaking(&setting.rules().cap)
        .filter(|(_, cap)| setting.matches(&cap.what, placed))
    {
        let of_reference = cap
            .percent_of_reference_at_most
            .as_ref()
            .map(|percent| i64::from(percent.value));
        let of_own = cap
            .percent_of_own_highest_at_most
            .as_ref()
            .map(|percent| basis.highest * i64::from(percent.value) / 100);
        let Some(bound) = of_reference.into_iter().chain(of_own).min() else {
            continue;
        };
        if bound < high {
            caps.push(id.value.clone());
        }
        least = least.min(bound);
    }
    let excess = high - least;
    ((low - excess).max(1), (high - excess).max(1))
}

fn ramp(setting: &Setting<'_>, placed: &Placed<'_>) -> i64 {
    ramp_step(setting, placed).map_or(0, |(_, step)| i64::from(step.seconds))
}

/// The `ramp` rule that says how an item is worked up to, and its step for the item's load: the shortest,
/// the first by id of those; none where no rule speaks of it.
pub(crate) fn ramp_step<'s>(
    setting: &'s Setting<'_>,
    placed: &Placed<'_>,
) -> Option<(&'s Ramp, &'s RampStep)> {
    setting
        .speaking(&setting.rules().ramp)
        .filter(|(_, ramp)| setting.matches(&ramp.what, placed))
        .filter_map(|(_, ramp)| {
            let reached = ramp.steps.iter().rev().find(|step| {
                placed
                    .percent
                    .is_some_and(|percent| i64::from(step.from_percent) <= percent)
            });
            let step = reached.or(ramp.steps.first())?;
            Some((ramp, &step.value))
        })
        .min_by_key(|(_, step)| step.seconds)
}
