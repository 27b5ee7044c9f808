//! What attempts show: fields with their values, signs that can be read in them, judgements with numbers that mean something.

use indexmap::IndexMap;

use crate::base::{At, AttemptFieldId, Code, SkillId};
use crate::rules::vocab::{AttemptTest, Sign};

use super::Checks;
use super::declared::meant;
use super::items::get;
use super::sections::Sort;

/// More attempts than anyone watches.
const MOST_ATTEMPTS: i64 = 1_000;

/// What is said of attempts.
type Tests = IndexMap<At<AttemptFieldId>, AttemptTest>;

/// Checks all of them.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    fields(checks);
    sound(checks);
    let pack = checks.pack;
    for (id, sign) in &pack.signs {
        let all: [(&str, usize, &str); 2] = [
            ("skills", sign.skills.len(), "skill"),
            ("seen", sign.seen.len(), "field with what was seen"),
        ];
        for (key, len, what) in all {
            checks.some(Sort::Sign, id.as_str(), &[key], len, what);
        }
        tests(checks, id.as_str(), "seen", sign, &sign.seen);
        tests(checks, id.as_str(), "unless", sign, &sign.unless);
        shows(checks, id.as_str(), sign);
    }
    for judgement in pack.judgements.values() {
        let times = [
            (&judgement.attempts_at_least, "attempts-at-least"),
            (&judgement.fault_seen_at_least, "fault-seen-at-least"),
            (&judgement.grade_seen_at_least, "grade-seen-at-least"),
            (&judgement.look_seen_at_least, "look-seen-at-least"),
            (
                &judgement.sound_below_onset_at_least,
                "sound-below-onset-at-least",
            ),
        ];
        for (number, key) in times {
            checks.at(number, key, 1, MOST_ATTEMPTS);
        }
        let percents = [
            (&judgement.fault_percent_at_least, "fault-percent-at-least"),
            (&judgement.look_percent_at_least, "look-percent-at-least"),
        ];
        for (number, key) in percents {
            checks.at(number, key, 0, 100);
        }
    }
}

/// What is asked of sound weeks.
fn sound(checks: &mut Checks<'_, '_>) {
    for rule in checks.pack.sound_weeks.values() {
        let units = [
            (&rule.last_more_at_most, "last-more-at-most"),
            (&rule.middle_more_at_most, "middle-more-at-most"),
            (&rule.first_more_at_most, "first-more-at-most"),
        ];
        for (number, key) in units {
            checks.at(number, key, 0, 1_000);
        }
        checks.at(
            &rule.worth_percent_at_least,
            "worth-percent-at-least",
            0,
            100,
        );
    }
}

fn fields(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    let sort = Sort::AttemptField;
    for (id, field) in &pack.attempt_one_of {
        checks.some(sort, id.as_str(), &["values"], field.values.len(), "value");
        for (other, value) in field.values.values().flat_map(|held| &held.implies) {
            if other == id {
                checks.problem(
                    Code::Contradiction,
                    other.place.clone(),
                    format!("a value of `{id}` says something of `{id}` itself"),
                    "name another field, or take it out",
                );
            } else if let Some(of) = get(&pack.attempt_one_of, other.as_str()) {
                checks.value_of((sort, other.as_str()), &of.values, value);
            } else if get(&pack.attempt_whole, other.as_str()).is_some() {
                checks.problem(
                    Code::Contradiction,
                    other.place.clone(),
                    format!("`{other}` is a number, and only a `one-of` field can be implied"),
                    "take it out",
                );
            }
        }
    }
    for (id, field) in &pack.attempt_whole {
        checks.ends(sort, id.as_str(), field.from, field.to);
    }
}

