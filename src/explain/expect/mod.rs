//! What came of the tests of a method: which expectations hold, and what stood there instead.

mod hold;
mod look;
mod of_track;
mod of_watched;
mod of_week;

use crate::base::{
    At, CaseFieldId, CaseVariantId, CauseId, ExerciseId, ExpectationId, GradeId, NamedRuleId,
    ObservationId, PartId, PhaseId, Place, ReferenceId, ReviewDecisionId, RoleId, RuleTestId,
    SkillId,
};

use super::answer::{Missed, Proof};
use super::claim::Ruling;
use super::review::Decided;

pub(crate) use hold::{Asked, Came, hold};
pub(crate) use of_track::hold_track;
pub(crate) use of_watched::hold_watched;

/// Which expectations of a test hold, and which do not.
#[derive(Default)]
struct Tally {
    held: usize,
    failed: Vec<Failed>,
}

impl Tally {
    /// Takes an expectation with what stood there instead; none where it holds.
    fn take(
        &mut self,
        kind: &'static str,
        id: &At<ExpectationId>,
        variant: Option<&CaseVariantId>,
        instead: Option<Instead>,
    ) {
        match instead {
            None => self.held += 1,
            Some(instead) => self.failed.push(Failed {
                kind,
                expectation: id.value.clone(),
                place: id.place.clone(),
                variant: variant.cloned(),
                instead,
            }),
        }
    }

    /// What came of the test.
    fn done(
        mut self,
        id: &At<RuleTestId>,
        because: &str,
        unanswered: Vec<Option<CaseVariantId>>,
    ) -> TestResult {
        self.failed
            .sort_by(|one, other| one.place.cmp(&other.place));
        TestResult {
            test: id.value.clone(),
            place: id.place.clone(),
            because: because.to_owned(),
            held: self.held,
            failed: self.failed,
            unanswered,
        }
    }
}

/// What came of one test.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct TestResult {
    /// The test.
    pub test: RuleTestId,
    /// Where it stands.
    pub place: Place,
    /// What it shows, in its own words.
    pub because: String,
    /// How often an expectation held: each counts once in each variant that it is about.
    pub held: usize,
    /// What does not hold.
    pub failed: Vec<Failed>,
    /// Variants for which the limit of work was reached before there was an answer, so that nothing
    /// is known of what is expected of them; none for the case itself.
    pub unanswered: Vec<Option<CaseVariantId>>,
}

/// An expectation that does not hold.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Failed {
    /// The word of its kind, such as `contains`.
    pub kind: &'static str,
    /// The expectation.
    pub expectation: ExpectationId,
    /// Where it stands.
    pub place: Place,
    /// The variant in which it fails; none for the case itself.
    pub variant: Option<CaseVariantId>,
    /// What stood there instead.
    pub instead: Instead,
}

/// What stood where something else was expected.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Instead {
    /// Nothing that was asked for; these stood on the days that were.
    NoSuchItem(Vec<Standing>),
    /// These stood there, and should not, or not so.
    These(Vec<Standing>),
    /// So many were counted.
    Count {
        /// What came out.
        is: i64,
        /// What was expected at least.
        at_least: Option<i64>,
        /// What was expected at most.
        at_most: Option<i64>,
        /// The day of the week, 1 to 7; none for the week.
        day: Option<u8>,
        /// What was counted.
        of: Vec<Standing>,
    },
    /// This stood in the wrong order.
    Order {
        /// What stood first.
        earlier: Standing,
        /// What stood later.
        later: Standing,
    },
    /// The measure came to this; none where it is not known.
    Measured(Option<i64>),
    /// It is true, or not; none where it is not known.
    IsTrue(Option<bool>),
    /// Two variants were counted, and the one has no more than the other.
    Compared {
        /// In the variant that was to have more.
        more: i64,
        /// In the variant that was to have fewer.
        fewer: i64,
    },
    /// These causes were worked on.
    WorkedOn(Vec<(SkillId, CauseId)>),
    /// So many units were missed.
    Missed {
        /// On each level.
        units: Missed,
        /// Of these bounds.
        of: Vec<Ruling>,
    },
    /// This is known of the week.
    Proof(Proof),
    /// There was a week.
    Week,
    /// There was no week; these clash.
    NoWeek(Vec<String>),
    /// This is made of the fault, in this grade and from so many percent on; none where nothing showed it.
    Fault(Option<(&'static str, GradeId, Option<u8>)>),
    /// The causes with their demand, the most first.
    Behind(Vec<(CauseId, i64)>),
    /// This should be looked at next; none where nothing would tell causes apart.
    Further(Option<ObservationId>),
    /// Whether the written week is sound.
    Sound(bool),
    /// The written week breaks these, and has so many clashes in all.
    Breaks(Vec<String>, i64),
    /// The week was of this phase.
    Phase(PhaseId),
    /// The figure came to this; none where the week has nothing to take it of.
    Figure(Option<i64>),
    /// This was decided of the exercise, each by its rule; nothing where none was.
    Decided(Vec<(Decided, ReviewDecisionId)>),
    /// This was not among what clashes, or not said.
    NotAmong {
        /// Rules that are not.
        rules: Vec<NamedRuleId>,
        /// Case fields that are not.
        fields: Vec<CaseFieldId>,
        /// Bests that are not.
        bests: Vec<ReferenceId>,
    },
}

/// Something that stands in a week.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Standing {
    /// Day of the week, 1 to 7.
    pub day: u8,
    /// Part of the session.
    pub part: PartId,
    /// What it is in the week for.
    pub role: RoleId,
    /// The exercise.
    pub exercise: ExerciseId,
    /// Its name.
    pub name: String,
    /// Sets.
    pub sets: i64,
    /// Repetitions of one set.
    pub reps: i64,
    /// Percent of the reference, low and high end; none where no load is named.
    pub percent: Option<(i64, i64)>,
}
