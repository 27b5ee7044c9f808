//! The frame of a week and the loads, as plain structs.

use serde::Deserialize;

use super::text::{ById, Condition, Ids, Load, Points, Range, Selector, Span, Yields};
use super::yaml::Value;

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Effort {
    pub sets_at_percent: i64,
    pub reps_at_percent: i64,
    pub load_from_percent: i64,
    pub load_to_percent: i64,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Layout {
    pub when: Condition,
    pub days: Vec<Day>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Day {
    pub day: i64,
    pub effort: String,
    #[serde(default)]
    pub marks: Ids,
    pub parts: Vec<Slot>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Slot {
    pub part: String,
    #[serde(default)]
    pub at_least: i64,
    pub at_most: i64,
    #[serde(default)]
    pub yields: Yields,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Dose {
    pub sets: Span,
    pub reps: Span,
    pub percent_of_reference: Option<Span>,
    pub rest_seconds: Span,
    pub set_seconds: i64,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Measure {
    pub pieces: Vec<Piece>,
    pub in_pairs: bool,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Piece {
    pub weight: Load,
    #[serde(default)]
    pub full_diameter: bool,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Bar {
    pub measure: String,
    pub weight: Load,
    pub collar: Load,
}

#[derive(Clone, Debug, Deserialize)]
pub struct ZoneTable {
    pub zones: ById<Zone>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Zone {
    pub percent: Range,
    pub reps_per_set: Span,
    pub total: Span,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Table {
    pub below_zero: i64,
    pub steps: Vec<Step>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Step {
    pub to: i64,
    pub each: i64,
}

impl Table {
    /// The table's value of a total, one unit after the other.
    pub fn value(&self, total: i64) -> i64 {
        if total < 0 {
            return total * self.below_zero;
        }
        let mut worth = 0;
        for unit in 1..=total {
            if let Some(step) = self.steps.iter().find(|step| unit <= step.to) {
                worth += step.each;
            }
        }
        worth
    }
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Factors {
    pub by_phase: ById<ByPhase>,
    pub by_choice: ById<ByChoice>,
    pub by_number: ById<ByNumber>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct ByPhase {
    pub percents: Points,
}

#[derive(Clone, Debug, Deserialize)]
pub struct ByChoice {
    pub field: String,
    pub percents: Points,
}

#[derive(Clone, Debug, Deserialize)]
pub struct ByNumber {
    pub field: String,
    pub steps: Vec<NumberStep>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct NumberStep {
    pub from: i64,
    pub percent: i64,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct CaseFields {
    pub one_of: ById<Field>,
    pub whole: ById<Field>,
    pub some_of: ById<Field>,
    pub dates: ById<Field>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Field {
    pub if_missing: Option<Value>,
    #[serde(default)]
    pub counts_training_days: bool,
    #[serde(default)]
    pub by_day: bool,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Group {
    pub what: Selector,
}
