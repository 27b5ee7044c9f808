//! What may be placed on each day, with its dose.

use crate::base::{At, ConstraintId, ExerciseId, PartId, RoleId, RuleId};
use crate::infer::{Asks, Placed, Setting};
use crate::rules::kinds::LeastLoad;
use crate::rules::vocab::{Gate, Help, Yields};

use super::dose::{Basis, Dosed, TwoDoses, dosed};
use super::load::{Best, Loads};
use super::slots::{Week, as_done};

/// An exercise in a role and part of a day, dosed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Item {
    pub(crate) day: usize,
    /// The part's place in the day.
    pub(crate) slot: usize,
    pub(crate) part: PartId,
    pub(crate) role: RoleId,
    pub(crate) exercise: usize,
    pub(crate) dosed: Dosed,
}

/// All candidates of a case.
pub(crate) struct Pool {
    /// By day; sorted by part, exercise, role.
    pub(crate) days: Vec<Vec<Item>>,
}

impl Item {
    /// The item as selectors see it.
    pub(crate) fn placed<'b>(&'b self, week: &'b Week<'_>) -> Placed<'b> {
        Placed {
            exercise: self.exercise,
            role: Some(&self.role),
            part: Some(&self.part),
            effort: week.days.get(self.day).map(|day| &day.layout.effort.value),
            percent: self.dosed.percent.map(|(_, high)| high),
        }
    }

    /// Repetitions in all.
    pub(crate) fn lifts(&self) -> i64 {
        self.dosed.sets * self.dosed.reps
    }

    /// Points that it gives to a quality, by the quality's index.
    pub(crate) fn trains(&self, setting: &Setting<'_>, week: &Week<'_>, quality: usize) -> i64 {
        let held = || {
            let exercise = setting.graph.exercises.get(self.exercise)?;
            let points = exercise.trains.get(quality).copied()?;
            let id = setting.graph.qualities.get(quality)?;
            let counts = setting.pack.qualities.get(id)?.counts_when.as_ref();
            let role = setting.pack.roles.get(&self.role)?;
            let counted =
                points > 0 && counts.is_none_or(|what| setting.matches(what, &self.placed(week)));
            Some(if counted {
                points * i64::from(role.trains_percent.value) / 100
            } else {
                0
            })
        };
        held().unwrap_or(0)
    }

    /// Stress points on a region, by the region's index.
    pub(crate) fn stress(&self, setting: &Setting<'_>, region: usize) -> i64 {
        let points = setting
            .graph
            .exercises
            .get(self.exercise)
            .and_then(|exercise| exercise.stress.get(region));
        let percent = setting
            .pack
            .roles
            .get(&self.role)
            .map_or(100, |role| i64::from(role.stress_percent.value));
        points.copied().unwrap_or(0) * percent / 100
    }

    /// Effect on a pair in focus, by its place in the focus, as placed.
    pub(crate) fn effect(&self, setting: &Setting<'_>, week: &Week<'_>, pair: usize) -> i64 {
        let Some(held) = setting.focus.get(pair) else {
            return 0;
        };
        let raw = if held.movement {
            setting
                .effects(self.exercise)
                .get(pair)
                .copied()
                .unwrap_or(0)
        } else {
            let served = setting
                .graph
                .causes
                .get(held.cause)
                .and_then(|id| setting.pack.capacity_causes.get(id));
            let points = served
                .into_iter()
                .flat_map(|cause| &cause.served_by)
                .filter_map(|id| setting.graph.qualities.find(id.as_str()))
                .map(|quality| self.trains(setting, week, quality))
                .max()
                .unwrap_or(0);
            (2 * points).min(6)
        };
        let half = setting
            .pack
            .roles
            .get(&self.role)
            .is_some_and(|role| role.help == Help::Half);
        if raw > 0 && half { raw / 2 } else { raw }
    }
}

/// Whether a role may be taken by an exercise.
pub(crate) fn gate_holds(setting: &Setting<'_>, gate: &Gate, exercise: usize) -> bool {
    let Some(held) = setting.graph.exercises.get(exercise) else {
        return false;
    };
    let in_focus = || setting.focus.iter().any(|pair| held.skills.has(pair.skill));
    let effects = || setting.movement_effects(exercise);
    (!gate.full_form || (setting.is_full_form(exercise) && !held.is_complex()))
        && (!gate.skill_in_focus || in_focus())
        && gate
            .best_effect_on_focus
            .is_none_or(|range| effects().max().is_some_and(|n| range.holds(n)))
        && gate
            .worst_effect_on_focus
            .is_none_or(|range| effects().min().is_some_and(|n| range.holds(n)))
}

