//! Numbers of the vocabulary that are out of range, and lists that must not be empty.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{At, Code, Decimal, Diagnostic, PartId, Place};
use crate::rules::vocab::{
    Constraint, Fault, Layout, LayoutDay, MOST_DEPARTURE, MOST_LOAD, Span, Stated,
};

use super::Checks;
use super::sections::Sort;

impl Checks<'_, '_> {
    /// A number must lie between two, both included.
    pub(super) fn number(&mut self, place: &Place, key: &str, value: i64, least: i64, most: i64) {
        if !(least..=most).contains(&value) {
            let what = format!("`{key}` is {value}, and must be from {least} to {most}");
            self.problem(
                Code::OutOfRange,
                place.clone(),
                what,
                format!("write a whole number from {least} to {most}"),
            );
        }
    }

    /// A load must not weigh more than any there is, and mostly more than nothing.
    pub(super) fn load(&mut self, place: &Place, key: &str, load: Decimal, may_be_none: bool) {
        if load.thousandths() > MOST_LOAD * 1000 || (load == Decimal::ZERO && !may_be_none) {
            let range = if may_be_none {
                format!("from 0 to {MOST_LOAD}")
            } else {
                format!("above 0 and at most {MOST_LOAD}")
            };
            self.problem(
                Code::OutOfRange,
                place.clone(),
                format!("`{key}` is {load}, and must be {range}"),
                format!("write a weight {range}, such as 20 or 2.5"),
            );
        }
    }

    /// The same for a number that knows its place.
    pub(super) fn at<N: Copy + Into<i64>>(
        &mut self,
        number: &At<N>,
        key: &str,
        least: i64,
        most: i64,
    ) {
        self.number(&number.place, key, number.value.into(), least, most);
    }

    /// The same for a number that may be absent.
    pub(super) fn maybe<N: Copy + Into<i64>>(
        &mut self,
        number: Option<&At<N>>,
        key: &str,
        least: i64,
        most: i64,
    ) {
        if let Some(number) = number {
            self.at(number, key, least, most);
        }
    }

    /// The same for a number of an item, by its keys.
    pub(super) fn of(
        &mut self,
        sort: Sort,
        id: &str,
        keys: &[&str],
        value: i64,
        least: i64,
        most: i64,
    ) {
        if !(least..=most).contains(&value) {
            let place = self.place(sort, id, keys);
            self.number(
                &place,
                keys.last().copied().unwrap_or(""),
                value,
                least,
                most,
            );
        }
    }

    /// A span must have its ends in order and between two numbers.
    pub(super) fn span(&mut self, span: &At<Span>, key: &str, least: i64, most: i64) {
        let (from, to) = (i64::from(span.from), i64::from(span.to));
        self.number(&span.place, &format!("{key}.from"), from, least, most);
        self.number(&span.place, &format!("{key}.to"), to, least, most);
        let range = least..=most;
        if from > to && range.contains(&from) && range.contains(&to) {
            let what = format!("`{key}` goes from {from} down to {to}");
            self.problem(
                Code::OutOfRange,
                span.place.clone(),
                what,
                "let `from` be no more than `to`",
            );
        }
    }

    /// A list or map of an item must have something in it.
    pub(super) fn some(&mut self, sort: Sort, id: &str, keys: &[&str], len: usize, what: &str) {
        if len == 0 {
            let place = self.place(sort, id, keys);
            let (one, _, _) = sort.words();
            let key = keys.last().copied().unwrap_or("");
            self.problem(
                Code::EmptyMap,
                place,
                format!("`{key}` of the {one} `{id}` is empty"),
                format!("write at least one {what}"),
            );
        }
    }
}

