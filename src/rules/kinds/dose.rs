//! How something is dosed.
//!
//! Scope: an item. Of the rules that match, those that another matching one
//! stands `instead-of` fall away; exactly one must be left. An item that no dose
//! matches is no candidate.

use serde::Deserialize;

use crate::base::{At, DoseId, RuleId};
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced};

/// How something is dosed.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct DoseRule {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    pub(crate) give: At<DoseId>,
    /// Dose rules that this one replaces where both match.
    #[serde(default)]
    pub(crate) instead_of: Vec<At<RuleId>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
