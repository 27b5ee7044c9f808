//! Rules about how much: bounds that are not there, that contradict each other, or that cannot be.

use crate::base::{At, Code, Decimal, FactorId, RuleId};
use crate::rules::kinds::{Amount, Count, Minutes, Proportion};

use super::Checks;
use super::conditions::FieldSort;
use super::sections::Sort;

/// More than a week can hold of anything.
const MOST: i64 = 10_000;

/// More factors would make products that can't be reckoned with.
const MOST_FACTORS: usize = 8;

/// Checks the bounds of rules.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let rules = &checks.pack.rules;
    for (id, rule) in &rules.count {
        check_count(checks, id, rule);
    }
    for (id, rule) in &rules.proportion {
        check_proportion(checks, id, rule);
    }
    for (id, rule) in &rules.minutes {
        check_minutes(checks, id, rule);
    }
    for (_, rule) in &rules.floor {
        checks.at(&rule.points_at_least, "points-at-least", 1, MOST);
        checks.factors(&rule.scaled_by);
        checks.unit(rule.unit.as_ref());
    }
    for (_, rule) in &rules.stress {
        checks.at(&rule.at_most, "at-most", 0, MOST);
        checks.unit(rule.unit.as_ref());
    }
    for (_, rule) in &rules.volume {
        checks.unit(rule.unit.as_ref());
    }
    for (_, rule) in &rules.alike {
        checks.at(&rule.at_most, "at-most", 1, MOST);
    }
    for (_, rule) in &rules.apart {
        checks.at(&rule.free_days, "free-days", 1, 6);
    }
    for (id, rule) in &rules.cap {
        let (of_reference, of_own) = (
            &rule.percent_of_reference_at_most,
            &rule.percent_of_own_highest_at_most,
        );
        checks.one_of(
            "cap",
            id,
            of_reference.is_some() || of_own.is_some(),
            "`percent-of-reference-at-most` or `percent-of-own-highest-at-most`",
        );
        checks.maybe(
            of_reference.as_ref(),
            "percent-of-reference-at-most",
            1,
            200,
        );
        checks.maybe(of_own.as_ref(), "percent-of-own-highest-at-most", 1, 100);
    }
    for (id, rule) in &rules.repeat {
        let (least, most) = (&rule.at_least_if_used, &rule.at_most);
        checks.one_of(
            "repeat",
            id,
            least.is_some() || most.is_some(),
            "`at-least-if-used` or `at-most`",
        );
        checks.maybe(least.as_ref(), "at-least-if-used", 1, 7);
        checks.maybe(most.as_ref(), "at-most", 1, 7);
        if let (Some(least), Some(most)) = (least, most) {
            checks.in_order(least, most, "at-least-if-used");
        }
    }
    for (id, rule) in &rules.least_load {
        let named = rule.lightest_full_diameter || rule.at_least.is_some();
        checks.one_of(
            "least-load",
            id,
            named,
            "`lightest-full-diameter: true` or `at-least`",
        );
        if let Some(load) = rule
            .at_least
            .as_ref()
            .filter(|load| load.value == Decimal::ZERO)
        {
            checks.problem(
                Code::OutOfRange,
                load.place.clone(),
                "a least load of 0 asks for nothing",
                "write a load above 0, or take it out",
            );
        }
    }
    for (id, rule) in &rules.lighter {
        checks.of(
            Sort::Rule("lighter"),
            id.as_str(),
            &["above-at-most"],
            rule.above_at_most.into(),
            0,
            100,
        );
    }
    for (id, rule) in &rules.followed {
        checks.of(
            Sort::Rule("followed"),
            id.as_str(),
            &["closer-by"],
            rule.closer_by,
            0,
            MOST,
        );
    }
    for (_, rule) in &rules.trim {
        checks.at(&rule.sets_fewer, "sets-fewer", 1, 11);
        checks.at(&rule.sets_at_least, "sets-at-least", 1, 12);
    }
    for (_, rule) in &rules.timing {
        checks.at(&rule.warm_up_seconds, "warm-up-seconds", 0, 7_200);
        checks.at(&rule.changeover_seconds, "changeover-seconds", 0, 3_600);
    }
    for (id, rule) in &rules.compose {
        checks.some(
            Sort::Rule("compose"),
            id.as_str(),
            &["roles"],
            rule.roles.len(),
            "role",
        );
        checks.at(&rule.per_cause_at_most, "per-cause-at-most", 1, 20);
    }
    for (_, rule) in &rules.watch {
        checks.at(&rule.rank, "rank", 0, 100);
    }
    for (id, rule) in &rules.ramp {
        checks.some(
            Sort::Rule("ramp"),
            id.as_str(),
            &["steps"],
            rule.steps.len(),
            "step",
        );
        checks.rising(&rule.steps, "from-percent", |step| {
            i64::from(step.from_percent)
        });
        if let Some(percent) = &rule.sets_apart_percent {
            checks.at(percent, "sets-apart-percent", 0, 50);
        }
        if let Some(percent) = &rule.lighter_for_fewer_pieces {
            checks.at(percent, "lighter-for-fewer-pieces", 0, 50);
        }
        for step in &rule.steps {
            checks.number(&step.place, "seconds", step.seconds.into(), 0, 7_200);
            checks.rising(&step.sets, "percent-of-load", |set| {
                i64::from(set.percent_of_load)
            });
            for set in &step.sets {
                let percent = set.percent_of_load.into();
                checks.number(&set.place, "percent-of-load", percent, 1, 99);
                checks.number(&set.place, "reps", set.reps.into(), 1, 20);
            }
        }
        if let Some(first) = rule.steps.first().filter(|first| first.from_percent != 0) {
            let what = format!("the first step begins at {} percent", first.from_percent);
            checks.problem(
                Code::OutOfRange,
                first.place.clone(),
                what,
                "let the first step begin at 0",
            );
        }
    }
    for (_, rule) in &rules.prefer {
        checks.at(&rule.weight, "weight", -MOST, MOST);
        if rule.weight.value == 0 {
            checks.problem(
                Code::OutOfRange,
                rule.weight.place.clone(),
                "a weight of 0 prefers nothing",
                "write a weight above 0, or below 0 for a cost",
            );
        }
    }
    for (_, rule) in &rules.focus {
        checks.at(&rule.per_skill_at_most, "per-skill-at-most", 1, 255);
        checks.maybe(rule.in_all_at_most.as_ref(), "in-all-at-most", 1, 255);
        checks.maybe(rule.demand_at_least.as_ref(), "demand-at-least", 1, 300);
    }
    for (id, rule) in &rules.quality_worth {
        checks.some(
            Sort::Rule("quality-worth"),
            id.as_str(),
            &["qualities"],
            rule.qualities.len(),
            "quality",
        );
    }
    for (id, rule) in &rules.carry_over {
        checks.some(
            Sort::Rule("carry-over"),
            id.as_str(),
            &["causes"],
            rule.causes.len(),
            "cause",
        );
        checks.at(&rule.percent, "percent", 0, 100);
        if rule.from == rule.to {
            let what = format!("what `{}` does for itself counts whole", rule.from);
            checks.problem(
                Code::Contradiction,
                rule.to.place.clone(),
                what,
                "name another skill in `to`",
            );
        }
    }
}

