//! Time around the sets.
//!
//! Scope: a session. Of several that speak of its day, each value's largest counts.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, DayFilter, IfUnknown, Sourced};

/// Time around the sets.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Timing {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    /// Days that it speaks of; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
    /// Warm-up before the first item.
    pub(crate) warm_up_seconds: At<u16>,
    /// From one item to the next; counted for each item.
    pub(crate) changeover_seconds: At<u16>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
