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
    AlsoDocument, AttemptsDocument, AuditDocument, BestEstimateDocument, BestMadeDocument,
    BestWeekDocument, BlockDocument, BlockWeekDocument, CandidateDocument, CauseEffectDocument,
    CauseFindingDocument, CauseServedDocument, ChangeDocument, CountsDocument, DecisionDocument,
    DoneInWeekDocument, EffectDocument, EvidenceDocument, ExerciseDocument, ExerciseReviewDocument,
    ExercisesDocument, FailedDocument, FaultDocument, FaultFindingDocument, FaultReviewDocument,
    FaultsDocument, FigureDocument, FigureEntryDocument, FindingsDocument, FurtherLookDocument,
    GradeDocument, HelpDocument, LackDocument, LadderDocument, LineDocument, LoadLimitDocument,
    LookDocument, NameDocument, NamePieceDocument, NamedExerciseDocument, NamedPartDocument,
    NextStepDocument, NotSeenDocument, NotTakenDocument, ProblemDocument, ProblemsDocument,
    QuestionDocument, ReviewDocument, RuleTestDocument, RuleTestsDocument, RungDocument,
    ShareDocument, ShareSeenDocument, StandingDocument, TrackedDocument, TrackedEventDocument,
    TrackedLookDocument, TrackedMeasureDocument, TrackedPathDocument, TrackedRemarkDocument,
    TrackedSourceDocument, WeekChangeDocument, WeekSeenDocument, WrongDocument, audit_document,
    audit_text, block_document, block_text, exercises_document, exercises_text, faults_document,
    faults_text, findings_case, findings_document, findings_text, ladder_document, ladder_text,
    name_document, name_text, problem_document, problems_document, ranking_document, ranking_text,
    remarks_document, review_case, review_document, review_text, rule_tests_document,
    rule_tests_text, tracked_case, tracked_document, tracked_text,
};
#[cfg(feature = "schema")]
pub use schema::{schema, schema_names};
pub use text::{Layout, Reasons};

pub(crate) use words::{misread, misread_help};
