//! The case: its text, its fields, and conditions on it.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;

use super::movement::Set;
use super::text::{Condition, FieldTest, Ids, Load, PackText};
use super::yaml::Value;

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct CaseText {
    pub today: Option<String>,
    pub phase: Option<String>,
    pub layout: Option<String>,
    pub faults: Vec<SeenFault>,
    pub observed: Ids,
    pub measured: BTreeMap<String, i64>,
    pub ruled_out: Ids,
    pub sure_of: Vec<SureOf>,
    pub bests: BTreeMap<String, Load>,
    /// Days of bests, as written; see [`undated`].
    #[serde(skip)]
    pub best_days: BTreeMap<String, String>,
    pub gym: Gym,
    pub new: Ids,
    pub disliked: Ids,
    pub tried: Vec<Tried>,
    pub did_last_week: Ids,
    pub week_before: Vec<LineBefore>,
    pub fields: BTreeMap<String, Value>,
    pub by_skill: BTreeMap<String, BTreeMap<String, Value>>,
    pub training_days: BTreeMap<String, BTreeMap<String, Value>>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct SeenFault {
    pub fault: String,
    pub skill: Option<String>,
    pub grade: String,
    pub seen: Option<i64>,
    pub of: Option<i64>,
    pub from_percent: Option<i64>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Tried {
    pub exercise: String,
    pub came: String,
}

/// A line of the week before.
#[derive(Clone, Debug, Deserialize)]
pub struct LineBefore {
    pub exercise: String,
    pub role: String,
    pub sets: i64,
    pub reps: i64,
    pub percent: Option<i64>,
    pub weeks: Option<i64>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct SureOf {
    pub cause: String,
    pub skill: Option<String>,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default, rename_all = "kebab-case")]
pub struct Gym {
    pub bar: Option<String>,
    pub other_bars: Ids,
    pub collars: Option<bool>,
    pub pairs: Vec<Pairs>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Pairs {
    pub weight: Load,
    pub pairs: i64,
}

/// Yes, no, or (none) not known.
pub type Answer = Option<bool>;

pub fn and(answers: impl IntoIterator<Item = Answer>) -> Answer {
    let all: Vec<Answer> = answers.into_iter().collect();
    if all.contains(&Some(false)) {
        Some(false)
    } else if all.contains(&None) {
        None
    } else {
        Some(true)
    }
}

pub fn or(answers: impl IntoIterator<Item = Answer>) -> Answer {
    and(answers.into_iter().map(|answer| answer.map(|yes| !yes))).map(|none| !none)
}

/// What conditions are asked of.
#[derive(Clone, Debug, Default)]
pub struct Facts {
    pub today: Option<i64>,
    pub phase: String,
    pub faults: Set,
    pub fields: BTreeMap<String, Value>,
    /// Fields that the case says, or each of its days.
    pub said: Set,
    pub by_skill: BTreeMap<String, BTreeMap<String, Value>>,
    pub bests: Set,
    pub best_days: BTreeMap<String, i64>,
    /// By skill and cause.
    pub demand: BTreeMap<(String, String), i64>,
    /// Pairs that the coach is sure of.
    pub sure: BTreeSet<(String, String)>,
    pub focus: Vec<(String, String)>,
}

impl Facts {
    pub fn new(pack: &PackText, case: &CaseText) -> Self {
        let only = || {
            assert_eq!(pack.phases.len(), 1, "the case says no phase");
            pack.phases.keys().next().unwrap().clone()
        };
        let mut fields = case.fields.clone();
        let kinds = &pack.case_fields;
        for (id, field) in kinds
            .one_of
            .iter()
            .chain(&kinds.whole)
            .chain(&kinds.some_of)
            .chain(&kinds.dates)
        {
            if let (false, Some(value)) = (fields.contains_key(id), &field.if_missing) {
                fields.insert(id.clone(), value.clone());
            }
        }
        let mut said: Set = case.fields.keys().cloned().collect();
        super::days::fields_of_week(pack, case, &mut fields, &mut said);
        Self {
            today: case.today.as_deref().map(day_number),
            phase: case.phase.clone().unwrap_or_else(only),
            faults: case.faults.iter().map(|seen| seen.fault.clone()).collect(),
            fields,
            said,
            by_skill: case.by_skill.clone(),
            bests: case.bests.keys().cloned().collect(),
            best_days: case
                .best_days
                .iter()
                .map(|(id, day)| (id.clone(), day_number(day)))
                .collect(),
            demand: BTreeMap::new(),
            sure: BTreeSet::new(),
            focus: Vec::new(),
        }
    }

    pub fn skill_in_focus(&self, skill: &str) -> bool {
        self.focus.iter().any(|(held, _)| held == skill)
    }

    pub fn whole(&self, field: &str) -> Option<i64> {
        self.fields.get(field).and_then(Value::as_i64)
    }

    /// Whether a condition is true, where all keys are joined by "and".
    pub fn asks(&self, condition: &Condition) -> Answer {
        let mut answers: Vec<Answer> = condition
            .case
            .iter()
            .map(|(field, test)| {
                let said = Some(self.said.contains(field));
                and([
                    test.known
                        .map_or(Some(true), |known| Some(Some(known) == said)),
                    self.test(test, self.fields.get(field)),
                ])
            })
            .collect();
        let mut say = |list: &[String], yes: &dyn Fn(&String) -> bool| {
            if !list.is_empty() {
                answers.push(Some(list.iter().any(yes)));
            }
        };
        say(&condition.phase, &|id| *id == self.phase);
        say(&condition.faults, &|id| self.faults.contains(id));
        say(&condition.focus_causes, &|id| {
            self.focus.iter().any(|(_, cause)| cause == id)
        });
        say(&condition.focus_skills, &|id| self.skill_in_focus(id));
        say(&condition.known_best, &|id| self.bests.contains(id));
        for (cause, range) in &condition.demand {
            let of_cause = self.demand.iter().filter(|((_, held), _)| held == cause);
            answers.push(Some(
                range.holds(of_cause.map(|(_, demand)| *demand).max().unwrap_or(0)),
            ));
        }
        for (best, range) in &condition.best_age {
            let age = || Some(self.today? - self.best_days.get(best)?);
            answers.push(if self.bests.contains(best) {
                age().map(|age| range.holds(age))
            } else {
                Some(false)
            });
        }
        answers.extend(condition.all.iter().map(|inner| self.asks(inner)));
        if !condition.any.is_empty() {
            answers.push(or(condition.any.iter().map(|inner| self.asks(inner))));
        }
        if !condition.none.is_empty() {
            answers.push(or(condition.none.iter().map(|inner| self.asks(inner))).map(|some| !some));
        }
        and(answers)
    }

    /// Whether a field passes a test, but for whether it must be said.
    pub fn test(&self, test: &FieldTest, value: Option<&Value>) -> Answer {
        let mut answers = Vec::new();
        let word = |value: &Value, list: &[String]| {
            let held = value.as_str().unwrap();
            list.iter().any(|one| one == held)
        };
        let some = |value: &Value, list: &[String]| {
            value
                .as_sequence()
                .unwrap()
                .iter()
                .any(|one| word(one, list))
        };
        let number = |value: &Value| match value.as_i64() {
            Some(number) => Some(number),
            None => Some(day_number(value.as_str().unwrap()) - self.today?),
        };
        if !test.is.is_empty() {
            answers.push(value.map(|value| word(value, &test.is)));
        }
        if !test.is_not.is_empty() {
            answers.push(value.map(|value| !word(value, &test.is_not)));
        }
        if !test.has.is_empty() {
            answers.push(value.map(|value| some(value, &test.has)));
        }
        if !test.has_none.is_empty() {
            answers.push(value.map(|value| !some(value, &test.has_none)));
        }
        if let Some(least) = test.at_least {
            answers.push(value.and_then(number).map(|number| number >= least));
        }
        if let Some(most) = test.at_most {
            answers.push(value.and_then(number).map(|number| number <= most));
        }
        and(answers)
    }

    /// The value of a field for a skill, or in general where nothing is said of the skill.
    pub fn field_of_skill(&self, skill: &str, field: &str) -> Option<&Value> {
        self.by_skill
            .get(skill)
            .and_then(|said| said.get(field))
            .or_else(|| self.fields.get(field))
    }
}

/// A case whose bests are all loads alone, and the days that stood beside some of them.
pub fn undated(mut case: Value) -> (Value, BTreeMap<String, String>) {
    let mut days = BTreeMap::new();
    if let Some(bests) = case.get_mut("bests").and_then(Value::as_mapping_mut) {
        for (id, best) in bests.iter_mut() {
            if let Some(on) = best.get("on").and_then(Value::as_str) {
                days.insert(id.as_str().unwrap().to_owned(), on.to_owned());
            }
            if let Some(weight) = best.get("weight").cloned() {
                *best = weight;
            }
        }
    }
    (case, days)
}

/// Days from 1970-01-01, counted one year and one month at a time.
pub fn day_number(text: &str) -> i64 {
    let parts: Vec<i64> = text.split('-').map(|part| part.parse().unwrap()).collect();
    let leap = |year: i64| (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    let mut days = 0;
    for year in 1970..parts[0] {
        days += if leap(year) { 366 } else { 365 };
    }
    let february = if leap(parts[0]) { 29 } else { 28 };
    let months = [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    for month in 1..parts[1] {
        days += months[usize::try_from(month - 1).unwrap()];
    }
    days + parts[2] - 1
}
