//! A slow, plain reading of what rule files mean, written from the description alone.
//!
//! It shares no code with the crate. It tries every week, so that what the crate
//! proves can be held against it on packs that are small enough.

use std::collections::BTreeMap;

use serde_yaml as yaml;

mod against;
mod best;
mod broken;
mod builtin;
mod case;
pub mod crate_says;
mod days;
mod demand;
mod dose;
mod effect;
mod frame_text;
mod movement;
mod place;
mod quick;
mod readings;
mod rule_text;
mod select;
mod session;
mod text;
mod week;

use case::{CaseText, Facts};
use frame_text::Day;
use movement::{Exercise, Set};
use text::PackText;
use yaml::Value;

/// Part, role and exercise of one item.
pub type Placed = (String, String, String);

/// What a week breaks, misses and is worth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verdict {
    /// Ids of hard rules, and words for what stands where it may not.
    pub hard_broken: Vec<String>,
    /// Units missed on the levels last, middle, first.
    pub missed: [i64; 3],
    pub missed_by_rule: BTreeMap<String, i64>,
    pub worth: i64,
    pub tie: i64,
}

/// A pack and a case, worked out as far as no week is needed.
#[derive(Debug)]
pub struct Oracle {
    /// Its rules are those that speak.
    pub pack: PackText,
    pub case: CaseText,
    pub facts: Facts,
    pub exercises: BTreeMap<String, Exercise>,
    pub days: Vec<Day>,
    /// By day: numbers of the fields that days may say.
    pub of_days: Vec<days::Numbers>,
    pub allowed: Set,
    /// For competition forms that are not allowed and that a rule speaks of.
    pub stand_ins: BTreeMap<String, Option<String>>,
}

impl Oracle {
    pub fn new(pack_files: &[(String, String)], case_text: &str) -> Self {
        let mut whole = Value::Mapping(yaml::Mapping::new());
        for (name, text) in pack_files {
            let file: Value =
                yaml::from_str(text).unwrap_or_else(|error| panic!("{name}: {error}\n{text}"));
            lay_over(&mut whole, file);
        }
        let mut pack: PackText = yaml::from_value(whole).unwrap();
        let case: Value = yaml::from_str(case_text).unwrap();
        let (case, best_days) = case::undated(case["case"].clone());
        let mut case: CaseText = yaml::from_value(case).unwrap();
        case.best_days = best_days;

        let mut facts = Facts::new(&pack, &case);
        facts.sure = demand::sure(&pack, &case);
        let speaks = |facts: &Facts, speaks: &rule_text::Speaks| {
            let answer = speaks
                .when
                .as_ref()
                .map_or(Some(true), |when| facts.asks(when));
            answer.unwrap_or(speaks.if_unknown.as_deref() == Some("apply"))
        };
        // Nothing is asked for yet when it is weighed how often a fault was seen.
        let often: Vec<_> = pack.rules.how_often.values().cloned().collect();
        let often: Vec<_> = often
            .iter()
            .filter(|rule| speaks(&facts, &rule.speaks))
            .collect();
        facts.demand = demand::demand(&pack, &case, &facts.sure, &often);
        let focus_rules: Vec<_> = pack
            .rules
            .focus
            .values()
            .filter(|rule| speaks(&facts, &rule.speaks))
            .cloned()
            .collect();
        facts.focus = demand::focus(&pack, &facts, &focus_rules.iter().collect::<Vec<_>>());
        pack.rules.keep(|rule| speaks(&facts, rule));

        let mut fits = pack
            .layouts
            .iter()
            .filter(|(id, layout)| match &case.layout {
                Some(named) => named == *id,
                None => facts.asks(&layout.when) == Some(true),
            });
        let mut days = fits.next().expect("no layout fits").1.days.clone();
        assert!(fits.next().is_none(), "two layouts fit");
        let of_days = days::laid(&pack, &case, &mut days);

        let exercises = movement::exercises(&pack, &case.bests);
        let mut oracle = Self {
            pack,
            case,
            facts,
            exercises,
            days,
            of_days,
            allowed: Set::new(),
            stand_ins: BTreeMap::new(),
        };
        let allowed = oracle
            .exercises
            .values()
            .filter(|exercise| oracle.find_allowed(exercise));
        oracle.allowed = allowed.map(|exercise| exercise.id.clone()).collect();
        oracle.stand_ins = oracle.find_stand_ins();
        oracle
    }
}

/// Lays one file over what was read before, map by map.
fn lay_over(whole: &mut Value, file: Value) {
    match (whole, file) {
        (Value::Mapping(held), Value::Mapping(more)) => {
            for (key, value) in more {
                match held.get_mut(&key) {
                    Some(inner) if inner.is_mapping() => lay_over(inner, value),
                    _ => {
                        held.insert(key, value);
                    }
                }
            }
        }
        (whole, file) => *whole = file,
    }
}

mod kinds;
mod made;
pub mod make;
pub mod sized;
