//! What it is worth to work on a cause in focus.
//!
//! Scope: a sum over the week, for each skill and cause in focus: demand times
//! the table's value of the sum of effects in half points. Exactly one speaks.

use serde::Deserialize;

use crate::base::{At, TableId};
use crate::rules::vocab::{Condition, IfUnknown, Sourced};

/// What it is worth to work on a cause in focus.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct HelpWorth {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    /// Its units are half points of effect.
    pub(crate) table: At<TableId>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
