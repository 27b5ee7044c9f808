//! The days of the case's layout, with the filters that rules lay over them.

use std::collections::BTreeMap;
use std::ops::Deref;

use crate::base::{At, CaseFieldId, ExerciseId, LayoutId, Place, RoleId, Weekday};
use crate::infer::Setting;
use crate::rules::case_check::{DoneItem, SoFar, Value};
use crate::rules::vocab::{DayFilter, Effort, Layout, LayoutDay, Range, Yields};

/// A day of a layout.
pub(crate) enum Laid<'a> {
    /// As the layout has it.
    AsStated(&'a LayoutDay),
    /// On the day that the case names, or of a day that is done with just the room for what was done.
    Changed(LayoutDay),
}

impl Deref for Laid<'_> {
    type Target = LayoutDay;

    fn deref(&self) -> &LayoutDay {
        match self {
            Self::AsStated(day) => day,
            Self::Changed(day) => day,
        }
    }
}

/// One training day.
pub(crate) struct Day<'a> {
    pub(crate) layout: Laid<'a>,
    pub(crate) effort: &'a Effort,
    /// The day of the week, where the case names it.
    pub(crate) named: Option<Weekday>,
    /// Values of the fields that days may say: the day's own, else the case's.
    numbers: BTreeMap<&'a CaseFieldId, i64>,
}

impl Day<'_> {
    /// The day's value of a field that days may say; none of any other field.
    pub(crate) fn number(&self, field: &CaseFieldId) -> Option<i64> {
        self.numbers.get(field).copied()
    }
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
    /// It has another number of days than the case names.
    OtherDays {
        id: LayoutId,
        place: Place,
        has: usize,
        named: usize,
    },
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
        let named = setting.case.days.len();
        if named > 0 && named != layout.days.len() {
            return Err(NoLayout::OtherDays {
                id: id.value.clone(),
                place: id.place.clone(),
                has: layout.days.len(),
                named,
            });
        }
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
            && filter.case_of_day.iter().all(|(field, test)| {
                let range = Range {
                    at_least: test.at_least,
                    at_most: test.at_most,
                };
                held.number(field).is_some_and(|number| range.holds(number))
            })
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
    let mut named = setting.case.days.keys().copied();
    layout
        .days
        .iter()
        .filter_map(|day| {
            // Every day takes its name, those too that are left out.
            let named = named.next();
            let number = named.map_or(day.day.value, Weekday::number);
            if so_far.missed.contains(&number) {
                return None;
            }
            let effort = setting.pack.efforts.get(&day.effort.value)?;
            let mut layout = Laid::AsStated(&day.value);
            if named.is_some() {
                let mut moved = day.value.clone();
                moved.day.value = number;
                layout = Laid::Changed(moved);
            }
            if let Some(done) = so_far.done.get(&number) {
                layout = Laid::Changed(filled(&layout, done));
            }
            Some(Day {
                layout,
                effort,
                named,
                numbers: numbers(setting, named),
            })
        })
        .collect()
}

/// A day's values of the fields that days may say.
fn numbers<'a>(setting: &Setting<'a>, day: Option<Weekday>) -> BTreeMap<&'a CaseFieldId, i64> {
    let own = day.and_then(|day| setting.case.days.get(&day));
    let by_day = setting.pack.whole.iter().filter(|(_, field)| field.by_day);
    by_day
        .filter_map(|(id, _)| {
            let own = own.and_then(|own| own.get(&id.value)).copied();
            let number = own.or_else(|| match setting.case.fields.get(&id.value) {
                Some(Value::Number(number)) => Some(*number),
                _ => None,
            });
            Some((&id.value, number?))
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
