//! How far a share may move from that of the week before.
//!
//! Scope: a sum over the week, silent where the case has no `week-before` or `to` counts nothing there. The share of then,
//! 100 times what `of` counts by what `to` counts, is rounded up for `up-at-most` and down for `down-at-most`; with those
//! points added or taken away it is held against this week as a `proportion` is, with its units.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

use super::common::CountedIn;

/// How far a share may move from that of the week before.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Shift {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) of: Selector,
    pub(crate) to: Selector,
    /// Not in days, which a week before does not tell.
    #[serde(default)]
    pub(crate) counted_in: CountedIn,
    /// In points of percent, 0 to 100.
    pub(crate) up_at_most: Option<At<u16>>,
    /// In points of percent, 0 to 100.
    pub(crate) down_at_most: Option<At<u16>>,
    /// Counts that make one unit missed, 1 where absent; a started unit is a whole one.
    pub(crate) unit: Option<At<u16>>,
    /// Never `never`, so that the week after is always possible.
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
