//! What is seen and what is behind it: faults, causes, observations, qualities.

use std::collections::BTreeMap;

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{
    AspectId, At, CauseId, FaultId, GradeId, ObservationId, QualityId, SkillId, StageId,
    TrackMeasureId,
};

use super::{Names, Range, Selector, Sourced, TrackTake};

/// Something that can be seen from the platform's edge.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Fault {
    pub(crate) names: Names,
    /// Skills in which it is seen.
    pub(crate) skills: Vec<At<SkillId>>,
    /// What it is about (path, height, speed ...), so that look-alikes are told apart.
    pub(crate) aspect: AspectId,
    /// Grades, mildest first.
    pub(crate) grades: IndexMap<At<GradeId>, Grade>,
    /// Causes with their shares; the percents sum to 100.
    pub(crate) causes: IndexMap<At<CauseId>, Share>,
    /// Observations that hold of this fault by themselves where it starts at this percent of the best or above.
    #[serde(default)]
    pub(crate) onset: IndexMap<At<ObservationId>, At<u8>>,
    /// Faults that look alike, with the look that separates them.
    #[serde(default)]
    pub(crate) not_to_confuse: IndexMap<At<FaultId>, String>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

impl Fault {
    /// Further looks that hold of it by themselves where it starts at so many percent of the best.
    pub(crate) fn true_from(&self, percent: i64) -> impl Iterator<Item = &ObservationId> {
        let onset = self.onset.iter();
        let reached = onset.filter(move |(_, least)| percent >= i64::from(least.value));
        reached.map(|(look, _)| &look.value)
    }
}

/// One grade of a fault.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Grade {
    /// 1 (mild) to 3 (the lift is lost).
    pub(crate) severity: At<u8>,
    /// What it looks like, in words.
    pub(crate) says: String,
}

/// How much of a fault one cause explains.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Share {
    /// Percent of the fault, 0 to 100.
    pub(crate) percent: At<u8>,
    /// Observations that raise the share, by how many percent points.
    #[serde(default)]
    pub(crate) raised_by: IndexMap<At<ObservationId>, At<u8>>,
    /// Observations that rule the cause out.
    #[serde(default)]
    pub(crate) ruled_out_by: Vec<At<ObservationId>>,
}

/// A cause in the movement: it lives in one or more stages.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct MovementCause {
    pub(crate) names: Names,
    /// What to look for.
    pub(crate) look_for: String,
    /// Stages in which it happens, at least one.
    pub(crate) stages: Vec<At<StageId>>,
    /// The quality that grows as it goes away.
    pub(crate) develops: At<QualityId>,
    /// Causes that ask for the opposite; both ways, whoever states it.
    #[serde(default)]
    pub(crate) opposes: Vec<At<CauseId>>,
    /// The look that tells it from the causes it opposes.
    pub(crate) told_apart_by: Option<At<ObservationId>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// A cause in what the lifter is able to do: it has no stage, and is served by
/// work that trains its qualities at load.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct CapacityCause {
    pub(crate) names: Names,
    /// What to look for.
    pub(crate) look_for: String,
    /// Qualities that serve it; a point given to any of them is two half points of help, six at most.
    pub(crate) served_by: Vec<At<QualityId>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// A further look that raises causes or rules them out.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Observation {
    pub(crate) names: Names,
    /// What to look at, as an instruction.
    pub(crate) look: String,
    /// Holds by itself where a measured value lies in a range.
    pub(crate) measured: Option<Measured>,
    pub(crate) source: Sourced,
}

impl Observation {
    /// Whether it holds by a measured value; none where it is not measured.
    pub(crate) fn is_measured_true(&self, values: &BTreeMap<TrackMeasureId, i64>) -> Option<bool> {
        let asked = self.measured.as_ref()?;
        Some(asked.is.holds(*values.get(&asked.by.value)?))
    }
}

/// A threshold on a measured value.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Measured {
    /// What was measured.
    pub(crate) by: At<TrackMeasureId>,
    /// The values, in the measure's unit, for which the observation holds.
    pub(crate) is: Range,
}

/// Something measured from a film or a track, in whole units.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct TrackMeasure {
    pub(crate) names: Names,
    /// Unit in words, such as `mm`.
    pub(crate) unit: String,
    /// What is measured, from where to where, and which sign is which way.
    pub(crate) means: String,
    /// How it is taken from a track, each skill once; only said where absent.
    #[serde(default)]
    pub(crate) of: Vec<TrackTake>,
    pub(crate) source: Sourced,
}

/// What training develops.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Quality {
    pub(crate) names: Names,
    /// What it is, in words.
    pub(crate) means: String,
    /// Placed work that counts for it; all of it where absent.
    pub(crate) counts_when: Option<Selector>,
    pub(crate) source: Sourced,
}
