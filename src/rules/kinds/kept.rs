//! What was begun is done again until it has been done long enough.
//!
//! Scope: sums over the week, one for each exercise of the case's `week-before` of which `what` holds as it stood there and
//! that was done in fewer weeks in a row than `weeks`. It is one unit missed where no item of that exercise, of which `what`
//! holds too, stands in the week.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// What was begun is done again until it has been done long enough.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Kept {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    /// For how many weeks in a row at least, 2 to 12.
    pub(crate) weeks: At<u8>,
    /// Never `never`, so that the week after is always possible.
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
