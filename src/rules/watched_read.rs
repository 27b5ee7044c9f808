//! From the text of a file of watched attempts to what it says, with every problem at once.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::base::{At, AttemptFieldId, Code, Decimal, Diagnostic, Place, SkillId};

use super::case::FieldValue;
use super::case_fields::whole_number;
use super::case_names::Later;
use super::case_read::Checking;
use super::case_seen::{MOST_ATTEMPTS, MOST_PERCENT};
use super::check::declared::{dangling, list};
use super::check::salvaged::{note_sound, spoilt};
use super::check::sections::Sort;
use super::pack::Pack;
use super::read::Limits;
use super::sole::{Sole, read_sole};
use super::vocab::is_of;
use super::watched::{Attempt, AttemptText, Said, Watched, WatchedText};

const WATCHED: Sole = Sole {
    key: "watched",
    called: "a file of watched attempts",
    holds: "the skill and the attempts",
};

/// Reads a file of watched attempts and checks it against a pack.
///
/// # Errors
///
/// Every problem that was found, sorted by place.
pub(crate) fn read_watched(
    name: &Arc<str>,
    text: &str,
    pack: &Pack,
    limits: &Limits,
) -> Result<Watched, Vec<Diagnostic>> {
    read_sole(&WATCHED, (name, text), limits, |text, place, node, out| {
        let mut found = Vec::new();
        let watched = check_watched(&text, pack, place, &mut found);
        let spoilt = spoilt(out);
        if !spoilt.is_empty() {
            // What could not be read may be just what is missing elsewhere.
            let mut sound = BTreeSet::new();
            note_sound(node, &spoilt, &mut sound);
            found.retain(|problem| {
                problem.code != Code::MissingKey && sound.contains(&problem.place)
            });
        }
        out.append(&mut found);
        watched
    })
}

/// Checks attempts against a pack; `whole` is the place of all of them.
pub(crate) fn check_watched(
    text: &WatchedText,
    pack: &Pack,
    whole: &Place,
    out: &mut Vec<Diagnostic>,
) -> Option<Watched> {
    let mut checking = Checking {
        pack,
        names: &Later,
        out,
    };
    let skill = checking.item(Sort::Skill, &pack.skills, &text.skill);
    if text.attempts.is_empty() {
        checking.problem(
            Code::EmptyMap,
            whole,
            "no attempt is listed",
            "write what was seen of each under `attempts`",
        );
    }
    let attempts: Vec<Attempt> = text
        .attempts
        .iter()
        .map(|attempt| checking.attempt(attempt, text.best.as_ref(), skill.as_ref()))
        .collect();
    let all: u64 = attempts
        .iter()
        .map(|attempt| u64::from(attempt.times))
        .sum();
    if all > u64::from(MOST_ATTEMPTS) {
        checking.problem(
            Code::OutOfRange,
            whole,
            format!("these are {all} attempts"),
            format!("write {MOST_ATTEMPTS} at the most"),
        );
    }
    let mut looks = BTreeMap::new();
    for (id, is_true) in &text.looks {
        if let Some(id) = checking.item(Sort::Observation, &pack.observations, id) {
            looks.insert(id, *is_true);
        }
    }
    let measured = checking.measured(&text.measured);
    Some(Watched {
        lifter: text.lifter.clone().unwrap_or_default(),
        skill: skill?,
        attempts,
        looks,
        measured,
    })
}

