//! How long a session may and should take.
//!
//! Scope: a session. Time is counted in seconds: the warm-up, and for each item
//! its ramp, its sets with a rest after each, and a changeover. A session with
//! no item takes none.

use serde::Deserialize;

use crate::base::{At, CaseFieldId};
use crate::rules::vocab::{Condition, DayFilter, IfUnknown, Sourced, Yields};

/// How long a session may and should take.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Minutes {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) at_least: Option<Amount>,
    pub(crate) at_most: Option<Amount>,
    /// Days that it speaks of; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
    /// Minutes that make one unit missed, 5 where absent; a started unit is a whole one.
    pub(crate) unit: Option<At<u16>>,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// A whole number, or a percent of a case field.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Amount {
    /// The number itself.
    pub(crate) whole: Option<i64>,
    /// A `whole` case field, the day's own where it has one; where the case leaves it open, the bound is silent.
    pub(crate) field: Option<At<CaseFieldId>>,
    /// Percent of the field, 100 where absent; rounded down.
    pub(crate) percent: Option<u16>,
}
