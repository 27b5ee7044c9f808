//! What a quality is worth.
//!
//! Scope: a sum over the week: 100 times the table's value of the points, less
//! the quality's scaled floor where `above-floor` says so. Several add.

use serde::Deserialize;

use crate::base::{At, QualityId, TableId};
use crate::rules::vocab::{Condition, IfUnknown, Sourced};

/// What a quality is worth.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct QualityWorth {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) qualities: Vec<At<QualityId>>,
    /// Whether points count from the quality's floor (the largest that speaks) or from zero.
    #[serde(default)]
    pub(crate) above_floor: bool,
    /// Its units are quality points.
    pub(crate) table: At<TableId>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
