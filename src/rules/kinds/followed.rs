//! What must be followed by something freer.
//!
//! Scope: a session and the days after it. An item of `what` is followed within
//! a complex where a later component is freer than a component that matches;
//! within the session where a later item has a freer component; within the week
//! where a later day has one. The week does not wrap round. Freer: it shares a
//! skill, its departing constraints are a strict subset, none of them is strong,
//! and `by` holds. An item that nothing follows is one unit missed.

use serde::Deserialize;

use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// What must be followed by something freer.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Followed {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    pub(crate) by: Selector,
    /// Whether what follows must also have fewer constraints; true where absent.
    pub(crate) freer: Option<bool>,
    pub(crate) within: Within,
    /// Worth, in points, of each item that is followed in its own complex or session.
    #[serde(default)]
    pub(crate) closer_by: i64,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// How soon something freer must come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Within {
    /// In the same complex or session.
    Session,
    /// In the same complex or session, or on a later day of the week.
    Week,
}
