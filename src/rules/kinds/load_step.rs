//! A heavier or lighter load for a reason of the case.
//!
//! Scope: an item. The points of all that speak of its day add to both ends of its percent, before any cap; never below 1
//! percent.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, DayFilter, IfUnknown, Selector, Sourced};

/// A heavier or lighter load for a reason of the case.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct LoadStep {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    /// Days that it speaks of; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
    /// In points of percent of the reference, -30 to 30, not 0.
    pub(crate) points: At<i64>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
