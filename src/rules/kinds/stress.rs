//! The most stress on a region.
//!
//! Scope: a session or a sum over the week. An item gives its exercise's points,
//! times the role's `stress-percent` / 100 rounded down.

use serde::Deserialize;

use crate::base::{At, StressId};
use crate::rules::vocab::{Condition, DayFilter, IfUnknown, Sourced, Yields};

use super::common::Per;

/// The most stress on a region.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct StressCap {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) of: At<StressId>,
    pub(crate) per: Per,
    pub(crate) at_most: At<i64>,
    /// Days that it speaks of; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
    /// Points that make one unit missed, 1 where absent; a started unit is a whole one.
    pub(crate) unit: Option<At<u16>>,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
