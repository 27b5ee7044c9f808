//! The most that is put on the bar.
//!
//! Scope: an item. Caps take the least; a dose above a cap is moved down as a
//! whole, its width kept, never below 1 percent.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced};

/// The most that is put on the bar.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Cap {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    /// In percent of the exercise's reference.
    pub(crate) percent_of_reference_at_most: Option<At<u16>>,
    /// In percent of the most that can be done in this very exercise.
    pub(crate) percent_of_own_highest_at_most: Option<At<u16>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
