//! Several weeks in a row: how a training block is laid out, and which figures of its weeks are looked at.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{At, CaseFieldId, PhaseId, ValueId};

use super::{Condition, Names, Selector, Sourced, Span};

/// How the weeks of a training block are laid out.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct TrainingBlock {
    pub(crate) names: Names,
    /// Cases that it is for; all where absent.
    pub(crate) when: Option<Condition>,
    /// How many weeks it may have, 1 to 52.
    pub(crate) weeks: At<Span>,
    /// A date field whose day must lie in its last week; one that has this is taken before others.
    pub(crate) ends_on: Option<At<CaseFieldId>>,
    /// What it is made of, in their order, at least one.
    pub(crate) stretches: Vec<At<Stretch>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// Weeks of one phase.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Stretch {
    pub(crate) phase: At<PhaseId>,
    /// How many weeks it may have; those of its phase where absent.
    pub(crate) weeks: Option<At<Span>>,
    /// Its share of the block's weeks, 1 to 100; what is left by the bounds goes to whatever lacks most of its share.
    pub(crate) percent: At<u8>,
    /// What its weeks say of a case field, whatever the case says of it.
    pub(crate) wave: Option<Wave>,
}

/// What weeks say of a case field, one after the other.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Wave {
    /// A `one-of` field.
    pub(crate) field: At<CaseFieldId>,
    /// Again and again, so that the last is of the stretch's last week; weeks that are left before the first whole wave are as
    /// its first. At least one.
    pub(crate) weeks: Vec<At<WaveWeek>>,
}

/// What a week of a wave says.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct WaveWeek {
    /// The field's value.
    pub(crate) is: At<ValueId>,
}

/// A figure of a week that is looked at over the weeks.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct WeekFigure {
    pub(crate) names: Names,
    /// What it is of, in words.
    pub(crate) means: String,
    /// Items that it counts.
    pub(crate) what: Selector,
    /// How.
    pub(crate) counted: Counted,
    /// Of what it is the share, in percent of the same count; it is no share where absent.
    pub(crate) share_of: Option<Selector>,
    /// Whether the overview of a block draws it; each of them is printed.
    #[serde(default)]
    pub(crate) drawn: bool,
    /// Where it should lie in weeks of a phase.
    #[serde(default)]
    pub(crate) ranges: IndexMap<At<PhaseId>, FigureRange>,
    pub(crate) source: Sourced,
}

/// How a figure counts items.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Counted {
    /// Sets.
    Sets,
    /// Repetitions, all components counted.
    Reps,
    /// The mean percent of the reference, the middle of each load weighed by repetitions, rounded down; without what has no
    /// load.
    MeanPercent,
}

/// Where a figure should lie.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct FigureRange {
    /// The least, 0 to 10 000.
    pub(crate) from: i64,
    /// The most, 0 to 10 000.
    pub(crate) to: i64,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
