//! What is not loaded above what in the same session.
//!
//! Scope: a session. A pair of items with the same reference, both with loads,
//! in which the top of `what` is above the bound is one unit missed.

use serde::Deserialize;

use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// What is not loaded above what in the same session.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Lighter {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    pub(crate) than: Selector,
    /// Which end of `than`'s load it is held against.
    pub(crate) against: Against,
    /// Percent points above that end that are still allowed.
    #[serde(default)]
    pub(crate) above_at_most: u16,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// Which end of a load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Against {
    /// The lowest.
    Low,
    /// The highest.
    Top,
}
