//! Doses, references, bars, pieces and volume zones.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{At, Decimal, MeasureId, ReferenceId, ZoneId};

use super::{Names, Range, Sourced};

/// More than any bar, disc, collar or best weighs, in any unit of load.
pub(crate) const MOST_LOAD: i64 = 1_000;

/// A whole span, both ends included and both stated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Span {
    pub(crate) from: u16,
    pub(crate) to: u16,
}

/// How an item is done: the effort of the day picks inside the spans.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Dose {
    /// Sets, 1 to 12.
    pub(crate) sets: At<Span>,
    /// Repetitions in a set, 1 to 30; a complex has its own and ignores this.
    pub(crate) reps: At<Span>,
    /// Percent of the exercise's reference; absent where no load is named.
    pub(crate) percent_of_reference: Option<At<Span>>,
    /// Rest between sets, in seconds.
    pub(crate) rest_seconds: At<Span>,
    /// Time of one set under the bar, in seconds.
    pub(crate) set_seconds: u16,
    /// How it should feel, for one whose best is not known.
    pub(crate) feel: String,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// A best that loads are a percent of.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Reference {
    pub(crate) names: Names,
    /// One step, never a chain: what may stand in, marked as an estimate.
    #[serde(default)]
    pub(crate) instead: Vec<Instead>,
    pub(crate) source: Sourced,
}

/// A stand-in for a missing best.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Instead {
    /// The best that is known.
    pub(crate) from: At<ReferenceId>,
    /// The missing best as a percent of it.
    pub(crate) percent: u16,
    pub(crate) source: Sourced,
}

/// A unit of load and the pieces that make it up.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Measure {
    /// The unit's sign, such as `kg`.
    pub(crate) unit: String,
    /// Pieces, heaviest first: the order in which they go on, innermost first.
    pub(crate) pieces: Vec<At<Piece>>,
    /// Whether pieces go on in pairs, one a side.
    pub(crate) in_pairs: bool,
    /// How a load that can't be made is rounded.
    pub(crate) round: Rounding,
    pub(crate) source: Sourced,
}

/// Which way loads are rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Rounding {
    /// To the next lighter load that can be made.
    Down,
}

/// One kind of disc.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Piece {
    /// Weight of one, in the measure's unit: above 0, at most 1,000.
    pub(crate) weight: Decimal,
    /// Whether the bar on it stands at the height of the rules.
    #[serde(default)]
    pub(crate) full_diameter: bool,
    /// Its colour, where a standard gives one.
    pub(crate) colour: Option<String>,
}

/// A bar with its collars.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Bar {
    pub(crate) names: Names,
    pub(crate) measure: At<MeasureId>,
    /// Weight of the bar alone: above 0, at most 1,000.
    pub(crate) weight: Decimal,
    /// Weight of one collar, 0 to 1,000; two go on.
    pub(crate) collar: Decimal,
    pub(crate) source: Sourced,
}

impl Bar {
    /// What it weighs without pieces, with its two collars or without them, in thousandths of its unit.
    pub(crate) fn empty(&self, collars: bool) -> i64 {
        let collars = if collars { 2 } else { 0 };
        self.weight.thousandths() + collars * self.collar.thousandths()
    }
}

/// A table of volume by intensity.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct ZoneTable {
    pub(crate) names: Names,
    /// For whom and for which lifts it was made, and which form is stored.
    pub(crate) made_for: String,
    /// Zones from light to heavy, without overlap.
    pub(crate) zones: IndexMap<At<ZoneId>, Zone>,
    pub(crate) source: Sourced,
}

/// One zone of a volume table.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Zone {
    /// Percent of the reference, by the top of an item's load.
    pub(crate) percent: Range,
    /// Repetitions in a set.
    pub(crate) reps_per_set: At<Span>,
    /// Repetitions in all, range.
    pub(crate) total: At<Span>,
    /// Repetitions in all, best.
    pub(crate) best_total: u16,
}
