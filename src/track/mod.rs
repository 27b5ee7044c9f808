//! Tracks: from rows of time and place to events and measures.
//!
//! Floats may only propose: what comes out of the filter is rounded to whole micrometres, and from there on all is whole.

mod event;
mod made;
mod measure;
mod number;
mod read;
mod resample;
mod rows;
mod smooth;

use std::collections::BTreeMap;

use crate::base::{Diagnostic, SkillId, TrackEventId, TrackMeasureId};
use crate::rules::pack::Pack;
use crate::rules::vocab::Channel;

pub(crate) use made::rows as made_rows;
pub(crate) use measure::Value;
pub(crate) use read::read;
pub(crate) use resample::{Path, Steady, path};

/// What is said of a file beside its rows.
#[derive(Debug, Clone)]
pub(crate) struct Told {
    pub(crate) skill: SkillId,
    /// Names of columns; the usual ones are looked for where nothing is said.
    pub(crate) columns: [Option<String>; 3],
    /// The unit of places; the file's head may say it.
    pub(crate) unit: Option<Unit>,
    /// Millimetres for each picture point.
    pub(crate) mm_per_pixel: Option<f64>,
    /// Whether the lifter faces to the side on which numbers are smaller.
    pub(crate) faces_left: Option<bool>,
    /// Whether numbers grow downwards.
    pub(crate) grows_down: Option<bool>,
    /// Whether times are in thousandths of a second.
    pub(crate) in_ms: Option<bool>,
    /// The number that stands for the ground in the column of heights.
    pub(crate) ground: Option<f64>,
    /// How tall the lifter is, in mm.
    pub(crate) body_mm: Option<i64>,
    /// Measures that were taken otherwise.
    pub(crate) measured: BTreeMap<TrackMeasureId, i64>,
}

/// In what places are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Unit {
    Metre,
    Centimetre,
    Millimetre,
    Pixel,
}

impl Unit {
    pub(crate) const ALL: [(&'static str, Self); 4] = [
        ("m", Self::Metre),
        ("cm", Self::Centimetre),
        ("mm", Self::Millimetre),
        ("px", Self::Pixel),
    ];

    /// The unit with this word.
    pub(crate) fn of(word: &str) -> Option<Self> {
        let found = Self::ALL.iter().find(|(held, _)| *held == word);
        found.map(|(_, unit)| *unit)
    }
}

/// What is wrong with a line.
type Wrong = Box<Diagnostic>;

/// One row: when, and where it was in micrometres, forward and up; no place where the tracker had lost it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Row {
    pub(crate) micros: i64,
    pub(crate) at: Option<(i64, i64)>,
}

/// What was read of a file.
#[derive(Debug, Clone)]
pub(crate) struct Rows {
    pub(crate) rows: Vec<Row>,
    /// Where the ground is, in micrometres, as rows have it.
    pub(crate) ground: Option<i64>,
}

/// Why something is not known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Open {
    /// The channel was never above so much, in mm or mm a second, where it was looked for.
    NeverAbove(Channel, i64),
    /// It was never below.
    NeverBelow(Channel, i64),
    /// There is nothing between the two events.
    NoRoom,
    /// It follows from an event that was not found.
    Lacks(TrackEventId),
    /// A gap lies there, between two times in microseconds.
    Gap(i64, i64),
    /// Nobody said how tall the lifter is.
    NoBodyHeight,
    /// Nobody said where the ground is.
    NoGround,
    /// It is not taken from a track, and nobody said it.
    OnlySaid,
}

/// All that a track says.
#[derive(Debug, Clone)]
pub(crate) struct Taken {
    /// By time, then by id; what was not found comes last.
    pub(crate) events: Vec<(TrackEventId, Result<usize, Open>)>,
    /// By id: those that are taken of the skill, and those that were said.
    pub(crate) measures: Vec<(TrackMeasureId, Result<Value, Open>)>,
}

/// Events and measures of a path.
pub(crate) fn take(pack: &Pack, told: &Told, path: &Path) -> Taken {
    let found = event::all(pack, &told.skill, path);
    let measures = measure::all(pack, told, path, &found);
    let mut events: Vec<_> = found.into_iter().collect();
    events.sort_by_key(|(id, at)| (at.as_ref().map_or(usize::MAX, |at| *at), id.clone()));
    Taken { events, measures }
}
