//! What a pack says, as plain structs. Ids are plain text; what only explains is left out.

use std::collections::BTreeMap;

use serde::{Deserialize, Deserializer};

use super::frame_text::{
    Bar, CaseFields, Dose, Effort, Factors, Group, Layout, Measure, Table, ZoneTable,
};
use super::rule_text::RuleTexts;
use super::yaml::Value;

pub type Ids = Vec<String>;
pub type ById<T> = BTreeMap<String, T>;
pub type Points = BTreeMap<String, i64>;

#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Range {
    pub at_least: Option<i64>,
    pub at_most: Option<i64>,
}

impl Range {
    pub fn holds(self, value: i64) -> bool {
        self.at_least.is_none_or(|least| least <= value)
            && self.at_most.is_none_or(|most| value <= most)
    }
}

#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Span {
    pub from: i64,
    pub to: i64,
}

impl Span {
    /// The number that stands this far in the span, rounded down.
    pub fn at(self, percent: i64) -> i64 {
        self.from + (self.to - self.from) * percent / 100
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Yields {
    #[default]
    Never,
    Last,
    Middle,
    First,
}

/// A load with at most three digits after the point, in thousandths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Load(pub i64);

impl<'de> Deserialize<'de> for Load {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = match Value::deserialize(from)? {
            Value::Number(number) => number.to_string(),
            Value::String(text) => text,
            other => panic!("{other:?} is no load"),
        };
        let (whole, part) = text.split_once('.').unwrap_or((&text, "0"));
        let part = format!("{part:0<3}");
        assert_eq!(part.len(), 3, "{text} has too many digits");
        Ok(Self(
            whole.parse::<i64>().unwrap() * 1000 + part.parse::<i64>().unwrap(),
        ))
    }
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Condition {
    pub case: ById<FieldTest>,
    pub phase: Ids,
    pub faults: Ids,
    pub demand: ById<Range>,
    pub focus_causes: Ids,
    pub focus_skills: Ids,
    pub known_best: Ids,
    pub best_age: ById<Range>,
    pub all: Vec<Condition>,
    pub any: Vec<Condition>,
    pub none: Vec<Condition>,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct FieldTest {
    pub is: Ids,
    pub is_not: Ids,
    pub has: Ids,
    pub has_none: Ids,
    pub at_least: Option<i64>,
    pub at_most: Option<i64>,
    pub known: Option<bool>,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default, deny_unknown_fields)]
pub struct Selector {
    pub everything: bool,
    pub exercises: Ids,
    pub under: Ids,
    pub skills: Ids,
    pub groups: Ids,
    pub with_any: Ids,
    pub with_all: Ids,
    pub with_none: Ids,
    pub unconstrained: Option<bool>,
    pub departing: Option<Range>,
    pub strong: Option<Range>,
    pub departure: Option<Range>,
    pub stages_all: Ids,
    pub stages_none: Ids,
    pub full: Ids,
    pub case_of_skill: ById<FieldTest>,
    pub in_focus: Option<bool>,
    pub alone: Option<bool>,
    pub reps_in_complex: Option<Range>,
    pub best_effect_on_focus: Option<Range>,
    pub worst_effect_on_focus: Option<Range>,
    pub shows: Ids,
    pub like_tried: Ids,
    pub helps: Ids,
    pub trains: ById<Range>,
    pub new: Option<bool>,
    pub disliked: Option<bool>,
    pub tried: Ids,
    pub did_last_week: Option<bool>,
    pub weeks_in_a_row: Option<Range>,
    pub further_than_before: Option<Range>,
    pub roles: Ids,
    pub parts: Ids,
    pub efforts: Ids,
    pub percent: Option<Range>,
    pub any: Vec<Selector>,
    pub not: Vec<Selector>,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default, deny_unknown_fields)]
pub struct DayFilter {
    pub efforts: Ids,
    pub marks: Ids,
    pub without_marks: Ids,
    pub eve_of: Ids,
    pub case_of_day: ById<FieldTest>,
}

impl DayFilter {
    pub fn is_empty(&self) -> bool {
        self.efforts.is_empty()
            && self.marks.is_empty()
            && self.without_marks.is_empty()
            && self.eve_of.is_empty()
            && self.case_of_day.is_empty()
    }
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct PackText {
    pub skills: ById<Skill>,
    pub references: ById<Reference>,
    pub axes: ById<Axis>,
    pub exercises: Exercises,
    pub faults: ById<Fault>,
    pub causes: Causes,
    pub observations: ById<Observation>,
    pub qualities: ById<Quality>,
    pub roles: ById<Role>,
    pub parts: ById<Part>,
    pub efforts: ById<Effort>,
    pub phases: ById<Value>,
    pub layouts: ById<Layout>,
    pub doses: ById<Dose>,
    pub measures: ById<Measure>,
    pub bars: ById<Bar>,
    pub zone_tables: ById<ZoneTable>,
    pub tables: ById<Table>,
    pub factors: Factors,
    pub case_fields: CaseFields,
    pub groups: ById<Group>,
    pub rules: RuleTexts,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Skill {
    #[serde(default)]
    pub stages: Ids,
    pub reference: Option<String>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Reference {
    #[serde(default)]
    pub instead: Vec<Instead>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Instead {
    pub from: String,
    pub percent: i64,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Axis {
    pub holds: String,
    pub unset: Option<String>,
    pub constraints: ById<Constraint>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Constraint {
    #[serde(default)]
    pub effect: Points,
    #[serde(default)]
    pub cuts: Ids,
    #[serde(default)]
    pub departs: i64,
    #[serde(default)]
    pub strong: bool,
    pub load_percent: Option<i64>,
    #[serde(default)]
    pub trains: Points,
    #[serde(default)]
    pub stress: Points,
    pub asks: Option<Condition>,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct Exercises {
    pub roots: ById<Root>,
    pub variations: ById<Variation>,
    pub complexes: ById<Complex>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Root {
    pub skills: Ids,
    pub form: String,
    pub reference: Option<String>,
    pub highest: Option<Stated>,
    #[serde(default)]
    pub with: Ids,
    #[serde(default)]
    pub trains: Points,
    #[serde(default)]
    pub stress: Points,
    #[serde(default)]
    pub effect: Points,
    pub roles: Ids,
    pub asks: Option<Condition>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
pub struct Stated {
    pub percent: i64,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Variation {
    pub from: String,
    #[serde(default)]
    pub with: Ids,
    #[serde(default)]
    pub drops: Ids,
    pub reference: Option<String>,
    pub highest: Option<Stated>,
    pub trains: Option<Points>,
    pub stress: Option<Points>,
    #[serde(default)]
    pub effect: Points,
    pub roles: Option<Ids>,
    pub asks: Option<Condition>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Complex {
    pub components: Vec<ComponentText>,
    pub roles: Ids,
    pub percent_less: i64,
    pub trains: Option<Points>,
    pub stress: Option<Points>,
    pub asks: Option<Condition>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct ComponentText {
    #[serde(rename = "do")]
    pub exercise: String,
    pub reps: i64,
    #[serde(default)]
    pub with: Ids,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Fault {
    pub skills: Ids,
    pub grades: ById<Grade>,
    pub causes: ById<Share>,
    #[serde(default)]
    pub onset: Points,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Grade {
    pub severity: i64,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Share {
    pub percent: i64,
    #[serde(default)]
    pub raised_by: Points,
    #[serde(default)]
    pub ruled_out_by: Ids,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct Causes {
    pub movement: ById<MovementCause>,
    pub capacity: ById<CapacityCause>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct MovementCause {
    pub stages: Ids,
    #[serde(default)]
    pub opposes: Ids,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct CapacityCause {
    pub served_by: Ids,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Observation {
    pub measured: Option<Measured>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Measured {
    pub by: String,
    pub is: Range,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Quality {
    pub counts_when: Option<Selector>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct Role {
    pub help: String,
    pub trains_percent: i64,
    pub stress_percent: i64,
    #[serde(default)]
    pub gate: Gate,
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Gate {
    pub full_form: bool,
    pub skill_in_focus: bool,
    pub best_effect_on_focus: Option<Range>,
    pub worst_effect_on_focus: Option<Range>,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Part {
    pub roles: Ids,
    pub what: Option<Selector>,
}
