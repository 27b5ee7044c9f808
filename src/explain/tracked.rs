//! What a track says: events, measures, looks and remarks, each with where it comes from.

use crate::base::{ObservationId, SkillId, SourceId, TrackEventId, TrackMeasureId, TrackRemarkId};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Channel, Sourced, is_of};
use crate::track::{Open, Path, Taken, Told};

use super::entries::Called;
use super::glossary::{Glossary, Named};

/// What a track of one attempt says.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Tracked {
    /// The name of the file.
    pub file: String,
    /// What was attempted.
    pub skill: SkillId,
    /// How many rows were read.
    pub rows: usize,
    /// Rows of these that say no place.
    pub lost: usize,
    /// Rows a second, in thousandths, as found from their times.
    pub rate_mhz: i64,
    /// What was faster than this was taken for noise, in tenths of a hertz.
    pub cutoff_tenth_hertz: u16,
    /// Gaps up to so many thousandths of a second were filled by straight lines.
    pub gap_ms_at_most: u16,
    /// Longer gaps, from and to, in microseconds from the first row with a place.
    pub gaps: Vec<(i64, i64)>,
    /// Events that were found, by time.
    pub events: Vec<TrackedEvent>,
    /// Events that were not found, by id.
    pub not_found: Vec<(Called<TrackEventId>, NotTaken)>,
    /// Measures that were taken or said, by id.
    pub measures: Vec<TrackedMeasure>,
    /// Measures that were not taken, by id.
    pub not_taken: Vec<(Called<TrackMeasureId>, NotTaken)>,
    /// Further looks that a measured value decides, by id.
    pub looks: Vec<TrackedLook>,
    /// What the rules remark on what was measured, by id.
    pub remarks: Vec<TrackedRemark>,
    /// The path as it was measured, in even steps.
    pub path: Vec<PathPoint>,
    /// The fingerprint of the rules that it follows from.
    pub fingerprint: String,
}

/// A moment of a track.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct TrackedEvent {
    /// The event.
    pub event: Called<TrackEventId>,
    /// What it is.
    pub means: String,
    /// The step of the path at which it is.
    pub step: usize,
    /// Where that is.
    pub at: PathPoint,
    /// How fast it goes there, forward and up, in mm a second.
    pub speed: (i64, i64),
    /// It only serves to find others.
    pub only_helps: bool,
}

/// One step of the path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct PathPoint {
    /// In microseconds from the first row with a place.
    pub micros: i64,
    /// Forward of the first event, in micrometres; behind it below 0.
    pub forward: i64,
    /// Above the first event, in micrometres.
    pub up: i64,
}

/// Something that was measured.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct TrackedMeasure {
    /// The measure.
    pub measure: Called<TrackMeasureId>,
    /// In the measure's unit.
    pub value: i64,
    /// The unit in words.
    pub unit: String,
    /// What is measured, and which sign is which way.
    pub means: String,
    /// It was said, and not taken from the track.
    pub said: bool,
    /// Nobody said where the ground is: it was taken to be so many mm below where the path begins.
    pub stood_mm: Option<i64>,
}

/// Why something is not known.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum NotTaken {
    /// The track was never above so much where it was looked for.
    NeverAbove {
        /// What the rules call it: `horizontal`, `vertical`, `horizontal-speed` or `vertical-speed`.
        channel: String,
        /// In mm, or mm a second for a speed.
        than: i64,
    },
    /// The track was never below so much where it was looked for.
    NeverBelow {
        /// What the rules call it.
        channel: String,
        /// In mm, or mm a second for a speed.
        than: i64,
    },
    /// There is nothing between the two events that it lies between.
    NoRoom,
    /// It follows from an event that was not found.
    Lacks(Called<TrackEventId>),
    /// A gap lies there, from and to in microseconds.
    Gap(i64, i64),
    /// Nobody said how tall the lifter is.
    NoBodyHeight,
    /// Nobody said where the ground is.
    NoGround,
    /// It is not taken from a track, and nobody said it.
    OnlySaid,
}

/// A further look that a measured value decides.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct TrackedLook {
    /// The look.
    pub look: Called<ObservationId>,
    /// Whether it is true.
    pub is_true: bool,
    /// The measure that decides it.
    pub by: Called<TrackMeasureId>,
    /// Its value.
    pub value: i64,
    /// In words.
    pub unit: String,
    /// True from this value on.
    pub at_least: Option<i64>,
    /// True up to this value.
    pub at_most: Option<i64>,
    /// Where the range comes from, and of whom it was measured.
    pub sources: Vec<(SourceId, String)>,
}

/// Something that the rules remark.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct TrackedRemark {
    /// Which one.
    pub id: TrackRemarkId,
    /// What is said.
    pub says: String,
    /// Why.
    pub because: String,
}

fn word(channel: Channel) -> String {
    channel.as_str().to_owned()
}