fn check_count(checks: &mut Checks<'_, '_>, id: &At<RuleId>, rule: &Count) {
    checks.one_of(
        "count",
        id,
        rule.at_least.is_some() || rule.at_most.is_some(),
        "`at-least` or `at-most`",
    );
    checks.maybe(rule.at_least.as_ref(), "at-least", 1, MOST);
    checks.maybe(rule.at_most.as_ref(), "at-most", 0, MOST);
    if let (Some(least), Some(most)) = (&rule.at_least, &rule.at_most) {
        checks.in_order(least, most, "at-least");
    }
    checks.factors(&rule.scaled_by);
    checks.unit(rule.unit.as_ref());
}

fn check_proportion(checks: &mut Checks<'_, '_>, id: &At<RuleId>, rule: &Proportion) {
    let (least, most) = (&rule.percent_at_least, &rule.percent_at_most);
    checks.one_of(
        "proportion",
        id,
        least.is_some() || most.is_some(),
        "`percent-at-least` or `percent-at-most`",
    );
    checks.maybe(least.as_ref(), "percent-at-least", 1, 1_000);
    checks.maybe(most.as_ref(), "percent-at-most", 0, 1_000);
    if let (Some(least), Some(most)) = (least, most) {
        checks.in_order(least, most, "percent-at-least");
    }
    checks.unit(rule.unit.as_ref());
}

