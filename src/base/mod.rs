//! The lowest layer: ids, exact decimal numbers, places in files, diagnostics and the trail of facts.
//!
//! Nothing in here knows any word of a sport, and nothing in here imports from another layer.

pub mod at;
pub mod cancel;
pub mod decimal;
pub mod diagnostic;
pub mod id;
pub mod nearest;
pub mod place;
pub mod trail;
pub mod weekday;

pub use at::At;
pub use cancel::Cancel;
pub use decimal::{BadDecimal, Decimal};
pub use diagnostic::{Candidate, Code, Diagnostic};
pub use id::{
    AspectId, AttemptFieldId, AxisId, BadId, BarId, BestFromId, CaseFieldId, CaseVariantId,
    CauseId, CautionId, ConstraintId, DoseId, EffortId, EstimateId, ExerciseId, ExpectationId,
    FactorId, FaultId, GradeId, GroupId, JudgementId, LayoutId, MarkId, MeasureId, NamedRuleId,
    ObservationId, PartId, PhaseId, PieceId, QualityId, ReferenceId, ReviewDecisionId,
    ReviewWindowId, RoleId, RuleId, RuleTestId, SeenWhereId, SignId, SkillId, SoundWeekId,
    SourceId, StageId, StressId, TableId, TrackEventId, TrackFilterId, TrackMeasureId,
    TrackRemarkId, TrainingBlockId, ValueId, WeekFigureId, WordId, ZoneId, ZoneTableId,
};
pub use nearest::{is_slip, nearest};
pub use place::Place;
pub use trail::{Cited, Fact, FactId, Trail, TrailError, TrailErrorKind};
pub use weekday::{BadWeekday, Weekday};
