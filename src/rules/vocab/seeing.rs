//! What attempts show: what can be said of one, what each thing is a sign of, and from how much something is concluded.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{At, AttemptFieldId, FaultId, GradeId, ObservationId, SkillId, ValueId};

use super::{Names, Sourced};

/// Something that can be said of an attempt: one of several values.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct AttemptChoice {
    pub(crate) names: Names,
    /// The question that it answers.
    pub(crate) asks: String,
    /// Skills of whose attempts it can be said; all where absent.
    #[serde(default)]
    pub(crate) skills: Vec<At<SkillId>>,
    pub(crate) values: IndexMap<At<ValueId>, AttemptValue>,
    pub(crate) source: Sourced,
}

/// One value of it.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct AttemptValue {
    pub(crate) names: Names,
    /// What it says of other fields where the attempt says nothing of them.
    #[serde(default)]
    pub(crate) implies: IndexMap<At<AttemptFieldId>, At<ValueId>>,
    /// Whether an attempt of which it is said went wrong, so that it should show some fault.
    #[serde(default)]
    pub(crate) went_wrong: bool,
}

/// Something that can be said of an attempt: a whole number.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct AttemptNumber {
    pub(crate) names: Names,
    /// The question that it answers.
    pub(crate) asks: String,
    /// Skills of whose attempts it can be said; all where absent.
    #[serde(default)]
    pub(crate) skills: Vec<At<SkillId>>,
    /// Unit in words.
    pub(crate) unit: String,
    pub(crate) from: i64,
    pub(crate) to: i64,
    pub(crate) source: Sourced,
}

/// What an attempt shows of which this was seen: a fault in a grade, or a further look.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Sign {
    /// Skills in whose attempts it is one, at least one.
    pub(crate) skills: Vec<At<SkillId>>,
    /// What was seen, all of it.
    pub(crate) seen: IndexMap<At<AttemptFieldId>, AttemptTest>,
    /// What speaks for something else, any of it.
    #[serde(default)]
    pub(crate) unless: IndexMap<At<AttemptFieldId>, AttemptTest>,
    /// The fault that it shows, with `grade`; or `look`.
    pub(crate) fault: Option<At<FaultId>>,
    /// In which grade.
    pub(crate) grade: Option<At<GradeId>>,
    /// The further look that is true by it.
    pub(crate) look: Option<At<ObservationId>>,
    /// Of a look: percent of the attempts in which it must be true, 1 to 100, where the judgement's is not meant.
    pub(crate) in_percent_at_least: Option<At<u8>>,
    /// Of a look: whether it is asked of attempts without any fault too, not only of those that show one.
    #[serde(default)]
    pub(crate) sound_ones_too: bool,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// A test of what is said of an attempt; every key given must hold.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct AttemptTest {
    /// One of these values.
    #[serde(default)]
    pub(crate) is: Vec<At<ValueId>>,
    /// A number that is at least this.
    pub(crate) at_least: Option<i64>,
    /// A number that is at most this.
    pub(crate) at_most: Option<i64>,
}

/// From how much something is concluded. Of several that are of a skill the largest of each number counts.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Judgement {
    /// Skills that it is of; all where absent.
    #[serde(default)]
    pub(crate) skills: Vec<At<SkillId>>,
    /// Nothing is concluded from fewer attempts, 1 to 1 000.
    pub(crate) attempts_at_least: At<u16>,
    /// A fault that was seen less often may be chance, 1 to 1 000.
    pub(crate) fault_seen_at_least: At<u16>,
    /// In percent of the attempts in which it could be seen: one that was seen in fewer is too seldom, 0 to 100.
    pub(crate) fault_percent_at_least: At<u8>,
    /// A grade counts that was seen, it or a worse one, so often, 1 to 1 000; else the mildest that was seen.
    pub(crate) grade_seen_at_least: At<u16>,
    /// A further look is true that was true so often, 1 to 1 000 ...
    pub(crate) look_seen_at_least: At<u16>,
    /// ... and in so many percent of the attempts in which it was looked at, 0 to 100; it is not true that was looked at so
    /// often and true in fewer.
    pub(crate) look_percent_at_least: At<u8>,
    /// A fault starts at the lightest load at which it was seen, where so many lighter attempts were free of it, 1 to 1 000.
    pub(crate) sound_below_onset_at_least: At<u16>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// What a week that somebody wrote must be to be called sound, beside the best one; all of them must hold.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct SoundWeek {
    /// Of what gives way `last` it may miss so many units more than the best, 0 to 1 000.
    pub(crate) last_more_at_most: At<u16>,
    /// The same of `middle`.
    pub(crate) middle_more_at_most: At<u16>,
    /// The same of `first`.
    pub(crate) first_more_at_most: At<u16>,
    /// In percent of what the best is worth, 0 to 100.
    pub(crate) worth_percent_at_least: At<u8>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// Whether something is of a skill; of all where it names none.
pub(crate) fn is_of(skills: &[At<SkillId>], skill: &SkillId) -> bool {
    skills.is_empty() || skills.iter().any(|of| of.value == *skill)
}
