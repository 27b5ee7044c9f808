//! Time of the lighter sets before the first working set.
//!
//! Scope: an item. Of several that speak, the shortest counts; of those the first by id.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced};

/// Time of the lighter sets before the first working set.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Ramp {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    /// Rising `from-percent`, the first 0; by the top of the item's load, the first where no load is named.
    pub(crate) steps: Vec<At<RampStep>>,
    /// A lighter set may be lighter by this percent of its load where that takes fewer pieces, 0 to 50.
    pub(crate) lighter_for_fewer_pieces: Option<At<u16>>,
    /// How far lighter sets lie apart, and the last from the first working set, in percent of its load, 0 to 50; what lies
    /// nearer is left out.
    pub(crate) sets_apart_percent: Option<At<u16>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// From a percent on, so much time and these lighter sets.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct RampStep {
    pub(crate) from_percent: u16,
    pub(crate) seconds: u16,
    /// The lighter sets themselves, rising; they are said and change no time. None are said where absent.
    #[serde(default)]
    pub(crate) sets: Vec<At<LighterSet>>,
}

/// One lighter set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct LighterSet {
    /// Percent of the first working set's load, 1 to 99.
    pub(crate) percent_of_load: u16,
    /// Repetitions; of a complex one round is done, whatever is said here.
    pub(crate) reps: u16,
}
