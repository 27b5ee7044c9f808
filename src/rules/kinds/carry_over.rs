//! How much of the work on one skill counts for the causes of another.
//!
//! Scope: an item's effect. The effect is what it is on all skills that the work
//! trains together, so of the cause's stages those that any of them has must be
//! there; the percent of it counts, towards zero. Where several speak for a skill
//! of the work, the other skill and the cause, the largest percent counts. What a
//! skill does for itself counts whole.

use serde::Deserialize;

use crate::base::{At, CauseId, SkillId};
use crate::rules::vocab::{Condition, IfUnknown, Sourced};

/// How much of the work on one skill counts for the causes of another.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct CarryOver {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) from: At<SkillId>,
    pub(crate) to: At<SkillId>,
    pub(crate) causes: Vec<At<CauseId>>,
    pub(crate) percent: At<u16>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
