//! A case: the question about one lifter.

use indexmap::IndexMap;
use serde::{Deserialize, Deserializer, de};

use crate::base::{
    At, BarId, CaseFieldId, CauseId, Decimal, FaultId, GradeId, LayoutId, ObservationId, PhaseId,
    ReferenceId, RoleId, SkillId, TrackMeasureId, Weekday,
};

use super::vocab::Came;

/// What is known of one lifter, as a case file says it.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct CaseText {
    /// A label for the sheet; it decides nothing.
    pub(crate) lifter: Option<String>,
    /// The day from which dates are counted, as YYYY-MM-DD.
    pub(crate) today: Option<At<String>>,
    /// Phase of training.
    pub(crate) phase: Option<At<PhaseId>>,
    /// A layout by name, where its own condition should not decide.
    pub(crate) layout: Option<At<LayoutId>>,
    /// What was seen.
    #[serde(default)]
    pub(crate) faults: Vec<At<SeenFault>>,
    /// Further looks that were taken and were true.
    #[serde(default)]
    pub(crate) observed: Vec<At<ObservationId>>,
    /// Measured values, in the measure's whole units.
    #[serde(default)]
    pub(crate) measured: IndexMap<At<TrackMeasureId>, i64>,
    /// Causes that the coach has ruled out.
    #[serde(default)]
    pub(crate) ruled_out: Vec<At<CauseId>>,
    /// Causes that the coach is sure of, whatever was seen.
    #[serde(default)]
    pub(crate) sure_of: Vec<At<SureOf>>,
    /// Bests, in the bar's measure.
    #[serde(default)]
    pub(crate) bests: IndexMap<At<ReferenceId>, At<Best>>,
    /// What the bar is made up of.
    #[serde(default)]
    pub(crate) gym: Gym,
    /// Exercises that the lifter has not done before, by id or as they are written.
    #[serde(default)]
    pub(crate) new: Vec<At<String>>,
    /// Exercises that the lifter dislikes, by id or as they are written.
    #[serde(default)]
    pub(crate) disliked: Vec<At<String>>,
    /// Exercises that were tried, and what came of each.
    #[serde(default)]
    pub(crate) tried: Vec<At<Tried>>,
    /// Exercises of the week before, by id or as they are written.
    #[serde(default)]
    pub(crate) did_last_week: Vec<At<String>>,
    /// What stood in the week before, an entry for each line; its exercises need not stand under `did-last-week` too.
    #[serde(default)]
    pub(crate) week_before: Vec<At<DoneBefore>>,
    /// The days of the week that are trained, in their order, each with its own values of fields that days may say;
    /// where none is named, the days of the layout.
    #[serde(default)]
    pub(crate) training_days: IndexMap<At<Weekday>, IndexMap<At<CaseFieldId>, At<FieldValue>>>,
    /// Values of the pack's case fields.
    #[serde(default)]
    pub(crate) fields: IndexMap<At<CaseFieldId>, At<FieldValue>>,
    /// Values for one skill, of fields that may be said by skill.
    #[serde(default)]
    pub(crate) by_skill: IndexMap<At<SkillId>, IndexMap<At<CaseFieldId>, At<FieldValue>>>,
}

/// One fault that was seen.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct SeenFault {
    pub(crate) fault: At<FaultId>,
    /// Needed where the fault is seen in several skills.
    pub(crate) skill: Option<At<SkillId>>,
    pub(crate) grade: At<GradeId>,
    /// In how many attempts it was seen, 1 to 1 000; with `of`.
    pub(crate) seen: Option<At<u16>>,
    /// How many attempts were watched, 1 to 1 000; with `seen`.
    pub(crate) of: Option<At<u16>>,
    /// The load at which it starts, in percent of the best, 1 to 120.
    pub(crate) from_percent: Option<At<u8>>,
}

/// An exercise that was tried.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Tried {
    /// By id or as it is written.
    pub(crate) exercise: At<String>,
    pub(crate) came: Came,
}

/// Something that stood in the week before.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct DoneBefore {
    /// By id or as it is written.
    pub(crate) exercise: At<String>,
    /// What it was in the week for.
    pub(crate) role: At<RoleId>,
    /// 1 to 100.
    pub(crate) sets: At<u16>,
    /// Repetitions of one set, all components counted, 1 to 100.
    pub(crate) reps: At<u16>,
    /// Top of its load in percent of its reference, 1 to 200; none where no load was named.
    pub(crate) percent: Option<At<u16>>,
    /// In how many weeks in a row it had been done by then, 1 to 100; 1 where absent.
    pub(crate) weeks: Option<At<u16>>,
}

