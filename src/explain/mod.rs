//! Why: the facts behind an answer, what clashes where there is none, and what would help.
//!
//! Facts are data; they are put into words by the layer above.

mod answer;
mod assemble;
mod audit;
mod beside;
mod causes;
mod check;
mod claim;
mod conflict;
mod course;
mod date;
mod entries;
mod expect;
mod findings;
mod glossary;
mod ladder;
mod naming;
mod rank;
mod reason;
mod relax;
mod review;
mod shortfall;
mod stated;
mod trace;
mod tracked;

pub use answer::{
    Answer, Bar, BarLoad, Bound, Clash, Clashing, Composed, Further, Item, LighterSet, Load,
    Missed, Missing, NoWeek, NotFound, Plan, Proof, Said, SaidList, Seen, Session, Shortfall,
    StandIn, StatedBest, Waiting, Watch, Worked,
};
pub use audit::{Audit, AuditedLine, BestWeek, CauseServed, Change, Changed, Soundness, Wanting};
pub use check::{Lack, Placing, Recheck, Says, Wrongly};
pub use claim::{Claim, Gain, Level, Ruling, WaitsFor};
pub use course::{
    Beyond, BlockWeek, DoneInWeek, FigureEntry, FigureValue, TrainingBlock, WeekChange, WhyChanged,
};
pub use entries::{Called, ExerciseEntry, FaultEntry, GradeEntry};
pub use expect::{Failed, Instead, Standing, TestResult};
pub use findings::{
    CauseFinding, Evidence, FaultFinding, Findings, FurtherLook, LookFinding, Question, Verdict,
};
pub use ladder::Rung;
pub use naming::{
    CauseEffect, HalfPoints, LoadLimit, MayBe, Misread, NamePiece, NameReading, NamedExercise,
    NamedPart, ReadAs, Repetitions, TextSpan, WrittenWord,
};
pub use rank::{Effect, Ranked};
pub use review::{
    Becomes, BestEstimate, BestMade, Counts, Decided, Decision, ExerciseReview, FaultReview,
    NextStep, Review, ShareSeen,
};
pub use tracked::{
    NotTaken, PathPoint, Tracked, TrackedEvent, TrackedLook, TrackedMeasure, TrackedRemark,
};

pub(crate) use assemble::value_in_words;
pub(crate) use assemble::{Found, disagreement};
pub(crate) use audit::{Auditing, audit};
pub(crate) use check::{Handing, items_of};
pub(crate) use conflict::{any_week, conflict};
pub(crate) use course::{After, changes, figures, of_the_rules};
pub(crate) use date::day_in_words;
pub(crate) use entries::{exercises, faults};
pub(crate) use expect::{Asked, Came, hold, hold_track, hold_watched};
pub(crate) use findings::findings;
pub(crate) use glossary::{Glossary, Named, rule_path};
pub(crate) use ladder::ladder;
pub(crate) use naming::{misread, name_reading};
pub(crate) use rank::ranked;
pub(crate) use reason::Held;
pub(crate) use relax::{Saying, take_back};
pub(crate) use review::{Reviewing, reviewed};
pub(crate) use tracked::tracked;

/// The word that stands for the layout's own bounds, where others have a rule kind.
pub(crate) const LAYOUT_BOUNDS: &str = "layouts";