/// Tests that fit their fields, of fields that can be said of the sign's attempts.
fn tests(checks: &mut Checks<'_, '_>, id: &str, key: &str, sign: &Sign, tests: &Tests) {
    let pack = checks.pack;
    let sort = Sort::AttemptField;
    for (field, test) in tests {
        let numbered = test.at_least.is_some() || test.at_most.is_some();
        let place = checks.place(Sort::Sign, id, &[key, field.as_str()]);
        let of_skills: &[At<SkillId>];
        let fits;
        if let Some(of) = get(&pack.attempt_one_of, field.as_str()) {
            of_skills = &of.skills;
            fits = (!numbered && !test.is.is_empty(), "`is` with its values");
            for value in &test.is {
                checks.value_of((sort, field.as_str()), &of.values, value);
            }
        } else if let Some(of) = get(&pack.attempt_whole, field.as_str()) {
            of_skills = &of.skills;
            fits = (
                numbered && test.is.is_empty(),
                "`at-least`, `at-most` or both",
            );
            if let (Some(least), Some(most)) = (test.at_least, test.at_most)
                && least > most
            {
                checks.problem(
                    Code::OutOfRange,
                    place.clone(),
                    format!("no number is at least {least} and at most {most}"),
                    "let `at-least` be no more than `at-most`",
                );
            }
        } else {
            // One that is not there at all has been told.
            continue;
        }
        if !fits.0 {
            checks.problem(
                Code::WrongType,
                place,
                format!("this is no test of `{field}`"),
                format!("write {}", fits.1),
            );
        }
        let others = sign.skills.iter();
        let other = others
            .into_iter()
            .find(|skill| !of_skills.is_empty() && !of_skills.contains(skill));
        if let Some(other) = other {
            checks.problem(
                Code::Contradiction,
                field.place.clone(),
                format!(
                    "`{field}` is not said of attempts of `{other}`, so nothing there shows this"
                ),
                "take the skill out of `skills`, or name another field",
            );
        }
    }
}

/// Either a fault with a grade that it has in the sign's skills, or a look.
fn shows(checks: &mut Checks<'_, '_>, id: &str, sign: &Sign) {
    match (&sign.fault, &sign.grade, &sign.look) {
        (Some(_), Some(_), None) | (None, None, Some(_)) => {}
        _ => checks.problem(
            Code::Contradiction,
            checks.own_place(Sort::Sign, id),
            format!("the sign `{id}` shows either a fault in a grade or a look"),
            "write `fault` and `grade`, or `look` alone",
        ),
    }
    if let Some(percent) = &sign.in_percent_at_least {
        checks.at(percent, "in-percent-at-least", 1, 100);
        if sign.look.is_none() {
            checks.problem(
                Code::Contradiction,
                checks.key_place(Sort::Sign, id, "in-percent-at-least"),
                "`in-percent-at-least` is of a look, and this sign shows a fault",
                "take it out; how often a fault must be seen is said under `judgements`",
            );
        }
    }
    if sign.sound_ones_too && sign.look.is_none() {
        checks.problem(
            Code::Contradiction,
            checks.key_place(Sort::Sign, id, "sound-ones-too"),
            "`sound-ones-too` is of a look, and this sign shows a fault",
            "take it out; a fault is asked of every attempt",
        );
    }
    let Some(fault) = &sign.fault else { return };
    let Some(of) = get(&checks.pack.faults, fault.as_str()) else {
        return;
    };
    if let Some(grade) = sign
        .grade
        .as_ref()
        .filter(|id| !of.grades.contains_key(*id))
    {
        let known: Vec<&str> = of.grades.keys().map(|id| id.as_str()).collect();
        let listed = format!("listed in `faults` under `{fault}`");
        checks.problem(
            Code::DanglingId,
            grade.place.clone(),
            format!("`{grade}` is no grade of `{fault}`"),
            meant(grade.as_str(), &known, "its grades", &listed),
        );
    }
    if let Some(other) = sign.skills.iter().find(|skill| !of.skills.contains(skill)) {
        checks.problem(
            Code::Contradiction,
            other.place.clone(),
            format!("`{fault}` is not seen in `{other}`"),
            "take the skill out, or name another fault",
        );
    }
}
