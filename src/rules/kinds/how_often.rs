//! How much a fault counts that was not seen in every attempt.
//!
//! Scope: the case, before demand. The steps give percents by the share of attempts in which the
//! fault was seen: the last step that the share reaches, nothing below the first. Of several that
//! speak of a fault the least percent counts. A fault of which the case does not say how often
//! counts whole. `when` may not ask for demand or focus, which follow from this.

use serde::Deserialize;

use crate::base::{At, FaultId};
use crate::rules::vocab::{Condition, IfUnknown, Sourced};

use super::common::Say;

/// How much a fault counts that was not seen in every attempt.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct HowOften {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    /// Faults that it speaks of; all where absent.
    #[serde(default)]
    pub(crate) faults: Vec<At<FaultId>>,
    /// From which share on how much counts, the smallest share first.
    pub(crate) steps: Vec<OftenStep>,
    /// Said of a fault that was seen too seldom to count: what to do.
    pub(crate) say: Say,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// How much counts from some share of the attempts on.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct OftenStep {
    /// Percent of the attempts, 1 to 100; rising.
    pub(crate) from: At<u8>,
    /// Percent of the demand that counts, 1 to 100; never falling.
    pub(crate) percent: At<u8>,
}

impl HowOften {
    /// The percent that counts of a fault seen in so many attempts of so many.
    pub(crate) fn percent(&self, (seen, of): (u16, u16)) -> u8 {
        let share = u32::from(seen) * 100 / u32::from(of).max(1);
        let reached = self
            .steps
            .iter()
            .rev()
            .find(|step| u32::from(step.from.value) <= share);
        reached.map_or(0, |step| step.percent.value)
    }

    /// Whether it speaks of a fault.
    pub(crate) fn is_of(&self, fault: &FaultId) -> bool {
        self.faults.is_empty() || self.faults.iter().any(|id| id.value == *fault)
    }
}
