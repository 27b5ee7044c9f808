//! The training days that a case names.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{CaseFieldId, Code, LayoutId, Weekday};

use super::case::CaseText;
use super::case_check::Value;
use super::case_read::Checking;

/// What the days of a case say: of each its own values.
type Days = BTreeMap<Weekday, BTreeMap<CaseFieldId, i64>>;

impl Checking<'_> {
    /// The days with their own values.
    pub(super) fn training_days(&mut self, text: &CaseText) -> Days {
        let mut all = Days::new();
        let mut last: Option<Weekday> = None;
        for (day, said) in &text.training_days {
            if let Some(last) = last.filter(|last| *last >= day.value) {
                self.problem(
                    Code::OutOfRange,
                    &day.place,
                    format!("`{day}` stands after `{last}`"),
                    "name the days in the order of the week, `monday` first",
                );
            }
            last = Some(day.value);
            let mut own = BTreeMap::new();
            for (id, value) in said {
                let by_day = self
                    .pack
                    .whole
                    .get(&id.value)
                    .is_some_and(|field| field.by_day);
                if self.is_field(id) && !by_day {
                    self.problem(
                        Code::Contradiction,
                        &id.place,
                        format!("`{id}` cannot be said of one day"),
                        "say it once under `fields`; only a whole field with `by-day: true` is said of a day",
                    );
                } else if let Some(Value::Number(number)) = self.field(id, value) {
                    own.insert(id.value.clone(), number);
                }
            }
            all.insert(day.value, own);
        }
        all
    }

    /// How many days are named is what the case says of the field that counts them.
    pub(super) fn count_of_days(
        &mut self,
        text: &CaseText,
        values: &mut BTreeMap<CaseFieldId, Value>,
        stated: &mut BTreeSet<CaseFieldId>,
    ) {
        let Some((first, _)) = text.training_days.first() else {
            return;
        };
        let Some((id, field)) = self.pack.counts_training_days() else {
            return;
        };
        let named = text.training_days.len();
        let number = i64::try_from(named).unwrap_or(i64::MAX);
        let days = if named == 1 { "day is" } else { "days are" };
        if let Some(said) = text.fields.get(&id.value) {
            // One that could not be read is told already.
            if let Some(Value::Number(said_number)) = values.get(&id.value)
                && *said_number != number
            {
                let what = format!(
                    "the case says {said_number} {}, and {named} training {days} named",
                    field.unit
                );
                let help = format!("name as many days, or take `{id}` out: the days say it");
                self.contradiction(
                    what,
                    help,
                    &said.place,
                    (&first.place, "the first day is named here"),
                );
            }
            return;
        }
        if !(field.from..=field.to).contains(&number) {
            let (from, to, unit) = (field.from, field.to, &field.unit);
            self.problem(
                Code::OutOfRange,
                &first.place,
                format!("{named} training {days} named, and `{id}` cannot be {number} {unit}"),
                format!("name {from} to {to} days"),
            );
            return;
        }
        values.insert(id.value.clone(), Value::Number(number));
        stated.insert(id.value.clone());
    }

    /// A layout that the case names has as many days as the case names.
    pub(super) fn days_of_layout(&mut self, text: &CaseText, layout: Option<&LayoutId>) {
        let (Some(said), Some(id), Some((first, _))) =
            (&text.layout, layout, text.training_days.first())
        else {
            return;
        };
        let has = self
            .pack
            .layouts
            .get(id)
            .map_or(0, |layout| layout.days.len());
        let named = text.training_days.len();
        if has != named {
            self.contradiction(
                format!("the layout `{id}` has {has} days, and {named} are named"),
                "name as many days, or take `layout` out and let the rules choose one",
                &said.place,
                (&first.place, "the first day is named here"),
            );
        }
    }
}
