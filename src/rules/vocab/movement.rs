//! Skills, axes with their constraints, and exercises.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{
    At, CauseId, ConstraintId, ExerciseId, QualityId, ReferenceId, RoleId, SkillId, StageId,
    StressId,
};

use super::{Condition, Names, Sourced};

/// What is trained as a whole.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Skill {
    pub(crate) names: Names,
    /// Stages in order of time; none for a skill that has none.
    #[serde(default)]
    pub(crate) stages: Vec<At<StageId>>,
    /// The best that loads of this skill are a percent of.
    pub(crate) reference: Option<At<ReferenceId>>,
    pub(crate) source: Sourced,
}

/// What a constraint is about.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Axis {
    pub(crate) names: Names,
    pub(crate) holds: Holds,
    /// The value when nothing is said; only on an axis that holds one.
    pub(crate) unset: Option<At<ConstraintId>>,
    pub(crate) constraints: IndexMap<At<ConstraintId>, Constraint>,
}

/// How many values an axis holds at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Holds {
    /// A new value replaces the inherited one.
    One,
    /// A new value is added.
    Many,
}

/// The most that a constraint can cost in likeness to the full lift.
pub(crate) const MOST_DEPARTURE: i64 = 9;

/// One thing that an exercise imposes or takes away.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Constraint {
    pub(crate) names: Names,
    /// What it does to each cause, from -3 (feeds it) to 3 (takes it away).
    #[serde(default)]
    pub(crate) effect: IndexMap<At<CauseId>, At<i8>>,
    /// Stages that are no longer there.
    #[serde(default)]
    pub(crate) cuts: Vec<At<StageId>>,
    /// Cost in likeness to the full lift, 0 to 9.
    #[cfg_attr(feature = "schema", schemars(range(min = 0, max = 9)))]
    #[serde(default)]
    pub(crate) departs: u8,
    /// Strongly constrained work must lead back to something freer.
    #[serde(default)]
    pub(crate) strong: bool,
    /// What can be lifted under it, as a percent of the same without it; an estimate.
    pub(crate) load_percent: Option<At<u16>>,
    /// Stages in which it happens; it cannot stand where all of them are missing or cut.
    #[serde(default)]
    pub(crate) during: Vec<At<StageId>>,
    /// Constraints of other axes beside which it cannot stand.
    #[serde(default)]
    pub(crate) not_with: Vec<At<ConstraintId>>,
    /// What takes its place in a complex behind a first component that has it not.
    pub(crate) behind_others: Option<At<ConstraintId>>,
    /// Quality points that it adds or takes.
    #[serde(default)]
    pub(crate) trains: IndexMap<At<QualityId>, i8>,
    /// Stress points that it adds or takes.
    #[serde(default)]
    pub(crate) stress: IndexMap<At<StressId>, i8>,
    /// What the case must allow.
    pub(crate) asks: Option<Condition>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// Whether a root is a competition lift.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Form {
    /// The form that a federation judges.
    Competition,
    /// Anything else.
    Training,
}

/// An exercise with no parent.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Root {
    pub(crate) names: Names,
    /// One or more skills that it trains as a whole.
    pub(crate) skills: Vec<At<SkillId>>,
    pub(crate) form: Form,
    /// Its reference where it is not the skill's.
    pub(crate) reference: Option<At<ReferenceId>>,
    /// The most that can be done, as a percent of the reference; an estimate of 100, which caps nothing, where absent.
    pub(crate) highest: Option<Stated>,
    /// Constraints that it has by nature.
    #[serde(default)]
    pub(crate) with: Vec<At<ConstraintId>>,
    /// Quality points of one placing.
    #[serde(default)]
    pub(crate) trains: IndexMap<At<QualityId>, i8>,
    /// Stress points of one placing.
    #[serde(default)]
    pub(crate) stress: IndexMap<At<StressId>, i8>,
    /// Effects of its own, from -3 to 3.
    #[serde(default)]
    pub(crate) effect: IndexMap<At<CauseId>, At<i8>>,
    pub(crate) roles: Vec<At<RoleId>>,
    /// What the case must allow.
    pub(crate) asks: Option<Condition>,
    /// What it is used for.
    #[serde(rename = "use")]
    pub(crate) used_for: String,
    pub(crate) source: Sourced,
}

/// A share of a reference that is known, with its source.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Stated {
    /// Percent of the reference, 1 to 200.
    pub(crate) percent: At<u16>,
    pub(crate) source: Sourced,
}

/// An exercise that differs from its parent by constraints.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Variation {
    pub(crate) names: Names,
    /// The parent: another exercise, not a complex.
    pub(crate) from: At<ExerciseId>,
    /// Constraints added; on an axis that holds one they replace the inherited one.
    #[serde(default)]
    pub(crate) with: Vec<At<ConstraintId>>,
    /// Inherited constraints that go back to the axis' unset value.
    #[serde(default)]
    pub(crate) drops: Vec<At<ConstraintId>>,
    /// Its reference where it is not the parent's.
    pub(crate) reference: Option<At<ReferenceId>>,
    /// The most that can be done, where it is known.
    pub(crate) highest: Option<Stated>,
    /// Quality points of one placing, where they are not computed.
    pub(crate) trains: Option<IndexMap<At<QualityId>, i8>>,
    /// Stress points of one placing, where they are not computed.
    pub(crate) stress: Option<IndexMap<At<StressId>, i8>>,
    /// Effects of its own; they need `because`.
    #[serde(default)]
    pub(crate) effect: IndexMap<At<CauseId>, At<i8>>,
    /// Roles that it may take; the parent's where absent.
    pub(crate) roles: Option<Vec<At<RoleId>>>,
    /// What the case must allow, besides what its constraints ask.
    pub(crate) asks: Option<Condition>,
    /// What it is used for.
    #[serde(rename = "use")]
    pub(crate) used_for: String,
    pub(crate) because: Option<String>,
    #[serde(default)]
    pub(crate) source: Sourced,
}

/// Several components done without putting the bar down.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Complex {
    pub(crate) names: Names,
    /// Two or more, in order.
    pub(crate) components: Vec<At<Component>>,
    pub(crate) roles: Vec<At<RoleId>>,
    /// Percent points that the load stays below its weakest part's.
    pub(crate) percent_less: u8,
    /// Quality points of one placing; the largest of any component where absent.
    pub(crate) trains: Option<IndexMap<At<QualityId>, i8>>,
    /// Stress points of one placing; the largest of any component where absent.
    pub(crate) stress: Option<IndexMap<At<StressId>, i8>>,
    /// What the case must allow, besides what its components ask.
    pub(crate) asks: Option<Condition>,
    /// What it is used for.
    #[serde(rename = "use")]
    pub(crate) used_for: String,
    pub(crate) source: Sourced,
}

/// One part of a complex.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Component {
    /// The exercise, not a complex.
    #[serde(rename = "do")]
    pub(crate) exercise: At<ExerciseId>,
    /// Repetitions, 1 to 10.
    pub(crate) reps: At<u8>,
    /// Constraints on top of the exercise's own; where they change it, what is done is a variation with no name.
    #[serde(default)]
    pub(crate) with: Vec<At<ConstraintId>>,
}
