//! What comes before what in a session.
//!
//! Scope: a session's order. A pair in which an item of `then` stands before an
//! item of `first` is one unit missed; a pair that matches both ways is free.

use serde::Deserialize;

use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// What comes before what in a session.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Before {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) first: Selector,
    pub(crate) then: Selector,
    /// Only items that share a skill.
    #[serde(default)]
    pub(crate) same_skill: bool,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
