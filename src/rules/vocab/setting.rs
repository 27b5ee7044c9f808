//! Case fields: what a case can say beyond faults, bests and phase.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{At, ValueId};

use super::{Names, Sourced};

/// A field that holds one of several values.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct OneOfField {
    pub(crate) names: Names,
    pub(crate) values: IndexMap<At<ValueId>, Names>,
    /// The value where the case says nothing; unknown where absent.
    pub(crate) if_missing: Option<At<ValueId>>,
    /// Whether a case may say it for each skill apart.
    #[serde(default)]
    pub(crate) by_skill: bool,
}

/// A field that holds a whole number.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct WholeField {
    pub(crate) names: Names,
    /// Unit in words.
    pub(crate) unit: String,
    pub(crate) from: i64,
    pub(crate) to: i64,
    /// The value where the case says nothing; unknown where absent.
    pub(crate) if_missing: Option<At<i64>>,
    /// Whether it counts the training days, so that a case which names them says it so; of one field at most.
    #[serde(default)]
    pub(crate) counts_training_days: bool,
    /// Whether a training day that a case names may say its own value; only with an `if-missing`.
    #[serde(default)]
    pub(crate) by_day: bool,
    /// Where its numbers come from.
    #[serde(default)]
    pub(crate) source: Sourced,
}

/// A field that holds any number of values.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct SomeOfField {
    pub(crate) names: Names,
    pub(crate) values: IndexMap<At<ValueId>, Names>,
    /// The values where the case says nothing; unknown where absent.
    pub(crate) if_missing: Option<Vec<At<ValueId>>>,
}

/// A field that holds a calendar date; tests read the days from the case's `today`.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct DateField {
    pub(crate) names: Names,
}
