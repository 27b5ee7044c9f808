//! Attempts that were watched, as a file says them and as checked against a pack.

use std::collections::{BTreeMap, BTreeSet};

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{
    At, AttemptFieldId, Decimal, FaultId, GradeId, ObservationId, SkillId, TrackMeasureId, ValueId,
};

use super::case::FieldValue;

/// Attempts at one lift that were watched.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct WatchedText {
    /// A label for the answer; it decides nothing.
    pub(crate) lifter: Option<String>,
    /// What was attempted.
    pub(crate) skill: At<SkillId>,
    /// The lifter's best in it, of which loads are a percent.
    pub(crate) best: Option<At<Decimal>>,
    pub(crate) attempts: Vec<At<AttemptText>>,
    /// Further looks that were taken at all of it: whether each was true.
    #[serde(default)]
    pub(crate) looks: IndexMap<At<ObservationId>, bool>,
    /// Measured values, in the measure's whole units.
    #[serde(default)]
    pub(crate) measured: IndexMap<At<TrackMeasureId>, i64>,
}

/// One attempt, or several that were alike.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct AttemptText {
    /// Its load in percent of the best, 1 to 120; or `load`.
    pub(crate) percent: Option<At<u8>>,
    /// Its load, where the `best` is said; or `percent`.
    pub(crate) load: Option<At<Decimal>>,
    /// How many attempts were like this, 1 to 1 000; one where absent.
    pub(crate) times: Option<At<u16>>,
    /// What was seen, by attempt field.
    #[serde(default)]
    pub(crate) seen: IndexMap<At<AttemptFieldId>, At<FieldValue>>,
    /// Faults that it showed beyond that, each with its grade.
    #[serde(default)]
    pub(crate) faults: IndexMap<At<FaultId>, At<GradeId>>,
}

/// What is said of an attempt in one field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Said {
    Word(ValueId),
    Number(i64),
}

/// One attempt, or several that were alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Attempt {
    /// Its load in percent of the best, rounded down; unknown where nothing is said.
    pub(crate) percent: Option<i64>,
    pub(crate) times: u16,
    /// What was seen, with what that implies.
    pub(crate) said: BTreeMap<AttemptFieldId, Said>,
    /// Fields of which only something is implied.
    pub(crate) implied: BTreeSet<AttemptFieldId>,
    /// Whether something of it says that it went wrong.
    pub(crate) went_wrong: bool,
    pub(crate) faults: BTreeMap<FaultId, GradeId>,
}

/// Attempts as checked against a pack.
#[derive(Debug, Clone)]
pub(crate) struct Watched {
    pub(crate) lifter: String,
    pub(crate) skill: SkillId,
    pub(crate) attempts: Vec<Attempt>,
    /// What was looked at, and whether it was true.
    pub(crate) looks: BTreeMap<ObservationId, bool>,
    pub(crate) measured: BTreeMap<TrackMeasureId, i64>,
}
