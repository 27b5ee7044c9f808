//! What a training log says of each fault, what is decided from it, and the case that goes on from there.

mod make;
mod next;

use std::sync::Arc;

use crate::base::{
    ConstraintId, Decimal, ExerciseId, FaultId, GradeId, Place, ReferenceId, ReviewDecisionId,
    SkillId,
};
use crate::rules::case::CaseText;

use super::entries::Called;

pub(crate) use make::{Reviewing, reviewed};

/// What a training log says.
#[derive(Clone, Debug)]
#[non_exhaustive]
pub struct Review {
    /// The label of the case; it may be empty.
    pub lifter: String,
    /// The day of the first entry, as YYYY-MM-DD.
    pub from: String,
    /// The day of the last entry.
    pub to: String,
    /// The day from which the next case counts.
    pub today: String,
    /// How many entries there are.
    pub entries: usize,
    /// Their repetitions, made and missed.
    pub repetitions: u32,
    /// Calendar weeks that have entries.
    pub weeks: usize,
    /// How sure the intervals are, in percent.
    pub interval_percent: u8,
    /// The last so many calendar weeks are what is so now.
    pub last_weeks: u8,
    /// The first so many are what it is compared with.
    pub first_weeks: u8,
    /// Each fault of the case and of the log, by id, then by skill.
    pub faults: Vec<FaultReview>,
    /// Bests that were made, by id.
    pub bests: Vec<BestMade>,
    /// What loads made several times say of bests, by id.
    pub estimates: Vec<BestEstimate>,
    /// Entries that name a fault and do not say in how many repetitions: all that were missed are taken, or, where none was, all.
    pub unsaid: usize,
    /// Listed exercises of the last calendar week, by id.
    pub did_last_week: Vec<Called<ExerciseId>>,
    /// Exercises that no rule file lists, as they are read; a case cannot name them.
    pub not_listed: Vec<String>,
    /// The fingerprint of the rules that it follows from.
    pub fingerprint: String,
    /// The case that goes on from it.
    pub(crate) next: Arc<CaseText>,
}

/// What the log says of a fault of a skill.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct FaultReview {
    /// The fault.
    pub fault: Called<FaultId>,
    /// The skill.
    pub skill: SkillId,
    /// In the full form, done alone.
    pub full: Counts,
    /// In each other exercise of the skill that the log has, by id.
    pub exercises: Vec<ExerciseReview>,
    /// What is decided of the fault by itself, whatever is done against it; none where that says nothing.
    pub decision: Option<Decision>,
    /// What becomes of it in the next case.
    pub becomes: Becomes,
}

/// How often a fault was seen in one form.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Counts {
    /// In the whole log.
    pub in_all: ShareSeen,
    /// In the last weeks.
    pub last: ShareSeen,
    /// In the first weeks; none where the log is too short to have others before the last.
    pub first: Option<ShareSeen>,
    /// In each calendar week that could show it: its Monday as YYYY-MM-DD, and how often.
    pub by_week: Vec<(String, ShareSeen)>,
}

/// In how many repetitions of how many, with its exact interval (Clopper and Pearson).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct ShareSeen {
    /// In how many.
    pub seen: u32,
    /// Of how many that could show it.
    pub of: u32,
    /// The lower end in per mille, rounded down, 0 to 1 000.
    pub low: u16,
    /// The upper end in per mille, rounded up, 0 to 1 000.
    pub high: u16,
}

/// What the log says of a fault in one exercise that is not the full form.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct ExerciseReview {
    /// The exercise; one that no rule file lists has an id of this review alone.
    pub exercise: Called<ExerciseId>,
    /// Whether a rule file lists it.
    pub is_listed: bool,
    /// Whether the fault can be seen in it at all.
    pub shows: bool,
    /// How often it was.
    pub counts: Counts,
    /// What is decided; none where it does nothing against a cause of the fault, or was not done in the last weeks.
    pub decision: Option<Decision>,
    /// Where the lifter moves along: the next step of its ladder; none where it has none, as a round.
    pub next: Option<NextStep>,
}

/// The next step of a ladder.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct NextStep {
    /// The listed exercise; none where nothing is listed that is just this.
    pub exercise: Option<ExerciseId>,
    /// Its name; where it is not listed, that of the exercise at the ladder's end.
    pub name: String,
    /// Constraints that are still there, where it is not listed.
    pub with: Vec<Called<ConstraintId>>,
    /// What is taken away.
    pub freed: Called<ConstraintId>,
}

/// What can be decided.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Decided {
    /// It stays.
    Keep,
    /// The next exercise of its ladder takes its place.
    MoveAlong,
    /// Another one takes its place.
    Swap,
    /// The fault is gone, and with it what the exercise is for.
    Withdraw,
    /// Too little was seen to say.
    LookAgain,
}

impl Decided {
    /// The word of output: lower-case words joined by hyphens.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Keep => "keep",
            Self::MoveAlong => "move-along",
            Self::Swap => "swap",
            Self::Withdraw => "withdraw",
            Self::LookAgain => "look-again",
        }
    }
}

/// A decision with the rule that it follows from.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Decision {
    /// What is decided.
    pub decided: Decided,
    /// The rule.
    pub by: ReviewDecisionId,
    /// Where it stands.
    pub place: Place,
    /// What it means for the weeks to come.
    pub says: String,
    /// Why.
    pub because: String,
    /// What the next case says came of the exercise; nothing where none.
    pub came: Option<&'static str>,
}

/// What becomes of a fault in the next case.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Becomes {
    /// It is there, seen so often in the full form of the last weeks.
    Stated {
        /// In which grade.
        grade: GradeId,
        /// In how many.
        seen: u16,
        /// Of how many.
        of: u16,
        /// Whether the case did not have it until now.
        is_new: bool,
    },
    /// It stays as the case says it: the full form did not show it in the last weeks, or was not done, and that is too little to
    /// leave it out.
    AsBefore,
    /// It is left out: it is gone, or was never seen in the full form and is none of the case's.
    LeftOut,
}

/// A best that was made.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct BestMade {
    /// The best.
    pub best: Called<ReferenceId>,
    /// The load.
    pub load: Decimal,
    /// The day, as YYYY-MM-DD.
    pub on: String,
    /// In which exercise.
    pub exercise: Called<ExerciseId>,
    /// What the case said until now.
    pub before: Option<Decimal>,
}

/// What a load made several times says of the one that could be made once. It is an estimate and no best.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct BestEstimate {
    /// The best.
    pub best: Called<ReferenceId>,
    /// The name of the published formula.
    pub formula: &'static str,
    /// The load.
    pub load: Decimal,
    /// How often it was made in one set.
    pub repetitions: u16,
    /// The day, as YYYY-MM-DD.
    pub on: String,
    /// What could be made once, rounded down.
    pub once: Decimal,
    /// Whether that is above the best and all that was made.
    pub is_above: bool,
    /// Whether the rules let it become the best.
    pub becomes_best: bool,
    /// Why it is made, and what it is good for.
    pub because: String,
}
