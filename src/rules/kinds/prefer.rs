//! What is preferred or costs, and by how much.
//!
//! Scope: an item. Preferences add.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, DayFilter, IfUnknown, Selector, Sourced};

/// What is preferred or costs, and by how much.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Prefer {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    /// Worth in points, below zero for a cost.
    pub(crate) weight: At<i64>,
    /// What the weight is multiplied by; once for the item where absent.
    #[serde(default)]
    pub(crate) each: Each,
    /// Days that it speaks of; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// What a weight is multiplied by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Default)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Each {
    /// Once for the item.
    #[default]
    Item,
    /// For each set.
    Set,
    /// For each point of departure; for a complex the mean over its repetitions, rounded down.
    Departure,
}
