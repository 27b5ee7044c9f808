//! A week that somebody wrote, held against the rules: what it does, what it lacks, what clashes, and what would help most.

mod hold;

use crate::base::{CauseId, ExerciseId, PartId, RoleId, SkillId};

use super::answer::{Missed, Proof};
use super::check::{Lack, Wrongly};
use super::entries::Called;

pub(crate) use hold::{Auditing, audit};

/// What a week that somebody wrote comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Audit {
    /// The label of the case; it may be empty.
    pub lifter: String,
    /// Each training day, 1 to 7, with its lines.
    pub days: Vec<(u8, Vec<AuditedLine>)>,
    /// What it does for each cause that is worked on.
    pub causes: Vec<CauseServed>,
    /// Hard units that it breaks and lines that may not stand, together.
    pub clashes: i64,
    /// Hard bounds that it breaks.
    pub broken: Vec<Lack>,
    /// What may not stand as it stands; `at` is the line's place in the day.
    pub wrong: Vec<Wrongly>,
    /// Bounds that give way in it.
    pub lacks: Vec<Lack>,
    /// Units that it misses on each level.
    pub missed: Missed,
    /// What it is worth, in hundredths of a point.
    pub worth: i64,
    /// What the best week for the case comes to; none where there is no week, or none was found.
    pub best: Option<BestWeek>,
    /// The change of one line that helps most; none where none does.
    pub change: Option<Change>,
    /// Whether the rules call it sound, and by which of them.
    pub soundness: Soundness,
    /// The fingerprint of the rules.
    pub fingerprint: String,
}

/// A line as it was read and where it was taken to stand.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct AuditedLine {
    /// As it is written.
    pub written: String,
    /// The exercise that it means.
    pub exercise: Called<ExerciseId>,
    /// The part and role that it was taken to have; none where no part of the day takes it.
    pub stands: Option<(Called<PartId>, Called<RoleId>)>,
    /// Sets and repetitions as written; of a round all of its repetitions.
    pub dose: (i64, i64),
    /// Percent of the reference, where there is one.
    pub percent: Option<(i64, i64)>,
    /// Sets and repetitions that the rules give there.
    pub usual: Option<(i64, i64)>,
    /// Percent that they give.
    pub usual_percent: Option<(i64, i64)>,
}

/// What a week does for a cause.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct CauseServed {
    /// The skill.
    pub skill: SkillId,
    /// The cause.
    pub cause: Called<CauseId>,
    /// Its demand.
    pub demand: i64,
    /// What the week does for it in all, in half points.
    pub effect: i64,
    /// Exercises that help, with half points, the most first.
    pub helps: Vec<(Called<ExerciseId>, i64)>,
    /// Exercises that feed it.
    pub harms: Vec<(Called<ExerciseId>, i64)>,
    /// What works on it in the best week, the most first.
    pub best: Vec<Called<ExerciseId>>,
}

/// What the best week comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct BestWeek {
    /// Units that it misses.
    pub missed: Missed,
    /// What it is worth, in hundredths of a point.
    pub worth: i64,
    /// Whether it is claimed to be the best.
    pub proof: Proof,
}

/// What is changed.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Changed {
    /// A line is left out.
    Dropped(Called<ExerciseId>),
    /// A line is done as the rules dose it.
    Dosed(Called<ExerciseId>),
    /// Another exercise stands in the place of the first.
    Swapped(Called<ExerciseId>, Called<ExerciseId>),
    /// An exercise is done too, before the line at this place of the day, counted from 0.
    Added(Called<ExerciseId>, usize),
    /// A line stands at this place of the day, counted from 0.
    Moved(Called<ExerciseId>, usize),
}

/// The change of one line that helps most.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Change {
    /// The day, 1 to 7.
    pub day: u8,
    /// What is changed.
    pub what: Changed,
    /// Part and role of what stands there then; none where a line is left out.
    pub stands: Option<(Called<PartId>, Called<RoleId>)>,
    /// Sets and repetitions then.
    pub dose: Option<(i64, i64)>,
    /// Percent of the reference then.
    pub percent: Option<(i64, i64)>,
    /// Hard units that are broken and lines that may not stand then.
    pub clashes: i64,
    /// Units missed then.
    pub missed: Missed,
    /// What the week is worth then.
    pub worth: i64,
}

/// Whether the rules call a week sound.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Soundness {
    /// Whether they do.
    pub is_sound: bool,
    /// By each rule of the kind `sound-weeks`, what it finds wanting, in words; empty where nothing is.
    pub wanting: Vec<Wanting>,
}

/// Something for which a week is not called sound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Wanting {
    /// It breaks hard rules, or has what may not stand.
    Broken,
    /// It misses so many units more than the best on a level, more than are allowed.
    Missed {
        /// The level's word: `last`, `middle` or `first`.
        level: &'static str,
        /// Units more than the best.
        more: i64,
        /// Allowed.
        most: i64,
    },
    /// Its worth is so many percent of the best's, less than is asked.
    Worth {
        /// Percent of the best's, rounded down.
        percent: i64,
        /// Asked.
        least: i64,
    },
}