/// Why an exercise may not stand somewhere.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Refusal {
    /// There is no such exercise, role or part of the day.
    Unknown,
    /// The case does not have what these ask for.
    Asks(Vec<Asked>),
    /// This hard rule rules it out, everywhere or there.
    Excluded(At<RuleId>),
    /// The exercise does not have the role.
    NotItsRole,
    /// The part does not take the role.
    NotInPart,
    /// The part does not take the exercise.
    NotForPart,
    /// The role's gate is shut for it.
    Gate,
    /// No dose rule speaks of it.
    NoDose,
    /// By this rule its load would be too light.
    TooLight(At<RuleId>),
    /// The lightest that can be made is more than can be done in it.
    TooHeavy,
}

/// Who asks the case for something in vain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Asked {
    Exercise(At<ExerciseId>),
    Constraint(At<ConstraintId>),
}

/// Where an exercise would stand, and in what role.
#[derive(Clone, Copy)]
pub(crate) struct Spot<'a> {
    pub(crate) day: usize,
    pub(crate) slot: usize,
    pub(crate) exercise: usize,
    pub(crate) role: &'a RoleId,
}

/// An item as it would stand there, or all that is against it: first what can be said before it is
/// dosed, and only where that is nothing, what its dose brings.
///
/// # Errors
///
/// [`TwoDoses`] where two dose rules are left.
pub(crate) fn place(
    setting: &Setting<'_>,
    week: &Week<'_>,
    loads: &Loads,
    spot: Spot<'_>,
) -> Result<Result<Item, Vec<Refusal>>, TwoDoses> {
    let against = against_bare(setting, week, spot);
    if !against.is_empty() {
        return Ok(Err(against));
    }
    let Some(item) = dosed_item(setting, week, loads, spot)? else {
        return Ok(Err(vec![Refusal::NoDose]));
    };
    let against = against_dosed(setting, week, loads, &item);
    Ok(if against.is_empty() {
        Ok(item)
    } else {
        Err(against)
    })
}

/// An item that would fit its part and role but that the case or hard rules refuse, with all that
/// refuses it; none where it is not refused, or could not stand there whatever the rules said.
pub(crate) fn refused(
    setting: &Setting<'_>,
    week: &Week<'_>,
    loads: &Loads,
    spot: Spot<'_>,
) -> Option<(Item, Vec<Refusal>)> {
    let by_rule = |why: &Refusal| matches!(why, Refusal::Asks(_) | Refusal::Excluded(_));
    let fits = against_bare(setting, week, spot).iter().all(by_rule);
    anyhow(setting, week, loads, spot).filter(|(_, against)| fits && !against.is_empty())
}

/// An item whatever is against it, with all that is; none where it has no dose.
pub(super) fn anyhow(
    setting: &Setting<'_>,
    week: &Week<'_>,
    loads: &Loads,
    spot: Spot<'_>,
) -> Option<(Item, Vec<Refusal>)> {
    let mut against = against_bare(setting, week, spot);
    let item = dosed_item(setting, week, loads, spot).ok().flatten()?;
    against.extend(against_dosed(setting, week, loads, &item));
    Some((item, against))
}

/// What is against an exercise in a role and part whatever its dose is.
fn against_bare(setting: &Setting<'_>, week: &Week<'_>, spot: Spot<'_>) -> Vec<Refusal> {
    let Spot { exercise, role, .. } = spot;
    let Some((part, bare)) = bare(week, spot) else {
        return vec![Refusal::Unknown];
    };
    let (Some(part_held), Some(role_held), Some(listed)) = (
        setting.pack.parts.get(part),
        setting.pack.roles.get(role),
        setting.graph.exercises.get(exercise),
    ) else {
        return vec![Refusal::Unknown];
    };
    let mut against = Vec::new();
    if setting.allowed.get(exercise) != Some(&true) {
        against.extend(ruled_out(setting, exercise));
    }
    if listed.roles.binary_search(role).is_err() {
        against.push(Refusal::NotItsRole);
    }
    if !part_held.roles.iter().any(|id| id.value == *role) {
        against.push(Refusal::NotInPart);
    }
    let of_part = part_held.what.as_ref();
    if !of_part.is_none_or(|what| setting.matches(what, &bare)) {
        against.push(Refusal::NotForPart);
    }
    if !gate_holds(setting, &role_held.gate, exercise) {
        against.push(Refusal::Gate);
    }
    against
}

/// The part of the day, and the exercise in it as selectors see it before it is dosed.
fn bare<'a>(week: &'a Week<'_>, spot: Spot<'a>) -> Option<(&'a PartId, Placed<'a>)> {
    let held = week.days.get(spot.day)?;
    let part = &held.layout.parts.get(spot.slot)?.part.value;
    let bare = Placed {
        exercise: spot.exercise,
        role: Some(spot.role),
        part: Some(part),
        effort: Some(&held.layout.effort.value),
        percent: None,
    };
    Some((part, bare))
}

fn dosed_item(
    setting: &Setting<'_>,
    week: &Week<'_>,
    loads: &Loads,
    spot: Spot<'_>,
) -> Result<Option<Item>, TwoDoses> {
    let Some((part, bare)) = bare(week, spot) else {
        return Ok(None);
    };
    let dosed = dosed(setting, loads, &bare, (week, spot.day))?;
    Ok(dosed.map(|dosed| Item {
        day: spot.day,
        slot: spot.slot,
        part: part.clone(),
        role: spot.role.clone(),
        exercise: spot.exercise,
        dosed,
    }))
}

