//! The days of the case's layout, with the filters that rules lay over them.

use std::ops::Deref;

use crate::base::{At, ExerciseId, LayoutId, Place, RoleId};
use crate::infer::Setting;
use crate::rules::case_check::{DoneItem, SoFar};
use crate::rules::vocab::{DayFilter, Effort, Layout, LayoutDay, Yields};

/// A day of a layout.
pub(crate) enum Laid<'a> {
    /// As the layout has it.
    AsStated(&'a LayoutDay),
    /// Of a day that is done: with just the room for what was done.
    Filled(LayoutDay),
}

impl Deref for Laid<'_> {
    type Target = LayoutDay;

    fn deref(&self) -> &LayoutDay {
        match self {
            Self::AsStated(day) => day,
            Self::Filled(day) => day,
        }
    }
}

/// One training day.
pub(crate) struct Day<'a> {
    pub(crate) layout: Laid<'a>,
    pub(crate) effort: &'a Effort,
}

/// The training days of a week in order.
pub(crate) struct Week<'a> {
    pub(crate) id: &'a At<LayoutId>,
    pub(crate) days: Vec<Day<'a>>,
}

/// Why no layout was found.
#[derive(Debug, Clone)]
pub(crate) enum NoLayout {
    /// None fits the case.
    None,
    /// Several fit: their ids and places.
    Several(Vec<(LayoutId, Place)>),
}

impl<'a> Week<'a> {
    /// The layout that the case names, or the only one whose condition holds.
    pub(crate) fn of(setting: &Setting<'a>) -> Result<Self, NoLayout> {
        let layouts = &setting.pack.layouts;
        let (id, layout) = match &setting.case.layout {
            Some(named) => layouts.get_key_value(named).ok_or(NoLayout::None)?,
            None => {
                let fits: Vec<_> = layouts
                    .iter()
                    .filter(|(_, layout)| setting.holds(&layout.when) == Some(true))
                    .collect();
                match fits.as_slice() {
                    [] => return Err(NoLayout::None),
                    [only] => *only,
                    _ => {
                        return Err(NoLayout::Several(
                            fits.iter()
                                .map(|(id, _)| (id.value.clone(), id.place.clone()))
                                .collect(),
                        ));
                    }
                }
            }
        };
        Ok(Self {
            id,
            days: days(setting, layout),
        })
    }

    /// Whether a filter takes in a day.
    pub(crate) fn on(&self, filter: &DayFilter, day: usize) -> bool {
        let Some(held) = self.days.get(day) else {
            return false;
        };
        let effort = |held: &Day<'_>, wanted: &[At<crate::base::EffortId>]| {
            wanted.iter().any(|id| id.value == held.layout.effort.value)
        };
        let marked = |wanted: &[At<crate::base::MarkId>]| {
            wanted.iter().any(|mark| held.layout.marks.contains(mark))
        };
        let tomorrow = held.layout.day.value % 7 + 1;
        (filter.efforts.is_empty() || effort(held, &filter.efforts))
            && (filter.marks.is_empty() || marked(&filter.marks))
            && !marked(&filter.without_marks)
            && (filter.eve_of.is_empty()
                || self
                    .days
                    .iter()
                    .any(|next| next.layout.day.value == tomorrow && effort(next, &filter.eve_of)))
    }

    /// Free calendar days between two days of the week, and the other way round over the week's end.
    pub(crate) fn free_between(&self, one: usize, other: usize) -> (i64, i64) {
        let at = |day: usize| {
            self.days
                .get(day)
                .map_or(0, |held| i64::from(held.layout.day.value))
        };
        let apart = (at(one) - at(other)).abs();
        (apart - 1, 7 - apart - 1)
    }
}

fn days<'a>(setting: &Setting<'a>, layout: &'a Layout) -> Vec<Day<'a>> {
    let so_far = &setting.case.so_far;
    layout
        .days
        .iter()
        .filter(|day| !so_far.missed.contains(&day.day.value))
        .filter_map(|day| {
            let effort = setting.pack.efforts.get(&day.effort.value)?;
            let layout = match so_far.done.get(&day.day.value) {
                Some(done) => Laid::Filled(filled(&day.value, done)),
                None => Laid::AsStated(&day.value),
            };
            Some(Day { layout, effort })
        })
        .collect()
}

/// A day with just the room for what was done on it.
fn filled(day: &LayoutDay, done: &[DoneItem]) -> LayoutDay {
    let mut day = day.clone();
    for (at, slot) in day.parts.iter_mut().enumerate() {
        let held = done.iter().filter(|item| item.slot == at).count();
        let held = u8::try_from(held).unwrap_or(u8::MAX);
        slot.value.at_least = held;
        slot.value.at_most.value = held;
        slot.value.yields = Yields::Never;
    }
    day
}

/// Whether what would stand there is what was done there; true of days that are not done.
pub(crate) fn as_done(
    so_far: &SoFar,
    day: u8,
    slot: usize,
    exercise: &ExerciseId,
    role: &RoleId,
) -> bool {
    so_far.done.get(&day).is_none_or(|done| {
        done.iter()
            .any(|item| item.slot == slot && item.role == *role && item.exercise == *exercise)
    })
}
