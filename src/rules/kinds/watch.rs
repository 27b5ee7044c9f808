//! What to look at while an exercise is done, and when to take load off or stop.
//!
//! Scope: an item. Of several that speak, the one with the highest rank is said; of those the one on whose `helps` (its own or
//! of one of its `any`) the item has the most effect, then the one of whose `shows` a cause has the most demand, and then the first by id.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced};

use super::common::Say;

/// What to look at while an exercise is done, and when to take load off or stop.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Watch {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    /// 0 to 100: the highest of those that speak is said.
    pub(crate) rank: At<u16>,
    /// What to look at: a few words.
    pub(crate) look: Say,
    /// When to take load off or stop: a few words.
    pub(crate) lighten: Say,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