/// What is against an item because of the load that its dose brings.
fn against_dosed(
    setting: &Setting<'_>,
    week: &Week<'_>,
    loads: &Loads,
    item: &Item,
) -> Vec<Refusal> {
    let placed = item.placed(week);
    let out = setting
        .speaking(&setting.rules().exclude)
        .filter(|(_, rule)| {
            rule.yields == Yields::Never
                && week.on(&rule.on, item.day)
                && setting.matches(&rule.what, &placed)
        });
    let mut against: Vec<Refusal> = out.map(|(id, _)| Refusal::Excluded(id.clone())).collect();
    let ruling_out = too_light(setting, week, loads, item).into_iter();
    let ruling_out = ruling_out.filter(|(_, rule)| rule.say.is_none());
    against.extend(ruling_out.map(|(id, _)| Refusal::TooLight(id.clone())));
    against.extend(too_heavy(setting, item).then_some(Refusal::TooHeavy));
    against
}

/// Why an exercise that is not allowed is not.
fn ruled_out(setting: &Setting<'_>, exercise: usize) -> Vec<Refusal> {
    let asked: Vec<Asked> = setting
        .asks_in_vain(exercise)
        .into_iter()
        .map(|asks| match asks {
            Asks::Exercise(id) => Asked::Exercise(id.clone()),
            Asks::Constraint(id) => Asked::Constraint(id.clone()),
        })
        .collect();
    let asks = (!asked.is_empty()).then_some(Refusal::Asks(asked));
    let rule = setting.ruled_out_by(exercise);
    let out = rule.map(|(id, _)| Refusal::Excluded(id.clone()));
    asks.into_iter().chain(out).collect()
}

/// Whether the lightest that can be made is more than can be done in it.
fn too_heavy(setting: &Setting<'_>, item: &Item) -> bool {
    let exercise = setting.graph.exercises.get(item.exercise);
    let (Some(exercise), Some((low, _))) = (exercise, item.dosed.percent) else {
        return false;
    };
    item.dosed.percent != item.dosed.asked && low > Basis::of(setting, exercise).highest
}

/// The `least-load` rules that an item is too light for, those that rule it out and those that only say something.
pub(crate) fn too_light<'s>(
    setting: &'s Setting<'_>,
    week: &Week<'_>,
    loads: &Loads,
    item: &Item,
) -> Vec<(&'s At<RuleId>, &'s LeastLoad)> {
    let best = setting
        .graph
        .exercises
        .get(item.exercise)
        .and_then(|exercise| Basis::of(setting, exercise).reference)
        .and_then(|id| Best::of(setting, &id));
    let (Some(asked), Some(best)) = (item.dosed.asked, best) else {
        return Vec::new();
    };
    let ends = loads.ends(&best, asked);
    let load = ends.low.thousandths;
    let least = |rule: &LeastLoad| {
        let full = rule
            .lightest_full_diameter
            .then(|| ends.on.lightest_full_diameter())
            .flatten();
        full.max(
            rule.at_least
                .as_ref()
                .map(|least| least.value.thousandths()),
        )
    };
    setting
        .speaking(&setting.rules().least_load)
        .filter(|(_, rule)| setting.matches(&rule.what, &item.placed(week)))
        .filter(|(_, rule)| least(rule).is_some_and(|least| load < least))
        .collect()
}

impl Pool {
    /// All that may be placed.
    ///
    /// # Errors
    ///
    /// [`TwoDoses`] where two dose rules are left for an item.
    pub(crate) fn of(
        setting: &Setting<'_>,
        week: &Week<'_>,
        loads: &Loads,
    ) -> Result<Self, TwoDoses> {
        let mut days = Vec::new();
        for (day, held) in week.days.iter().enumerate() {
            let mut items = Vec::new();
            let weekday = held.layout.day.value;
            for (slot, of_day) in held.layout.parts.iter().enumerate() {
                let Some(part) = setting.pack.parts.get(&of_day.part.value) else {
                    continue;
                };
                let takes = |role: &&RoleId| part.roles.iter().any(|id| id.value == **role);
                // What the case rules out everywhere is left out before anything is asked of it.
                let exercises = setting.graph.exercises.iter().enumerate();
                let allowed = exercises.filter(|(at, _)| setting.allowed.get(*at) == Some(&true));
                for (exercise, listed) in allowed {
                    for role in listed.roles.iter().filter(takes) {
                        if !as_done(&setting.case.so_far, weekday, slot, &listed.id, role) {
                            continue;
                        }
                        let spot = Spot {
                            day,
                            slot,
                            exercise,
                            role,
                        };
                        items.extend(place(setting, week, loads, spot)?);
                    }
                }
            }
            days.push(items);
        }
        Ok(Self { days })
    }
}
