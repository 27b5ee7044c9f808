//! Tests of case fields, and what a rule does when they can't be decided.

use indexmap::IndexMap;

use crate::base::{At, Code, ValueId};
use crate::rules::pack::Pack;
use crate::rules::read::Node;
use crate::rules::vocab::{Condition, FieldTest, Names};

use super::Checks;
use super::declared::meant;
use super::items::{get, items, rules};
use super::sections::Sort;
use super::walk::{Spot, Step, Visit};

/// What sort of case field an id is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FieldSort {
    OneOf,
    Whole,
    SomeOf,
    Dates,
}

impl FieldSort {
    /// Its word in rule files.
    pub(super) fn word(self) -> &'static str {
        match self {
            Self::OneOf => "one-of",
            Self::Whole => "whole",
            Self::SomeOf => "some-of",
            Self::Dates => "dates",
        }
    }
}

/// What sort of field an id is, if it was read.
pub(super) fn sort_of(pack: &Pack, field: &str) -> Option<FieldSort> {
    if get(&pack.one_of, field).is_some() {
        Some(FieldSort::OneOf)
    } else if get(&pack.whole, field).is_some() {
        Some(FieldSort::Whole)
    } else if get(&pack.some_of, field).is_some() {
        Some(FieldSort::SomeOf)
    } else if get(&pack.dates, field).is_some() {
        Some(FieldSort::Dates)
    } else {
        None
    }
}

/// Whether a case may say nothing of a field that was read, so that a test of it can't be decided.
fn may_be_open(pack: &Pack, field: &str) -> bool {
    let one = get(&pack.one_of, field).map(|field| field.if_missing.is_some());
    let whole = get(&pack.whole, field).map(|field| field.if_missing.is_some());
    let some = get(&pack.some_of, field).map(|field| field.if_missing.is_some());
    !one.or(whole).or(some).unwrap_or(false)
}

/// Checks every test of a case field, and `if-unknown` of every rule.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    for item in items(checks.pack) {
        let node = checks.node(item.sort, item.id);
        item.walk(&mut Tests { checks, node });
    }
    unknown(checks);
}

struct Tests<'c, 'p, 't> {
    checks: &'c mut Checks<'p, 't>,
    node: Option<&'t Node>,
}

impl<'p> Visit<'p> for Tests<'_, '_, '_> {
    fn test(&mut self, test: &'p FieldTest, spot: &Spot<'_, 'p>) {
        let Some(field) = spot.last_key() else { return };
        let Some(sort) = sort_of(self.checks.pack, field) else {
            return;
        };
        if spot.up().map(Spot::last) == Some(Step::Field("case_of_day")) {
            return self.of_day(field, test, spot);
        }
        let numbered = matches!(sort, FieldSort::Whole | FieldSort::Dates);
        let keys = [
            ("is", !test.is.is_empty(), sort == FieldSort::OneOf),
            ("is-not", !test.is_not.is_empty(), sort == FieldSort::OneOf),
            ("has", !test.has.is_empty(), sort == FieldSort::SomeOf),
            (
                "has-none",
                !test.has_none.is_empty(),
                sort == FieldSort::SomeOf,
            ),
            ("at-least", test.at_least.is_some(), numbered),
            ("at-most", test.at_most.is_some(), numbered),
        ];
        for (key, given, fits) in keys {
            if given && !fits {
                let wanted = match sort {
                    FieldSort::OneOf => "`is` or `is-not`",
                    FieldSort::SomeOf => "`has` or `has-none`",
                    FieldSort::Whole | FieldSort::Dates => "`at-least` or `at-most`",
                };
                self.checks.problem(
                    Code::UnknownKey,
                    spot.field(key).key_place(self.node),
                    format!(
                        "`{key}` does not fit `{field}`, which is a `{}` field",
                        sort.word()
                    ),
                    format!("write {wanted}, or `known: true`"),
                );
            }
        }
        let pack = self.checks.pack;
        if let Some(of) = get(&pack.one_of, field) {
            for value in test.is.iter().chain(&test.is_not) {
                self.checks.value(field, &of.values, value);
            }
        }
        if let Some(of) = get(&pack.some_of, field) {
            for value in test.has.iter().chain(&test.has_none) {
                self.checks.value(field, &of.values, value);
            }
        }
    }
}

