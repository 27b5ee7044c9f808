//! What stands first or last.
//!
//! Scope: a session's order. An item of `what` with another item, not of `what`,
//! before it (`first`) or after it (`last`) in the session or part is one unit
//! missed.

use serde::Deserialize;

use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// What stands first or last.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Position {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    #[serde(rename = "where")]
    pub(crate) place: Where,
    pub(crate) of: Stretch,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// Which end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Where {
    /// The beginning.
    First,
    /// The end.
    Last,
}

/// Of what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Stretch {
    /// The whole session.
    Session,
    /// Its part of the session.
    Part,
}