fn sources(of: &Sourced) -> Vec<(SourceId, String)> {
    let all = of.iter();
    all.map(|(id, says)| (id.value.clone(), says.clone()))
        .collect()
}

/// What a track says, in the words of a pack.
pub(crate) fn tracked(
    pack: &Pack,
    glossary: &Glossary,
    (file, told): (&str, &Told),
    path: &Path,
    taken: &Taken,
    fingerprint: &str,
) -> Tracked {
    let event = |id: &TrackEventId| Called::new(glossary, Named::TrackEvent, id);
    let measure = |id: &TrackMeasureId| Called::new(glossary, Named::TrackMeasure, id);
    let why = |open: &Open| match open {
        Open::NeverAbove(channel, than) => NotTaken::NeverAbove {
            channel: word(*channel),
            than: *than,
        },
        Open::NeverBelow(channel, than) => NotTaken::NeverBelow {
            channel: word(*channel),
            than: *than,
        },
        Open::NoRoom => NotTaken::NoRoom,
        Open::Lacks(id) => NotTaken::Lacks(event(id)),
        Open::Gap(from, to) => NotTaken::Gap(*from, *to),
        Open::NoBodyHeight => NotTaken::NoBodyHeight,
        Open::NoGround => NotTaken::NoGround,
        Open::OnlySaid => NotTaken::OnlySaid,
    };
    let steps = taken.events.iter();
    let first = steps.filter_map(|(_, at)| at.as_ref().ok()).min();
    let first = first.copied().unwrap_or(0);
    let zero = (
        path.at(Channel::Horizontal, first),
        path.at(Channel::Vertical, first),
    );
    let point = |step: usize| PathPoint {
        micros: path.time(step),
        forward: path.at(Channel::Horizontal, step) - zero.0,
        up: path.at(Channel::Vertical, step) - zero.1,
    };
    let speed = |channel: Channel, step: usize| path.at(channel, step) / 1000;
    let of = |id: &TrackEventId| pack.track_events.get(id);
    let (mut events, mut not_found) = (Vec::new(), Vec::new());
    for (id, at) in &taken.events {
        match at {
            Ok(step) => events.push(TrackedEvent {
                event: event(id),
                means: of(id).map_or_else(String::new, |event| event.means.clone()),
                only_helps: of(id).is_some_and(|event| event.only_helps),
                step: *step,
                at: point(*step),
                speed: (
                    speed(Channel::HorizontalSpeed, *step),
                    speed(Channel::VerticalSpeed, *step),
                ),
            }),
            Err(open) => not_found.push((event(id), why(open))),
        }
    }
    let (mut measures, mut not_taken) = (Vec::new(), Vec::new());
    for (id, value) in &taken.measures {
        let of = pack.track_measures.get(id);
        match value {
            Ok(value) => measures.push(TrackedMeasure {
                measure: measure(id),
                value: value.value,
                unit: of.map_or_else(String::new, |of| of.unit.clone()),
                means: of.map_or_else(String::new, |of| of.means.clone()),
                said: value.said,
                stood_mm: value.stood,
            }),
            Err(open) => not_taken.push((measure(id), why(open))),
        }
    }
    let values = measures.iter();
    let values = values
        .map(|held| (held.measure.id.clone(), held.value))
        .collect();
    let mut looks = Vec::new();
    for (id, look) in &pack.observations {
        let (Some(by), Some(is_true)) = (&look.measured, look.is_measured_true(&values)) else {
            continue;
        };
        let held = measures.iter().find(|held| held.measure.id == by.by.value);
        let Some(held) = held else { continue };
        looks.push(TrackedLook {
            look: Called::new(glossary, Named::Observation, &id.value),
            is_true,
            by: held.measure.clone(),
            value: held.value,
            unit: held.unit.clone(),
            at_least: by.is.at_least,
            at_most: by.is.at_most,
            sources: sources(&look.source),
        });
    }
    let remarks = pack.track_remarks.iter().filter(|(_, remark)| {
        let mut all = remark.when.iter();
        is_of(&remark.skills, &told.skill)
            && all.all(|(id, range)| values.get(&id.value).is_some_and(|v| range.holds(*v)))
    });
    Tracked {
        file: file.to_owned(),
        skill: told.skill.clone(),
        rows: path.rows,
        lost: path.lost,
        rate_mhz: path.rate_mhz,
        cutoff_tenth_hertz: path.steady.cutoff_dhz,
        gap_ms_at_most: path.steady.gap_ms,
        gaps: path.gaps.clone(),
        events,
        not_found,
        not_taken,
        looks,
        remarks: remarks
            .map(|(id, remark)| TrackedRemark {
                id: id.value.clone(),
                says: remark.says.clone(),
                because: remark.because.clone(),
            })
            .collect(),
        path: (0..path.micros.len()).map(point).collect(),
        measures,
        fingerprint: fingerprint.to_owned(),
    }
}