/// Checks the vocabulary.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for (id, fault) in &pack.faults {
        check_fault(checks, id.as_str(), fault);
    }
    for (id, cause) in &pack.movement_causes {
        checks.some(
            Sort::Cause,
            id.as_str(),
            &["stages"],
            cause.stages.len(),
            "stage; what has none is a capacity cause",
        );
        if let Some(own) = cause.opposes.iter().find(|other| **other == *id) {
            let what = format!("the cause `{id}` opposes itself");
            checks.problem(
                Code::Contradiction,
                own.place.clone(),
                what,
                "name the cause that asks for the opposite",
            );
        }
    }
    for (id, cause) in &pack.capacity_causes {
        checks.some(
            Sort::Cause,
            id.as_str(),
            &["served-by"],
            cause.served_by.len(),
            "quality",
        );
    }
    for axis in pack.axes.values() {
        for (id, constraint) in &axis.constraints {
            check_constraint(checks, id.as_str(), constraint);
        }
    }
    for (id, root) in &pack.roots {
        checks.some(
            Sort::Exercise,
            id.as_str(),
            &["skills"],
            root.skills.len(),
            "skill",
        );
        effects(checks, root.effect.values());
        highest(checks, root.highest.as_ref());
    }
    for (id, variation) in &pack.variations {
        effects(checks, variation.effect.values());
        highest(checks, variation.highest.as_ref());
        if !variation.effect.is_empty() && variation.because.is_none() {
            let place = checks.key_place(Sort::Exercise, id.as_str(), "effect");
            let what = format!("`{id}` has effects of its own and lacks the key `because`");
            checks.problem(
                Code::MissingKey,
                place,
                what,
                "add `because:`, or give the effects to a constraint",
            );
        }
    }
    for (id, complex) in &pack.complexes {
        checks.some(
            Sort::Exercise,
            id.as_str(),
            &["roles"],
            complex.roles.len(),
            "role",
        );
        checks.of(
            Sort::Exercise,
            id.as_str(),
            &["percent-less"],
            complex.percent_less.into(),
            0,
            99,
        );
        if complex.components.len() < 2 {
            let place = checks.place(Sort::Exercise, id.as_str(), &["components"]);
            let what = format!("the complex `{id}` has fewer than two components");
            checks.problem(
                Code::OutOfRange,
                place,
                what,
                "write two or more, or make it a variation",
            );
        }
        for component in &complex.components {
            checks.at(&component.reps, "reps", 1, 10);
        }
    }
    for phase in pack.phases.values() {
        checks.span(&phase.weeks, "weeks", 1, 52);
    }
    for (id, layout) in &pack.layouts {
        check_layout(checks, id.as_str(), layout);
    }
    for effort in pack.efforts.values() {
        checks.at(&effort.sets_at_percent, "sets-at-percent", 0, 100);
        checks.at(&effort.reps_at_percent, "reps-at-percent", 0, 100);
        checks.at(&effort.load_from_percent, "load-from-percent", 0, 100);
        checks.at(&effort.load_to_percent, "load-to-percent", 0, 100);
        let ends = [&effort.load_from_percent, &effort.load_to_percent];
        if ends.iter().all(|end| is_told_of(end, 0, 100)) && ends.is_sorted_by(|a, b| a > b) {
            checks.problem(
                Code::OutOfRange,
                effort.load_from_percent.place.clone(),
                "the load begins higher than it ends",
                "let `load-from-percent` be no more than `load-to-percent`",
            );
        }
    }
    for role in pack.roles.values() {
        checks.at(&role.trains_percent, "trains-percent", 0, 200);
        checks.at(&role.stress_percent, "stress-percent", 0, 200);
    }
    for (id, part) in &pack.parts {
        checks.some(
            Sort::Part,
            id.as_str(),
            &["roles"],
            part.roles.len(),
            "role",
        );
    }
    for (id, dose) in &pack.doses {
        checks.span(&dose.sets, "sets", 1, 12);
        checks.span(&dose.reps, "reps", 1, 30);
        if let Some(percent) = &dose.percent_of_reference {
            checks.span(percent, "percent-of-reference", 1, 130);
        }
        checks.span(&dose.rest_seconds, "rest-seconds", 1, 1_800);
        checks.of(
            Sort::Dose,
            id.as_str(),
            &["set-seconds"],
            dose.set_seconds.into(),
            1,
            900,
        );
    }
}

