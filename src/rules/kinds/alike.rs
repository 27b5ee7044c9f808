//! How many of a similar kind a session takes.
//!
//! Scope: a session. Items of `what` are grouped by what they have the same (an
//! item can be in two groups); each above the bound is one unit missed.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, DayFilter, IfUnknown, Selector, Sourced, Yields};

/// How many of a similar kind a session takes.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Alike {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    pub(crate) same: Same,
    pub(crate) at_most: At<u8>,
    /// Days that it speaks of; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// What makes two items alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Same {
    /// They share a skill.
    Skill,
    /// They share a root; a complex has the roots of all its components.
    Root,
    /// They stand under the same exercise: the parent of a variation, a root itself, and what a complex does first.
    Parent,
}
