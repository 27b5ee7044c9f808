//! Fewer sets for a reason of the case.
//!
//! Scope: an item. Trims that speak of its day add; the largest `sets-at-least` of those holds.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, DayFilter, IfUnknown, Selector, Sourced};

/// Fewer sets for a reason of the case.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Trim {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    /// Days that it speaks of; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
    pub(crate) sets_fewer: At<u8>,
    /// Never fewer than this.
    pub(crate) sets_at_least: At<u8>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
