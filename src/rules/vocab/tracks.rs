//! Tracks: events that are sought in one, what is taken from it, how it is made smooth, what is remarked.

use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

use crate::base::{At, SkillId, TrackEventId, TrackMeasureId};

use super::{Names, Range, Sourced};

/// What a track says at each moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Channel {
    /// Where it is along the way that the lifter faces, in mm; forward grows.
    Horizontal,
    /// How high it is, in mm.
    Vertical,
    /// How fast it goes forward, in mm a second.
    HorizontalSpeed,
    /// How fast it rises, in mm a second.
    VerticalSpeed,
}

impl Channel {
    /// Whether it is a speed and no place.
    pub(crate) const fn is_speed(self) -> bool {
        matches!(self, Self::HorizontalSpeed | Self::VerticalSpeed)
    }

    /// Its word.
    pub(crate) const fn as_str(self) -> &'static str {
        match self {
            Self::Horizontal => "horizontal",
            Self::Vertical => "vertical",
            Self::HorizontalSpeed => "horizontal-speed",
            Self::VerticalSpeed => "vertical-speed",
        }
    }
}

/// How a moment is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Find {
    /// The first at which the channel is above `than`.
    FirstAbove,
    /// The first at which it is below.
    FirstBelow,
    /// The last at which it is above.
    LastAbove,
    /// The last at which it is below.
    LastBelow,
    /// The first at which it is greatest.
    Greatest,
    /// The first at which it is least.
    Least,
}

impl Find {
    /// Whether it needs a number to be above or below.
    pub(crate) const fn asks_than(self) -> bool {
        !matches!(self, Self::Greatest | Self::Least)
    }
}

/// A moment of a track.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct TrackEvent {
    pub(crate) names: Names,
    /// Skills in whose tracks it is sought, at least one.
    pub(crate) skills: Vec<At<SkillId>>,
    pub(crate) find: At<Find>,
    pub(crate) channel: At<Channel>,
    /// In mm, or in mm a second for a speed: -100 000 to 100 000.
    pub(crate) than: Option<At<i64>>,
    /// The event at which a place counts as 0; the first row where absent.
    pub(crate) against: Option<At<TrackEventId>>,
    /// It is sought from this event on; from the first row where absent.
    pub(crate) after: Option<At<TrackEventId>>,
    /// It is sought up to this event; to the last row where absent.
    pub(crate) before: Option<At<TrackEventId>>,
    /// Whether it only serves to find others, and is not told to people.
    #[serde(default)]
    pub(crate) only_helps: bool,
    /// What it is, in words.
    pub(crate) means: String,
    pub(crate) source: Sourced,
}

/// What is taken from a track.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Take {
    /// The channel at `to`, less the same at `from`.
    Change,
    /// The most that the channel comes to between `from` and `to`, less its value at `against`.
    Greatest,
    /// The least of it.
    Least,
    /// How often it crosses its value at `against`, by more than `band` on either side.
    Crossings,
    /// From `from` to `to`.
    Time,
    /// How high it is above the ground at `to`. Where the ground was not said, it is `stood` mm below its place at `from`.
    AboveGround,
}

impl Take {
    /// Its word.
    pub(crate) const fn as_str(self) -> &'static str {
        match self {
            Self::Change => "change",
            Self::Greatest => "greatest",
            Self::Least => "least",
            Self::Crossings => "crossings",
            Self::Time => "time",
            Self::AboveGround => "above-ground",
        }
    }
}

/// In what it is told, in whole numbers, rounded to the nearest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum TrackUnit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Percent of the lifter's height.
    PercentOfHeight,
    /// Millimetres a second.
    MmASecond,
    /// Centimetres a second.
    CmASecond,
    /// Thousandths of a second.
    Ms,
    /// How often.
    Times,
}

/// How a measure is taken from tracks of some skills.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct TrackTake {
    /// Skills of whose tracks it is taken so, at least one.
    pub(crate) skills: Vec<At<SkillId>>,
    pub(crate) take: At<Take>,
    /// Of all but `time` and `above-ground`.
    pub(crate) channel: Option<At<Channel>>,
    pub(crate) from: Option<At<TrackEventId>>,
    pub(crate) to: Option<At<TrackEventId>>,
    /// Of `greatest`, `least` and `crossings`: the event at which a place counts as 0.
    pub(crate) against: Option<At<TrackEventId>>,
    /// Of `crossings`: in mm on either side, 0 to 1 000.
    pub(crate) band: Option<At<i64>>,
    /// Of `above-ground`: how high it stood at `from`, in mm, 0 to 10 000.
    pub(crate) stood: Option<At<i64>>,
    /// Whether what is taken is told the other way round.
    #[serde(default)]
    pub(crate) turned: bool,
    pub(crate) unit: At<TrackUnit>,
}

/// How tracks are made smooth. Of several that are of a skill the strictest of each number counts.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct TrackFilter {
    /// Skills of whose tracks it is; all where absent.
    #[serde(default)]
    pub(crate) skills: Vec<At<SkillId>>,
    /// What is faster than this is noise: tenths of a hertz, 5 to 500.
    pub(crate) cutoff_tenth_hertz: At<u16>,
    /// Longer gaps are not filled, in thousandths of a second, 0 to 1 000.
    pub(crate) gap_ms_at_most: At<u16>,
    /// Slower tracks are refused, 1 to 1 000.
    pub(crate) rows_a_second_at_least: At<u16>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// Something that is said where measures lie in ranges, all of them.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct TrackRemark {
    /// Skills of whose tracks it is, at least one.
    pub(crate) skills: Vec<At<SkillId>>,
    pub(crate) when: IndexMap<At<TrackMeasureId>, Range>,
    /// What is said.
    pub(crate) says: String,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}
