//! What is kept apart by free days.
//!
//! Scope: two days. A pair of days on which an item of `what` and, on the other
//! day, an item of `from` stand closer than `free-days` is one unit missed.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// What is kept apart by free days.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Apart {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    pub(crate) from: Selector,
    /// Free calendar days between them, 1 to 6.
    pub(crate) free_days: At<u8>,
    /// Whether only `from` after `what` counts, or both ways.
    #[serde(default)]
    pub(crate) way: Way,
    /// Only items that share a skill.
    #[serde(default)]
    pub(crate) same_skill: bool,
    /// Only items of the same exercise.
    #[serde(default)]
    pub(crate) same_exercise: bool,
    /// Whether the last day is near the first of the next week; true where absent.
    pub(crate) wraps: Option<bool>,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// Which way round days count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Default)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Way {
    /// Both ways.
    #[default]
    Either,
    /// Only `from` after `what`.
    After,
}
