//! A training block: weeks in a row, each the best after the one before it, with what changes between them and why.

mod changes;
mod figures;

use crate::base::{
    CaseFieldId, EffortId, ExerciseId, FactId, PhaseId, RoleId, TrainingBlockId, WeekFigureId,
};

use super::answer::{Answer, Plan};
use super::check::Says;
use super::claim::Ruling;
use super::entries::Called;

pub(crate) use changes::{After, changes};
pub(crate) use figures::{figures, of_the_rules};

/// A training block.
///
/// Each week is the best for its own question, which says what stood in the week before. That no other row of weeks would
/// be better together is neither asked nor proven.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct TrainingBlock {
    /// The fingerprint of the rules.
    pub fingerprint: String,
    /// The label of the case; it may be empty.
    pub lifter: String,
    /// How its weeks are laid out.
    pub laid_out: Called<TrainingBlockId>,
    /// Why, and where that is written.
    pub because: Says,
    /// The figures of each week, in this order.
    pub figures: Vec<FigureEntry>,
    /// Days that the case says, on which other blocks end, and that lie after this one.
    pub beyond: Vec<Beyond>,
    /// Its weeks.
    pub weeks: Vec<BlockWeek>,
    /// What there is instead of the week after the last of these, where it could not be gone on with.
    pub stopped: Option<Box<Answer>>,
}

/// A day on which a block can end, and to which this one does not lead.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Beyond {
    /// What it is the day of.
    pub field: Called<CaseFieldId>,
    /// YYYY-MM-DD.
    pub on: String,
    /// The week that it is in, counted like those of the block.
    pub week: i64,
}

/// A figure that is taken of each week.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct FigureEntry {
    /// The figure.
    pub figure: Called<WeekFigureId>,
    /// What it is of.
    pub means: String,
    /// Whether it is in percent.
    pub percent: bool,
    /// Whether an overview draws it.
    pub drawn: bool,
}

/// A week of a block.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct BlockWeek {
    /// Counted from 1.
    pub number: u16,
    /// Its Monday as YYYY-MM-DD, where the case says what day it is.
    pub begins: Option<String>,
    /// Its phase.
    pub phase: Called<PhaseId>,
    /// What it says of a case field because of its place in the block, in words.
    pub says: Option<(CaseFieldId, String)>,
    /// The week.
    pub plan: Plan,
    /// Its figures, in the order of the block's; none where there is nothing to take it of.
    pub figures: Vec<Option<FigureValue>>,
    /// What is otherwise than in the week before, each with its reasons; nothing in the first.
    pub changes: Vec<WeekChange>,
}

/// A figure of a week.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct FigureValue {
    /// In the figure's unit.
    pub value: i64,
    /// Where it should lie, and why.
    pub range: Option<(i64, i64, Says)>,
}

impl FigureValue {
    /// Whether it lies where it should.
    #[must_use]
    pub fn is_within(&self) -> bool {
        let range = self.range.as_ref();
        range.is_none_or(|(from, to, _)| (*from..=*to).contains(&self.value))
    }
}

/// How an exercise is done in a week.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct DoneInWeek {
    /// On so many days.
    pub days: i64,
    /// Sets in all.
    pub sets: i64,
    /// Repetitions in all.
    pub reps: i64,
    /// The highest percent of its reference, where a load is named.
    pub top: Option<i64>,
    /// What it is in the week for.
    pub roles: Vec<Called<RoleId>>,
}

/// What is otherwise than in the week before.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct WeekChange {
    /// The exercise.
    pub exercise: Called<ExerciseId>,
    /// How it was done; none where it was not there.
    pub was: Option<DoneInWeek>,
    /// How it is done now; none where it is not there any more.
    pub is: Option<DoneInWeek>,
    /// In how many weeks in a row it has been done, this week or the last of them included.
    pub weeks: i64,
    /// Why, at least one.
    pub why: Vec<WhyChanged>,
}

/// Why something is otherwise.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum WhyChanged {
    /// What led to the item with this fact in the week's trail.
    Placed(FactId),
    /// It may stand nowhere in this week: what is against it, in words, and what in the rules says so.
    Refused(String, Vec<Says>),
    /// No week that keeps what must hold has it once more.
    NoRoom,
    /// The best week that has it once more misses more units of these.
    GivesWay {
        /// The bounds with the units that it misses more, of the hardest level.
        more: Vec<(Ruling, i64)>,
        /// Whether it is the best; else it is the best that was found within the limit of work.
        proven: bool,
    },
    /// The best week that has it once more is worth less.
    WorthLess {
        /// By so much, in hundredths of a point.
        less: i64,
        /// The rules by which it is worth less, with how much, the most first; what others make up for is not taken off.
        by: Vec<(Ruling, i64)>,
        /// Whether it is the best; else it is the best that was found within the limit of work.
        proven: bool,
    },
    /// Weeks that have it once more are as good; the tie measure decides.
    Tie,
    /// The limit of work was reached before that was known.
    Unsettled,
    /// Rules that dose it now and did not in the week before.
    DosedBy(Vec<Says>),
    /// Rules that dosed it in the week before and do not now.
    NoLongerDosedBy(Vec<Says>),
    /// It stands on days of these efforts now, and stood on days of those.
    OtherDays {
        /// In the week before.
        was: Vec<Called<EffortId>>,
        /// Now.
        is: Vec<Called<EffortId>>,
    },
}