impl Checking<'_> {
    fn attempt(
        &mut self,
        text: &At<AttemptText>,
        best: Option<&At<Decimal>>,
        skill: Option<&SkillId>,
    ) -> Attempt {
        let times = text.times.as_ref().map_or(1, |times| {
            if self.attempts(times, "times") {
                times.value
            } else {
                1
            }
        });
        let mut said = BTreeMap::new();
        for (field, value) in &text.seen {
            if let Some(value) = self.said(field, value, skill) {
                said.insert(field.value.clone(), value);
            }
        }
        let stated: Vec<(AttemptFieldId, Said)> = said.clone().into_iter().collect();
        for (field, value) in &stated {
            self.implied(field, value, skill, &mut said);
        }
        let mut faults = BTreeMap::new();
        for (fault, grade) in &text.faults {
            let Some(id) = self.item(Sort::Fault, &self.pack.faults, fault) else {
                continue;
            };
            let Some(of) = self.pack.faults.get(&id) else {
                continue;
            };
            if self.grade((&id, of), grade).is_none() {
                continue;
            }
            if let Some(skill) =
                skill.filter(|skill| !of.skills.iter().any(|of| of.value == **skill))
            {
                self.problem(
                    Code::Contradiction,
                    &fault.place,
                    format!("`{id}` is not seen in `{skill}`"),
                    "take it out, or write another fault",
                );
            } else {
                faults.insert(id, grade.value.clone());
            }
        }
        Attempt {
            percent: self.percent(text, best),
            times,
            implied: said
                .keys()
                .filter(|field| !stated.iter().any(|(own, _)| own == *field))
                .cloned()
                .collect(),
            went_wrong: stated
                .iter()
                .any(|(field, value)| self.is_wrong(field, value)),
            said,
            faults,
        }
    }

    /// The load in percent of the best, rounded down.
    fn percent(&mut self, text: &At<AttemptText>, best: Option<&At<Decimal>>) -> Option<i64> {
        let (percent, place) = match (&text.percent, &text.load, best) {
            (None, None, _) => return None,
            (Some(_), Some(load), _) => {
                self.problem(
                    Code::Contradiction,
                    &load.place,
                    "an attempt says both `percent` and `load`",
                    "take one of them out",
                );
                return None;
            }
            (Some(percent), None, _) => (i64::from(percent.value), &percent.place),
            (None, Some(load), None) => {
                self.problem(
                    Code::MissingKey,
                    &load.place,
                    "a load says little without the best that it is a part of",
                    "add `best:` beside `skill`, or write `percent` in place of `load`",
                );
                return None;
            }
            (None, Some(load), Some(best)) if best.thousandths() > 0 => {
                let percent = load.thousandths().saturating_mul(100) / best.thousandths();
                (percent, &load.place)
            }
            (None, Some(_), Some(best)) => {
                self.problem(
                    Code::OutOfRange,
                    &best.place,
                    format!("a best cannot be {best}"),
                    "write a number above 0",
                );
                return None;
            }
        };
        if (1..=i64::from(MOST_PERCENT)).contains(&percent) {
            return Some(percent);
        }
        self.problem(
            Code::OutOfRange,
            place,
            format!("an attempt cannot be at {percent} % of the best"),
            format!("write 1 to {MOST_PERCENT} percent, or mend the best"),
        );
        None
    }

    /// What is said of an attempt in one field, as the field wants it.
    fn said(
        &mut self,
        id: &At<AttemptFieldId>,
        value: &At<FieldValue>,
        skill: Option<&SkillId>,
    ) -> Option<Said> {
        let pack = self.pack;
        let place = &value.place;
        let (one_of, whole) = (pack.attempt_one_of.get(id), pack.attempt_whole.get(id));
        let of_skills = match (one_of, whole) {
            (Some(field), _) => &field.skills,
            (None, Some(field)) => &field.skills,
            (None, None) => {
                let known = pack.attempt_one_of.keys().chain(pack.attempt_whole.keys());
                let known: Vec<&str> = known.map(|id| id.as_str()).collect();
                self.out
                    .push(dangling(Sort::AttemptField, id.as_str(), &id.place, &known));
                return None;
            }
        };
        if let Some(skill) = skill.filter(|skill| !is_of(of_skills, skill)) {
            let skills: Vec<&str> = of_skills.iter().map(|id| id.as_str()).collect();
            self.problem(
                Code::Contradiction,
                &id.place,
                format!("`{id}` is not said of attempts of `{skill}`"),
                format!("take it out; it is said of {}", list(&skills)),
            );
            return None;
        }
        let word = self.single(id.as_str(), value, "one value")?;
        if let Some(field) = one_of {
            let found = self.word(
                (Sort::AttemptField, id.as_str()),
                word,
                &field.values,
                place,
            );
            return found.map(Said::Word);
        }
        let field = whole?;
        let number = whole_number(word).filter(|number| (field.from..=field.to).contains(number));
        if number.is_none() {
            self.problem(
                Code::OutOfRange,
                place,
                format!("`{id}` cannot be `{word}`"),
                format!(
                    "write a whole number of {} from {} to {}",
                    field.unit, field.from, field.to
                ),
            );
        }
        number.map(Said::Number)
    }

    /// Whether an attempt went wrong of which this is said.
    fn is_wrong(&self, field: &AttemptFieldId, value: &Said) -> bool {
        let Said::Word(word) = value else {
            return false;
        };
        let of = self.pack.attempt_one_of.get(field);
        let held = of.and_then(|of| of.values.get(word));
        held.is_some_and(|held| held.went_wrong)
    }

    /// Adds what a value says of other fields, where the attempt itself says nothing of them.
    fn implied(
        &self,
        field: &AttemptFieldId,
        value: &Said,
        skill: Option<&SkillId>,
        said: &mut BTreeMap<AttemptFieldId, Said>,
    ) {
        let (Some(of), Said::Word(word)) = (self.pack.attempt_one_of.get(field), value) else {
            return;
        };
        let implied = of
            .values
            .get(word)
            .into_iter()
            .flat_map(|held| &held.implies);
        for (other, value) in implied {
            let of = self.pack.attempt_one_of.get(&other.value);
            let fits = of.is_some_and(|of| skill.is_some_and(|skill| is_of(&of.skills, skill)));
            if fits {
                said.entry(other.value.clone())
                    .or_insert_with(|| Said::Word(value.value.clone()));
            }
        }
    }
}
