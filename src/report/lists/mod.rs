//! Faults, exercises, rankings, ladders and problems: as text and as documents.

mod audit;
mod bar;
mod case_text;
mod course;
mod exercises;
mod faults;
mod ladder;
mod name;
mod problems;
mod reviewed;
mod reviewed_text;
mod rule_tests;
mod seen;
mod tracked;

use crate::explain::Called;

pub use audit::{
    AuditDocument, BestWeekDocument, CauseServedDocument, ChangeDocument, HelpDocument,
    LackDocument, LineDocument, WrongDocument, audit_document, audit_text,
};
pub use course::{
    BlockDocument, BlockWeekDocument, DoneInWeekDocument, FigureDocument, FigureEntryDocument,
    WeekChangeDocument, block_document, block_text,
};
pub use exercises::{
    EffectDocument, ExerciseDocument, ExercisesDocument, exercises_document, exercises_text,
    ranking_document, ranking_text,
};
pub use faults::{
    FaultDocument, FaultsDocument, GradeDocument, ShareDocument, faults_document, faults_text,
};
pub use ladder::{LadderDocument, RungDocument, ladder_document, ladder_text};
pub use name::{
    CauseEffectDocument, LoadLimitDocument, NameDocument, NamePieceDocument, NamedExerciseDocument,
    NamedPartDocument, name_document, name_text,
};
pub use problems::{
    AlsoDocument, CandidateDocument, ProblemDocument, ProblemsDocument, problem_document,
    problems_document, remarks_document,
};

pub use reviewed::{
    BestEstimateDocument, BestMadeDocument, CountsDocument, DecisionDocument,
    ExerciseReviewDocument, FaultReviewDocument, NextStepDocument, ReviewDocument,
    ShareSeenDocument, WeekSeenDocument, review_case, review_document,
};
pub use reviewed_text::review_text;
pub use rule_tests::{
    FailedDocument, RuleTestDocument, RuleTestsDocument, StandingDocument, rule_tests_document,
    rule_tests_text,
};
pub use seen::{
    AttemptsDocument, CauseFindingDocument, EvidenceDocument, FaultFindingDocument,
    FindingsDocument, FurtherLookDocument, LookDocument, NotSeenDocument, QuestionDocument,
    findings_case, findings_document, findings_text,
};
pub use tracked::{
    NotTakenDocument, TrackedDocument, TrackedEventDocument, TrackedLookDocument,
    TrackedMeasureDocument, TrackedPathDocument, TrackedRemarkDocument, TrackedSourceDocument,
    tracked_case, tracked_document, tracked_text,
};

fn names<I>(called: &[Called<I>]) -> String {
    called
        .iter()
        .map(|called| called.name.as_str())
        .collect::<Vec<_>>()
        .join(" and ")
}
