//! What stands directly before or after what.
//!
//! Scope: a session's order. An item of `what` whose next (`before`) or previous
//! (`after`) item is not of `which` is one unit missed.

use serde::Deserialize;

use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// What stands directly before or after what.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Adjacent {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    pub(crate) directly: Side,
    pub(crate) which: Selector,
    /// Only items that share a skill.
    #[serde(default)]
    pub(crate) same_skill: bool,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// On which side the neighbour stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Side {
    /// `what` stands directly before it.
    Before,
    /// `what` stands directly after it.
    After,
}
