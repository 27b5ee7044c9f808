//! Answers in words: a sheet as text, and documents for programs. It only lays out.

mod drawing;
mod fill;
mod json;
mod lists;
mod page;
#[cfg(feature = "schema")]
mod schema;
mod text;
mod why;
mod words;

pub use drawing::tracked_svg;
pub use json::{
    AnswerDocument, BarDocument, BoundDocument, CauseDocument, ClashDocument, ComposedDocument,
    FORMAT, FurtherDocument, ItemDocument, LighterSetDocument, LoadDocument, MissedDocument,
    MissingDocument, NoWeekDocument, NotFoundDocument, PercentDocument, PiecesDocument,
    PlaceDocument, SaidDocument, SessionDocument, ShortfallDocument, StandInDocument,
    WatchDocument, WeekDocument,
};
pub use lists::{
    AlsoDocument, AttemptsDocument, AuditDocument, BestWeekDocument, CandidateDocument,
    CauseEffectDocument, CauseFindingDocument, CauseServedDocument, ChangeDocument, EffectDocument,
    EvidenceDocument, ExerciseDocument, ExercisesDocument, FailedDocument, FaultDocument,
    FaultFindingDocument, FaultsDocument, FindingsDocument, FurtherLookDocument, GradeDocument,
    HelpDocument, LackDocument, LadderDocument, LineDocument, LoadLimitDocument, LookDocument,
    NameDocument, NamePieceDocument, NamedExerciseDocument, NamedPartDocument, NotSeenDocument,
    NotTakenDocument, ProblemDocument, ProblemsDocument, QuestionDocument, RuleTestDocument,
    RuleTestsDocument, RungDocument, ShareDocument, StandingDocument, TrackedDocument,
    TrackedEventDocument, TrackedLookDocument, TrackedMeasureDocument, TrackedPathDocument,
    TrackedRemarkDocument, TrackedSourceDocument, WrongDocument, audit_document, audit_text,
    exercises_document, exercises_text, faults_document, faults_text, findings_case,
    findings_document, findings_text, ladder_document, ladder_text, name_document, name_text,
    problem_document, problems_document, ranking_document, ranking_text, remarks_document,
    rule_tests_document, rule_tests_text, tracked_case, tracked_document, tracked_text,
};
#[cfg(feature = "schema")]
pub use schema::{schema, schema_names};
pub use text::{Layout, Reasons};

pub(crate) use words::{misread, misread_help};