fn check_fault(checks: &mut Checks<'_, '_>, id: &str, fault: &Fault) {
    checks.some(
        Sort::Fault,
        id,
        &["skills"],
        fault.skills.len(),
        "skill in which it is seen",
    );
    checks.some(Sort::Fault, id, &["grades"], fault.grades.len(), "grade");
    checks.some(Sort::Fault, id, &["causes"], fault.causes.len(), "cause");
    for grade in fault.grades.values() {
        checks.at(&grade.severity, "severity", 1, 3);
    }
    let (mut sum, mut in_range) = (0, true);
    for (cause, share) in &fault.causes {
        checks.at(&share.percent, "percent", 0, 100);
        in_range &= share.percent.value <= 100;
        sum += i64::from(share.percent.value);
        let ruled_out: BTreeSet<_> = share.ruled_out_by.iter().collect();
        for (look, raise) in &share.raised_by {
            checks.at(raise, look.as_str(), 1, 100);
            if let Some(out) = ruled_out.get(look) {
                checks.out.push(
                    Diagnostic::new(
                        Code::Contradiction,
                        out.place.clone(),
                        format!("`{look}` raises `{cause}` and rules it out"),
                        "take it out of `raised-by` or out of `ruled-out-by`",
                    )
                    .with_also(look.place.clone(), "it raises it here"),
                );
            }
        }
    }
    if sum != 100 && in_range && !fault.causes.is_empty() {
        let place = checks.key_place(Sort::Fault, id, "causes");
        let what = format!("the causes' percents sum to {sum}, and must sum to 100");
        checks.problem(
            Code::OutOfRange,
            place,
            what,
            "share 100 percent out among the causes",
        );
    }
    if let Some(own) = fault
        .not_to_confuse
        .keys()
        .find(|other| other.as_str() == id)
    {
        let what = format!("`{id}` is said to be confused with itself");
        checks.problem(
            Code::Contradiction,
            own.place.clone(),
            what,
            "name the fault that looks like it",
        );
    }
}

fn check_constraint(checks: &mut Checks<'_, '_>, id: &str, constraint: &Constraint) {
    effects(checks, constraint.effect.values());
    checks.of(
        Sort::Constraint,
        id,
        &["departs"],
        constraint.departs.into(),
        0,
        MOST_DEPARTURE,
    );
    if let Some(percent) = &constraint.load_percent {
        checks.at(percent, "load-percent", 1, 200);
    }
}

fn effects<'e>(checks: &mut Checks<'_, '_>, effects: impl Iterator<Item = &'e At<i8>>) {
    for effect in effects {
        checks.at(effect, "effect", -3, 3);
    }
}

fn highest(checks: &mut Checks<'_, '_>, stated: Option<&Stated>) {
    if let Some(stated) = stated {
        checks.at(&stated.percent, "percent", 1, 200);
    }
}

/// Whether a number can be held against another: it was read, and is in its range.
fn is_told_of(number: &At<u8>, from: u8, to: u8) -> bool {
    !number.place.is_unknown() && (from..=to).contains(&number.value)
}

fn check_layout(checks: &mut Checks<'_, '_>, id: &str, layout: &Layout) {
    checks.some(Sort::Layout, id, &["days"], layout.days.len(), "day");
    let mut last: Option<&At<LayoutDay>> = None;
    for day in &layout.days {
        checks.at(&day.day, "day", 1, 7);
        let there_is = is_told_of(&day.day, 1, 7);
        if let Some(last) = last
            && there_is
            && last.day >= day.day
        {
            let what = format!("day {} stands after day {}", day.day, last.day);
            checks.problem(
                Code::OutOfRange,
                day.day.place.clone(),
                what,
                "write the days in the order of the week, each once",
            );
        }
        last = if there_is { Some(day) } else { last };
        if day.parts.is_empty() {
            let what = format!("day {} has no part", day.day);
            checks.problem(
                Code::EmptyMap,
                day.day.place.clone(),
                what,
                "write its parts, or take the day out",
            );
        }
        let mut held: BTreeMap<&PartId, &Place> = BTreeMap::new();
        for slot in &day.parts {
            checks.at(&slot.at_most, "at-most", 1, 6);
            if slot.at_least > slot.at_most.value && is_told_of(&slot.at_most, 1, 6) {
                let what = format!(
                    "the part asks for at least {} and at most {}",
                    slot.at_least, slot.at_most
                );
                checks.problem(
                    Code::Contradiction,
                    slot.place.clone(),
                    what,
                    "let `at-least` be no more than `at-most`",
                );
            }
            match held.get(&slot.part.value) {
                None => {
                    held.insert(&slot.part.value, &slot.part.place);
                }
                Some(first) => checks.out.push(
                    Diagnostic::new(
                        Code::DuplicateId,
                        slot.part.place.clone(),
                        format!("the part `{}` stands twice on day {}", slot.part, day.day),
                        "write it once, with how many items it takes",
                    )
                    .with_also((*first).clone(), "it stands here first"),
                ),
            }
        }
    }
}