fn check_minutes(checks: &mut Checks<'_, '_>, id: &At<RuleId>, rule: &Minutes) {
    checks.one_of(
        "minutes",
        id,
        rule.at_least.is_some() || rule.at_most.is_some(),
        "`at-least` or `at-most`",
    );
    checks.unit(rule.unit.as_ref());
    for (key, amount) in [("at-least", &rule.at_least), ("at-most", &rule.at_most)] {
        if let Some(amount) = amount {
            check_amount(checks, id, key, amount);
        }
    }
    let whole = |amount: &Option<Amount>| {
        amount
            .as_ref()
            .filter(|amount| amount.field.is_none())
            .and_then(|amount| amount.whole)
    };
    if let (Some(least), Some(most)) = (whole(&rule.at_least), whole(&rule.at_most))
        && least > most
    {
        let place = checks.place(Sort::Rule("minutes"), id.as_str(), &["at-least"]);
        let what = format!("nothing is at least {least} and at most {most}");
        checks.problem(
            Code::Contradiction,
            place,
            what,
            "let `at-least` be no more than `at-most`",
        );
    }
}

fn check_amount(checks: &mut Checks<'_, '_>, id: &At<RuleId>, key: &str, amount: &Amount) {
    let sort = Sort::Rule("minutes");
    let place = checks.place(sort, id.as_str(), &[key]);
    match (amount.whole, &amount.field) {
        (None, None) => checks.problem(
            Code::MissingKey,
            place,
            format!("`{key}` has neither `whole` nor `field`"),
            "add one of them",
        ),
        (Some(_), Some(_)) => {
            let what = format!("`{key}` has both `whole` and `field`");
            checks.problem(Code::Contradiction, place, what, "take one of them out");
        }
        (Some(whole), None) => {
            checks.of(sort, id.as_str(), &[key, "whole"], whole, 1, 1_440);
            if amount.percent.is_some() {
                let place = checks.place(sort, id.as_str(), &[key, "percent"]);
                checks.problem(
                    Code::Contradiction,
                    place,
                    "`percent` is of a field, and there is none",
                    "take it out, or name a field",
                );
            }
        }
        (None, Some(field)) => {
            checks.field_is(field, FieldSort::Whole, "a bound in minutes");
            if let Some(percent) = amount.percent {
                checks.of(sort, id.as_str(), &[key, "percent"], percent.into(), 1, 200);
            }
        }
    }
}

impl Checks<'_, '_> {
    /// A rule must have at least one of its bounds.
    pub(super) fn one_of(&mut self, kind: &'static str, id: &At<RuleId>, has: bool, keys: &str) {
        if !has {
            let what = format!("`{kind}.{id}` bounds nothing");
            self.problem(
                Code::MissingKey,
                id.place.clone(),
                what,
                format!("add {keys}"),
            );
        }
    }

    fn in_order<N: Copy + Into<i64> + PartialOrd + std::fmt::Display>(
        &mut self,
        least: &At<N>,
        most: &At<N>,
        key: &str,
    ) {
        if least.value > most.value {
            let what = format!(
                "nothing is at least {} and at most {}",
                least.value, most.value
            );
            self.problem(
                Code::Contradiction,
                least.place.clone(),
                what,
                format!("let `{key}` be no more than the upper bound"),
            );
        }
    }

    pub(super) fn unit(&mut self, unit: Option<&At<u16>>) {
        self.maybe(unit, "unit", 1, MOST);
    }

    fn factors(&mut self, factors: &[At<FactorId>]) {
        if let Some(extra) = factors.get(MOST_FACTORS) {
            let what = format!("a bound is scaled by more than {MOST_FACTORS} factors");
            self.problem(
                Code::OutOfRange,
                extra.place.clone(),
                what,
                "join some of them into one",
            );
        }
    }
}
