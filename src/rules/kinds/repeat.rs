//! How often an exercise comes back in a week once it is used.
//!
//! Scope: one exercise over the days. For each exercise that has an item of
//! `what`, the number of those items; each below the least or above the most is
//! one unit missed. An exercise that is not used misses nothing.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// How often an exercise comes back in a week once it is used.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Repeat {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    /// Fewest items of one exercise, if it is used at all.
    pub(crate) at_least_if_used: Option<At<u8>>,
    /// Most items of one exercise.
    pub(crate) at_most: Option<At<u8>>,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
