//! A least load on the bar.
//!
//! Scope: an item, such as full-diameter discs for a start from the floor. An
//! item whose lowest load is lighter is no candidate, or is one beside which
//! something is said; where the load is not known, neither.

use serde::Deserialize;

use crate::base::{At, Decimal};
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced};

use super::common::Say;

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
    /// Said beside an item that is lighter, which then is not ruled out.
    pub(crate) say: Option<Say>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
