//! The least points that a quality gets in a week.
//!
//! Scope: a sum over the week. An item gives its exercise's points, times the
//! role's `trains-percent` / 100 rounded down, where the quality's
//! `counts-when` holds, else nothing. The bound is scaled like a count's.

use serde::Deserialize;

use crate::base::{At, FactorId, QualityId};
use crate::rules::vocab::{Condition, IfUnknown, Sourced, Yields};

/// The least points that a quality gets in a week.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Floor {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) quality: At<QualityId>,
    pub(crate) points_at_least: At<i64>,
    /// Factors that scale the bounds.
    #[serde(default)]
    pub(crate) scaled_by: Vec<At<FactorId>>,
    /// Points that make one unit missed, 1 where absent; a started unit is a whole one.
    pub(crate) unit: Option<At<u16>>,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
