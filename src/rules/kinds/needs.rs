//! What comes only together with what in the same session.
//!
//! Scope: a session. An item of `what` without another item of `needs` is one
//! unit missed.

use serde::Deserialize;

use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// What comes only together with what in the same session.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Needs {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    pub(crate) needs: Selector,
    /// Only items that share a skill.
    #[serde(default)]
    pub(crate) same_skill: bool,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
