//! A least load on the bar.
//!
//! Scope: an item, such as full-diameter discs for a start from the floor. An
//! item whose lowest load is lighter is no candidate; where the load is not
//! known, nothing is ruled out.

use serde::Deserialize;

use crate::base::{At, Decimal};
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced};

/// A least load on the bar.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct LeastLoad {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    /// The bar with its collars and one pair of the lightest full-diameter piece of the gym.
    #[serde(default)]
    pub(crate) lightest_full_diameter: bool,
    /// A load in the bar's measure.
    pub(crate) at_least: Option<At<Decimal>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
