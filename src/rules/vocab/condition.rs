//! Conditions on the case, three-valued: a missing field is neither true nor false.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{At, CaseFieldId, CauseId, FaultId, PhaseId, ReferenceId, SkillId, ValueId};

use super::Range;

/// A condition on the case. Keys are joined by "and", lists by "or".
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Condition {
    /// Tests on case fields.
    #[serde(default)]
    pub(crate) case: IndexMap<At<CaseFieldId>, FieldTest>,
    /// The case is in one of these phases.
    #[serde(default)]
    pub(crate) phase: Vec<At<PhaseId>>,
    /// One of these faults was stated.
    #[serde(default)]
    pub(crate) faults: Vec<At<FaultId>>,
    /// Demand of a cause, the largest over skills, before focus.
    #[serde(default)]
    pub(crate) demand: IndexMap<At<CauseId>, Range>,
    /// One of these causes is in focus, for any skill.
    #[serde(default)]
    pub(crate) focus_causes: Vec<At<CauseId>>,
    /// One of these skills has a cause in focus.
    #[serde(default)]
    pub(crate) focus_skills: Vec<At<SkillId>>,
    /// One of these bests is stated in the case.
    #[serde(default)]
    pub(crate) known_best: Vec<At<ReferenceId>>,
    /// Days from the day on which a best was lifted to today; unknown where the case does not say the day, false where it
    /// does not state the best.
    #[serde(default)]
    pub(crate) best_age: IndexMap<At<ReferenceId>, Range>,
    /// All of these hold.
    #[serde(default)]
    pub(crate) all: Vec<Condition>,
    /// At least one of these holds.
    #[serde(default)]
    pub(crate) any: Vec<Condition>,
    /// None of these holds.
    #[serde(default)]
    pub(crate) none: Vec<Condition>,
}

/// A test of one case field; every key given must hold.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct FieldTest {
    /// A `one-of` field has one of these values.
    #[serde(default)]
    pub(crate) is: Vec<At<ValueId>>,
    /// A `one-of` field has none of these values.
    #[serde(default)]
    pub(crate) is_not: Vec<At<ValueId>>,
    /// A `some-of` field holds at least one of these values.
    #[serde(default)]
    pub(crate) has: Vec<At<ValueId>>,
    /// A `some-of` field holds none of these values.
    #[serde(default)]
    pub(crate) has_none: Vec<At<ValueId>>,
    /// A `whole` field, or the days from today to a `date` field, is at least this.
    pub(crate) at_least: Option<i64>,
    /// A `whole` field, or the days from today to a `date` field, is at most this.
    pub(crate) at_most: Option<i64>,
    /// Whether the case states the field (never unknown).
    pub(crate) known: Option<bool>,
}

/// What a rule does when its condition can't be decided from the case.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum IfUnknown {
    /// The rule speaks.
    Apply,
    /// The rule is silent.
    Skip,
}
