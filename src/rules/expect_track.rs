//! Tests of what is measured in tracks: made curves with what must come out.
//!
//! They stand beside the rules, in files of the kind `track-tests`, and take no part in any answer.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{At, ExpectationId, ObservationId, SkillId, TrackMeasureId, TrackRemarkId};

use super::expect::Expectations;

/// A made curve with what must be measured in it.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct TrackTest {
    /// What it shows, in one line.
    pub(crate) because: String,
    pub(crate) skill: At<SkillId>,
    /// How tall the lifter is, in mm, 500 to 2 800.
    pub(crate) body_height: Option<At<i64>>,
    /// Where the ground is, in mm, as `up` has it.
    pub(crate) ground: Option<At<i64>>,
    /// Measures that were taken otherwise.
    #[serde(default)]
    pub(crate) said: IndexMap<At<TrackMeasureId>, i64>,
    /// Where it is to the side, forward growing: level at each key and smooth between them, at least two.
    pub(crate) across: Vec<TrackKey>,
    /// How high it is, in the same way.
    pub(crate) up: Vec<TrackKey>,
    pub(crate) expect: TrackExpect,
}

/// Where a curve is level.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct TrackKey {
    /// When, in thousandths of a second, 0 to 60 000, later than the key before.
    pub(crate) ms: At<i64>,
    /// Where, in mm, -10 000 to 10 000.
    pub(crate) mm: At<i64>,
}

/// What must come out, by kind.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct TrackExpect {
    #[serde(default)]
    pub(crate) measured: Expectations<MeasuredIs>,
    #[serde(default)]
    pub(crate) looked: Expectations<LookIs>,
    #[serde(default)]
    pub(crate) remarked: Expectations<RemarkIs>,
}

impl TrackExpect {
    /// How many there are, and the first of them.
    pub(crate) fn first(&self) -> Option<&At<ExpectationId>> {
        let measured = self.measured.keys();
        let looked = self.looked.keys();
        measured.chain(looked).chain(self.remarked.keys()).next()
    }
}

/// A measure lies between two values, or is not known.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct MeasuredIs {
    pub(crate) measure: At<TrackMeasureId>,
    pub(crate) at_least: Option<i64>,
    pub(crate) at_most: Option<i64>,
    /// Whether it must not be known.
    #[serde(default)]
    pub(crate) unknown: bool,
}

/// A look is true by what was measured, or is not.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct LookIs {
    pub(crate) look: At<ObservationId>,
    pub(crate) is: bool,
}

/// A remark is said, or is not.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct RemarkIs {
    pub(crate) remark: At<TrackRemarkId>,
    pub(crate) is: bool,
}