/// A cause that the coach is sure of.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct SureOf {
    pub(crate) cause: At<CauseId>,
    /// Needed where the cause can be behind faults of several skills.
    pub(crate) skill: Option<At<SkillId>>,
}

/// The name under which a best asks the located reader whether it stands there as a map: that
/// reader then hands itself out as something that is there, else as what stands alone.
pub(crate) const BEST_MARK: &str = "$drillwright::Best";

/// A best: a load alone, or with the day on which it was lifted.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Best {
    pub(crate) weight: At<Decimal>,
    /// As YYYY-MM-DD; unknown where absent.
    pub(crate) on: Option<At<String>>,
}

/// A best with its day.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
struct DatedBest {
    weight: At<Decimal>,
    /// The day on which it was lifted, as YYYY-MM-DD.
    on: Option<At<String>>,
}

impl<'de> Deserialize<'de> for Best {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Visitor;
        impl<'de> de::Visitor<'de> for Visitor {
            type Value = Best;
            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("a load, or a map with `weight` and `on`")
            }
            fn visit_newtype_struct<D: Deserializer<'de>>(
                self,
                alone: D,
            ) -> Result<Best, D::Error> {
                let weight = At::deserialize(alone)?;
                Ok(Best { weight, on: None })
            }
            fn visit_some<D: Deserializer<'de>>(self, map: D) -> Result<Best, D::Error> {
                let DatedBest { weight, on } = DatedBest::deserialize(map)?;
                Ok(Best { weight, on })
            }
        }
        deserializer.deserialize_newtype_struct(BEST_MARK, Visitor)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Best {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Best".into()
    }
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let alone = generator.subschema_for::<Decimal>();
        let dated = generator.subschema_for::<DatedBest>();
        schemars::json_schema!({
            "description": "A load, or a load with the day on which it was lifted.",
            "anyOf": [alone, dated],
        })
    }
}

/// What the gym has.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Gym {
    /// The bar; the first by id where absent.
    pub(crate) bar: Option<At<BarId>>,
    /// Further bars of the same measure; what is too light for the bar is done with the heaviest of them that is not too
    /// heavy for it, with the lightest where all are.
    #[serde(default)]
    pub(crate) other_bars: Vec<At<BarId>>,
    /// Whether collars are on; true where absent.
    pub(crate) collars: Option<bool>,
    /// Pairs of discs; any number of all the measure's pieces where empty.
    #[serde(default)]
    pub(crate) pairs: Vec<At<Pairs>>,
}

/// Pairs of one disc.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Pairs {
    /// Weight of one disc.
    pub(crate) weight: Decimal,
    /// How many pairs, 1 to 20.
    pub(crate) pairs: u8,
}

/// The value of a case field: a word, a whole number or a date, or a list of words.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum FieldValue {
    /// A word, a number or a date, as written.
    One(String),
    /// A list of words.
    Some(Vec<String>),
}

impl<'de> Deserialize<'de> for FieldValue {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Visitor;
        impl<'de> serde::de::Visitor<'de> for Visitor {
            type Value = FieldValue;
            fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str("a word, a whole number, a date, or a list of words")
            }
            fn visit_str<E>(self, text: &str) -> Result<FieldValue, E> {
                Ok(FieldValue::One(text.to_owned()))
            }
            fn visit_i64<E>(self, number: i64) -> Result<FieldValue, E> {
                Ok(FieldValue::One(number.to_string()))
            }
            fn visit_u64<E>(self, number: u64) -> Result<FieldValue, E> {
                Ok(FieldValue::One(number.to_string()))
            }
            fn visit_seq<A: serde::de::SeqAccess<'de>>(
                self,
                mut seq: A,
            ) -> Result<FieldValue, A::Error> {
                let mut words = Vec::new();
                while let Some(word) = seq.next_element::<String>()? {
                    words.push(word);
                }
                Ok(FieldValue::Some(words))
            }
        }
        deserializer.deserialize_any(Visitor)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for FieldValue {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "FieldValue".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "description": "A word, a whole number, a date (YYYY-MM-DD), or a list of words.",
            "type": ["string", "integer", "array"],
            "items": {"type": "string"},
        })
    }
}
