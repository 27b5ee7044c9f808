//! A case: the question about one lifter.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{
    At, BarId, CaseFieldId, CauseId, Decimal, FaultId, GradeId, LayoutId, ObservationId, PhaseId,
    ReferenceId, SkillId, TrackMeasureId, Weekday,
};

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
    /// Bests, in the bar's measure.
    #[serde(default)]
    pub(crate) bests: IndexMap<At<ReferenceId>, At<Decimal>>,
    /// What the bar is made up of.
    #[serde(default)]
    pub(crate) gym: Gym,
    /// Exercises that the lifter has not done before, by id or as they are written.
    #[serde(default)]
    pub(crate) new: Vec<At<String>>,
    /// Exercises that the lifter dislikes, by id or as they are written.
    #[serde(default)]
    pub(crate) disliked: Vec<At<String>>,
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
}

/// What the gym has.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Gym {
    /// The bar; the first by id where absent.
    pub(crate) bar: Option<At<BarId>>,
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
