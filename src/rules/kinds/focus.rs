//! How many causes are worked on at once.
//!
//! Scope: the case. Of several that speak, the strictest of each bound counts: the
//! least numbers, the largest demand. Causes are taken by falling demand, then by
//! id; a cause that opposes one already taken for the skill waits. Where none
//! speaks, all causes are worked on, opposed or not.

use serde::Deserialize;

use crate::base::At;
use crate::rules::vocab::{Condition, IfUnknown, Sourced};

/// How many causes are worked on at once.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Focus {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    /// Most causes in focus for each skill.
    pub(crate) per_skill_at_most: At<u8>,
    /// Most causes in focus over all skills.
    pub(crate) in_all_at_most: Option<At<u8>>,
    /// Least demand that is worked on.
    pub(crate) demand_at_least: Option<At<i64>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
