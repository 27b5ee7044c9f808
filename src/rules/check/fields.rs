//! Case fields and the factors that read them.

use crate::base::{At, CaseFieldId, Code, Place};

use super::Checks;
use super::conditions::{FieldSort, sort_of};
use super::sections::Sort;

/// Whole fields hold numbers of a size that can be reckoned with.
const MOST: i64 = 1_000_000;

/// The largest percent of a factor; products of eight of them still fit.
const MOST_PERCENT: i64 = 1_000;

/// Checks case fields and factors.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for (id, field) in &pack.one_of {
        checks.some(
            Sort::CaseField,
            id.as_str(),
            &["values"],
            field.values.len(),
            "value",
        );
        if let Some(value) = &field.if_missing {
            checks.value(id.as_str(), &field.values, value);
        }
    }
    for (id, field) in &pack.some_of {
        checks.some(
            Sort::CaseField,
            id.as_str(),
            &["values"],
            field.values.len(),
            "value",
        );
        for value in field.if_missing.iter().flatten() {
            checks.value(id.as_str(), &field.values, value);
        }
    }
    for (id, field) in &pack.whole {
        let is_range = checks.ends(Sort::CaseField, id.as_str(), field.from, field.to);
        if let Some(number) = field.if_missing.as_ref().filter(|_| is_range) {
            checks.at(number, "if-missing", field.from, field.to);
        }
    }
    of_days(checks);
    for (id, factor) in &pack.factors_by_phase {
        checks.some(
            Sort::Factor,
            id.as_str(),
            &["percents"],
            factor.percents.len(),
            "phase with its percent",
        );
        for (phase, percent) in &factor.percents {
            checks.of(
                Sort::Factor,
                id.as_str(),
                &["percents", phase.as_str()],
                (*percent).into(),
                0,
                MOST_PERCENT,
            );
        }
    }
    for (id, factor) in &pack.factors_by_choice {
        checks.some(
            Sort::Factor,
            id.as_str(),
            &["percents"],
            factor.percents.len(),
            "value with its percent",
        );
        for (value, percent) in &factor.percents {
            checks.of(
                Sort::Factor,
                id.as_str(),
                &["percents", value.as_str()],
                (*percent).into(),
                0,
                MOST_PERCENT,
            );
        }
        checks.field_is(&factor.field, FieldSort::OneOf, "a factor by choice");
        if let Some(field) = pack.one_of.get(&factor.field.value) {
            for value in factor.percents.keys() {
                checks.value(factor.field.as_str(), &field.values, value);
            }
        }
    }
    for (id, factor) in &pack.factors_by_number {
        checks.some(
            Sort::Factor,
            id.as_str(),
            &["steps"],
            factor.steps.len(),
            "step",
        );
        checks.field_is(&factor.field, FieldSort::Whole, "a factor by number");
        let mut last: Option<i64> = None;
        for (at, step) in factor.steps.iter().enumerate() {
            let place = checks.nth(Sort::Factor, id.as_str(), "steps", at);
            checks.number(&place, "percent", step.percent.into(), 0, MOST_PERCENT);
            if let Some(last) = last.filter(|last| *last >= step.from) {
                let what = format!("`from` is {} after {last}", step.from);
                checks.problem(
                    Code::OutOfRange,
                    place,
                    what,
                    "let `from` rise from step to step",
                );
            }
            last = Some(step.from);
        }
    }
}

/// What fields say of days: one of them counts, and a day's value is always known.
fn of_days(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    let mut first: Option<&At<CaseFieldId>> = None;
    for (id, field) in &pack.whole {
        let key = |key| checks.key_place(Sort::CaseField, id.as_str(), key);
        let (counts, by_day) = (key("counts-training-days"), key("by-day"));
        if field.counts_training_days {
            if let Some(first) = first {
                let what =
                    format!("`{first}` counts the days that are trained, and `{id}` does too");
                let help = "let one field count them";
                checks.problem(Code::Contradiction, counts.clone(), what, help);
            } else {
                first = Some(id);
            }
        }
        if field.by_day && field.counts_training_days {
            let what =
                format!("`{id}` counts the days that are trained, so no single day can say it");
            checks.problem(Code::Contradiction, by_day, what, "take `by-day` out");
        } else if field.by_day && field.if_missing.is_none() {
            checks.problem(
                Code::MissingKey,
                by_day,
                format!("a day's value of `{id}` is always known, and the field lacks the key `if-missing`"),
                "add `if-missing:` with the value where nothing is said",
            );
        }
    }
}

impl Checks<'_, '_> {
    /// Both ends of what a field holds; whether they are a range.
    pub(super) fn ends(&mut self, sort: Sort, id: &str, from: i64, to: i64) -> bool {
        self.of(sort, id, &["from"], from, -MOST, MOST);
        self.of(sort, id, &["to"], to, -MOST, MOST);
        if from > to {
            let place = self.place(sort, id, &["from"]);
            let what = format!("`{id}` goes from {from} down to {to}");
            self.problem(
                Code::OutOfRange,
                place,
                what,
                "let `from` be no more than `to`",
            );
        }
        from <= to
    }

    /// A case field that was read must be of one sort.
    pub(super) fn field_is(&mut self, field: &At<CaseFieldId>, wanted: FieldSort, who: &str) {
        match sort_of(self.pack, field.as_str()) {
            Some(sort) if sort != wanted => {
                let what = format!(
                    "{who} reads a `{}` field, and `{field}` is a `{}` field",
                    wanted.word(),
                    sort.word()
                );
                let help = format!(
                    "write a field that is listed in `case-fields` under `{}`",
                    wanted.word()
                );
                self.problem(Code::Contradiction, field.place.clone(), what, help);
            }
            // One that is not there at all has been told.
            Some(_) | None => {}
        }
    }

    /// The place of a value in a list of an item.
    pub(super) fn nth(&self, sort: Sort, id: &str, key: &str, at: usize) -> Place {
        let node = self
            .node(sort, id)
            .and_then(|node| node.entry(key))
            .and_then(|(_, node)| node.as_list()?.get(at));
        node.map_or_else(|| self.own_place(sort, id), |node| node.place.clone())
    }
}
