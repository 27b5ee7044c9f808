//! What must be said with a week.
//!
//! Scope: the case, and the week where `what` is given.

use serde::Deserialize;

use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced};

use super::common::Say;

/// What must be said with a week.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Caution {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    /// Said only where the week has such an item.
    pub(crate) what: Option<Selector>,
    pub(crate) say: Say,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
