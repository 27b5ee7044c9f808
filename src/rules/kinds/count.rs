//! How many of something a week or a session has.
//!
//! Scope: `per: session` is about each session that `on` names; `per: week` is a
//! sum over the days that `on` names. Both bounds are scaled by each factor in
//! turn: all products first, then one division by 100 for each factor, rounded down.

use serde::Deserialize;

use crate::base::{At, FactorId};
use crate::rules::vocab::{Condition, DayFilter, IfUnknown, Selector, Sourced, Yields};

use super::common::{CountedIn, Per};

/// How many of something a week or a session has.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Count {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    pub(crate) per: Per,
    /// What is counted; `items` where absent.
    #[serde(default)]
    pub(crate) counted_in: CountedIn,
    pub(crate) at_least: Option<At<i64>>,
    pub(crate) at_most: Option<At<i64>>,
    /// Factors that scale the bounds.
    #[serde(default)]
    pub(crate) scaled_by: Vec<At<FactorId>>,
    /// Days that it speaks of; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
    /// Counts that make one unit missed, 1 where absent; a started unit is a whole one.
    pub(crate) unit: Option<At<u16>>,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