impl Tests<'_, '_, '_> {
    /// A test of a day's value: of a field that days may say, and of numbers alone.
    fn of_day(&mut self, field: &str, test: &FieldTest, spot: &Spot<'_, '_>) {
        if !get(&self.checks.pack.whole, field).is_some_and(|field| field.by_day) {
            self.checks.problem(
                Code::Contradiction,
                spot.key_place(self.node),
                format!(
                    "`{field}` is the same on every day, and `case-of-day` asks for a day's value"
                ),
                "ask for it under `when`, or name a `whole` field with `by-day: true`",
            );
            return;
        }
        let FieldTest {
            is,
            is_not,
            has,
            has_none,
            at_least: _,
            at_most: _,
            known,
        } = test;
        let keys = [
            ("is", !is.is_empty()),
            ("is-not", !is_not.is_empty()),
            ("has", !has.is_empty()),
            ("has-none", !has_none.is_empty()),
            ("known", known.is_some()),
        ];
        for (key, _) in keys.into_iter().filter(|(_, given)| *given) {
            self.checks.problem(
                Code::UnknownKey,
                spot.field(key).key_place(self.node),
                format!(
                    "`{key}` does not fit a day's value, which is a number that is always known"
                ),
                "write `at-least` or `at-most`",
            );
        }
    }
}

impl Checks<'_, '_> {
    /// A value must be one of its field's; that a field has none at all is told with the field.
    pub(super) fn value(
        &mut self,
        field: &str,
        values: &IndexMap<At<ValueId>, Names>,
        value: &At<ValueId>,
    ) {
        self.value_of((Sort::CaseField, field), values, value);
    }

    /// The same of any sort of field, with whatever its values hold.
    pub(super) fn value_of<V>(
        &mut self,
        (sort, field): (Sort, &str),
        values: &IndexMap<At<ValueId>, V>,
        value: &At<ValueId>,
    ) {
        if !values.is_empty() && !values.contains_key(value) {
            let known: Vec<&str> = if self.declared.may_ask() {
                values.keys().map(|id| id.as_str()).collect()
            } else {
                Vec::new()
            };
            let help = meant(
                value.as_str(),
                &known,
                "its values",
                &format!("listed in `{}` under `{field}`", sort.words().2),
            );
            let what = format!("`{value}` is no value of `{field}`");
            self.problem(Code::DanglingId, value.place.clone(), what, help);
        }
    }
}

/// What a condition needs to know.
#[derive(Default)]
struct Needs<'p> {
    /// The first field that a case may leave open.
    open: Option<&'p str>,
    /// It asks of a field that was not read.
    unread: bool,
}

impl<'p> Needs<'p> {
    fn of(&mut self, pack: &Pack, condition: &'p Condition) {
        for (field, test) in &condition.case {
            let values = [&test.is, &test.is_not, &test.has, &test.has_none]
                .iter()
                .any(|list| !list.is_empty());
            let numbers = test.at_least.is_some() || test.at_most.is_some();
            match sort_of(pack, field.as_str()) {
                None => self.unread = true,
                // Where it must be known it is false when it isn't, but a date also needs a today.
                Some(FieldSort::Dates) if numbers => self.open = self.open.or(Some(field.as_str())),
                Some(FieldSort::Dates) => {}
                Some(_)
                    if (values || numbers)
                        && test.known != Some(true)
                        && may_be_open(pack, field.as_str()) =>
                {
                    self.open = self.open.or(Some(field.as_str()));
                }
                Some(_) => {}
            }
        }
        let aged = condition.best_age.keys().next();
        self.open = self.open.or(aged.map(|id| id.as_str()));
        for inner in condition
            .all
            .iter()
            .chain(&condition.any)
            .chain(&condition.none)
        {
            self.of(pack, inner);
        }
    }
}

fn unknown(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for (kind, id, rule) in rules(pack) {
        let sort = Sort::Rule(kind);
        let mut needs = Needs::default();
        if let Some(when) = rule.when() {
            needs.of(pack, when);
        }
        match (needs.open, rule.if_unknown()) {
            (Some(field), None) => {
                let at = checks.key_place(sort, id, "when");
                checks.problem(
                    Code::MissingKey,
                    at,
                    format!("a case may say nothing of `{field}`, which `when` reads, and `{kind}.{id}` lacks the key `if-unknown`"),
                    "add `if-unknown: apply` or `if-unknown: skip`, or give the field an `if-missing`",
                );
            }
            (None, Some(_)) if !needs.unread => {
                let at = checks.key_place(sort, id, "if-unknown");
                checks.problem(
                    Code::UnknownKey,
                    at,
                    format!("`if-unknown` means nothing in `{kind}.{id}`: its `when` can always be decided"),
                    "take it out",
                );
            }
            _ => {}
        }
    }
}
