//! The training days that a case names, and what each says.

use std::collections::BTreeMap;

use super::Oracle;
use super::case::CaseText;
use super::frame_text::Day;
use super::movement::Set;
use super::text::PackText;
use super::yaml::Value;

const WEEK: [&str; 7] = [
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
];

/// Numbers by field.
pub type Numbers = BTreeMap<String, i64>;

/// The days that are named, by number, each with what it says itself.
fn named(case: &CaseText) -> Vec<(i64, &BTreeMap<String, Value>)> {
    (1..)
        .zip(WEEK)
        .filter_map(|(number, word)| Some((number, case.training_days.get(word)?)))
        .collect()
}

/// The week's value of what days say, and how many days there are; `fields` hold what the case says and what it
/// has where it says nothing.
pub fn fields_of_week(
    pack: &PackText,
    case: &CaseText,
    fields: &mut BTreeMap<String, Value>,
    all_said: &mut Set,
) {
    let days = named(case);
    if days.is_empty() {
        return;
    }
    for (id, field) in &pack.case_fields.whole {
        if field.counts_training_days {
            let count = i64::try_from(days.len()).unwrap();
            if let Some(said) = case.fields.get(id) {
                assert_eq!(
                    said.as_i64(),
                    Some(count),
                    "the case says {id} and names others"
                );
            }
            fields.insert(id.clone(), Value::from(count));
            all_said.insert(id.clone());
        }
        if days.iter().all(|(_, said)| said.contains_key(id)) {
            all_said.insert(id.clone());
        }
        if days.iter().any(|(_, said)| said.contains_key(id)) {
            let of_day = |said: &BTreeMap<String, Value>| {
                let value = said.get(id).unwrap_or_else(|| &fields[id]);
                value.as_i64().unwrap()
            };
            let sum: i64 = days.iter().map(|(_, said)| of_day(said)).sum();
            let mean = sum.div_euclid(i64::try_from(days.len()).unwrap());
            fields.insert(id.clone(), Value::from(mean));
        }
    }
}

/// Puts the days of a layout on those that are named; of each day the numbers that it says or else has.
pub fn laid(pack: &PackText, case: &CaseText, days: &mut [Day]) -> Vec<Numbers> {
    let named = named(case);
    if !named.is_empty() {
        assert_eq!(named.len(), days.len(), "as many days as the layout has");
    }
    let mut all = vec![Numbers::new(); days.len()];
    for (id, field) in pack
        .case_fields
        .whole
        .iter()
        .filter(|(_, field)| field.by_day)
    {
        let own = case.fields.get(id).or(field.if_missing.as_ref());
        for numbers in &mut all {
            numbers.insert(id.clone(), own.unwrap().as_i64().unwrap());
        }
    }
    for (at, (number, said)) in named.into_iter().enumerate() {
        days[at].day = number;
        for (id, value) in said {
            all[at].insert(id.clone(), value.as_i64().unwrap());
        }
    }
    all
}

impl Oracle {
    /// What a field says on a day, where days may say it; else what the case says.
    pub fn whole_on(&self, day: usize, field: &str) -> Option<i64> {
        let own = self.of_days[day].get(field).copied();
        own.or_else(|| self.facts.whole(field))
    }
}
