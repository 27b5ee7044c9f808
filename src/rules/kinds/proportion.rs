//! A share of one kind of work in another.
//!
//! Scope: a sum over the week. 100 times what `of` counts is held against the
//! percent times what `to` counts; each started hundred times `unit` of the
//! difference is one unit missed.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

use super::common::CountedIn;

/// A share of one kind of work in another.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Proportion {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) of: Selector,
    pub(crate) to: Selector,
    #[serde(default)]
    pub(crate) counted_in: CountedIn,
    pub(crate) percent_at_most: Option<At<u16>>,
    pub(crate) percent_at_least: Option<At<u16>>,
    /// Counts that make one unit missed, 1 where absent; a started unit is a whole one.
    pub(crate) unit: Option<At<u16>>,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
