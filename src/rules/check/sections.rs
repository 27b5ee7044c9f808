//! The sections of rule files: one line for each kind of thing.
//!
//! Reading and checking are both made from these lists, so a kind that is added
//! here is read, walked and checked; one that is forgotten does not compile.

/// Hands `kind variant Sort field` of every section but the rules to another macro.
macro_rules! sections {
    ($then:ident) => {
        $then! {
            "skills" "" Skill skills;
            "references" "" Reference references;
            "axes" "" Axis axes;
            "exercises" "roots" Exercise roots;
            "exercises" "variations" Exercise variations;
            "exercises" "complexes" Exercise complexes;
            "faults" "" Fault faults;
            "observations" "" Observation observations;
            "track-measures" "" TrackMeasure track_measures;
            "track-events" "" TrackEvent track_events;
            "track-filters" "" TrackFilter track_filters;
            "track-remarks" "" TrackRemark track_remarks;
            "attempt-fields" "one-of" AttemptField attempt_one_of;
            "attempt-fields" "whole" AttemptField attempt_whole;
            "signs" "" Sign signs;
            "judgements" "" Judgement judgements;
            "sound-weeks" "" SoundWeek sound_weeks;
            "training-blocks" "" TrainingBlock training_blocks;
            "week-figures" "" WeekFigure week_figures;
            "reviews" "windows" ReviewWindow review_windows;
            "reviews" "decisions" ReviewDecision review_decisions;
            "reviews" "seen-where" SeenWhere seen_where;
            "reviews" "bests" BestFrom best_from;
            "reviews" "estimates" Estimate estimates;
            "causes" "movement" Cause movement_causes;
            "causes" "capacity" Cause capacity_causes;
            "qualities" "" Quality qualities;
            "stresses" "" Stress stresses;
            "roles" "" Role roles;
            "parts" "" Part parts;
            "efforts" "" Effort efforts;
            "marks" "" Mark marks;
            "phases" "" Phase phases;
            "layouts" "" Layout layouts;
            "doses" "" Dose doses;
            "measures" "" Measure measures;
            "bars" "" Bar bars;
            "zone-tables" "" ZoneTable zone_tables;
            "tables" "" Table tables;
            "factors" "by-phase" Factor factors_by_phase;
            "factors" "by-choice" Factor factors_by_choice;
            "factors" "by-number" Factor factors_by_number;
            "case-fields" "one-of" CaseField one_of;
            "case-fields" "whole" CaseField whole;
            "case-fields" "some-of" CaseField some_of;
            "case-fields" "dates" CaseField dates;
            "groups" "" Group groups;
            "sources" "published" Source published;
            "sources" "common-practice" Source common_practice;
            "sources" "expert-set" Source expert_set;
            "words" "" Word words;
            "cases" "" RuleTest tests;
            "track-tests" "" TrackTest track_tests;
            "watched-tests" "" WatchedTest watched_tests;
        }
    };
}
pub(crate) use sections;

/// Hands `kind field` of every section of rules to another macro.
macro_rules! rule_sections {
    ($then:ident) => {
        $then! {
            "adjacent" adjacent;
            "alike" alike;
            "apart" apart;
            "before" before;
            "cap" cap;
            "carry-over" carry_over;
            "caution" caution;
            "compose" compose;
            "count" count;
            "differ" differ;
            "dose" dose;
            "exclude" exclude;
            "floor" floor;
            "focus" focus;
            "followed" followed;
            "fullest" fullest;
            "help-worth" help_worth;
            "how-often" how_often;
            "kept" kept;
            "least-load" least_load;
            "lighter" lighter;
            "load-step" load_step;
            "minutes" minutes;
            "needs" needs;
            "position" position;
            "prefer" prefer;
            "proportion" proportion;
            "quality-worth" quality_worth;
            "ramp" ramp;
            "repeat" repeat;
            "shift" shift;
            "stress" stress;
            "timing" timing;
            "trim" trim;
            "volume" volume;
            "watch" watch;
        }
    };
}
pub(crate) use rule_sections;

/// What an id can name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Sort {
    Skill,
    Stage,
    Reference,
    Axis,
    Constraint,
    Exercise,
    Fault,
    Observation,
    TrackMeasure,
    TrackEvent,
    TrackFilter,
    TrackRemark,
    AttemptField,
    Sign,
    Judgement,
    SoundWeek,
    TrainingBlock,
    WeekFigure,
    ReviewWindow,
    ReviewDecision,
    SeenWhere,
    BestFrom,
    Estimate,
    Cause,
    Quality,
    Stress,
    Role,
    Part,
    Effort,
    Mark,
    Phase,
    Layout,
    Dose,
    Measure,
    Bar,
    ZoneTable,
    Table,
    Factor,
    CaseField,
    Group,
    Source,
    Word,
    RuleTest,
    TrackTest,
    WatchedTest,
    /// A rule whose kind is not said.
    AnyRule,
    /// A rule of the kind with this word.
    Rule(&'static str),
}

impl Sort {
    /// Its word, the word for many, and where they are listed.
    pub(crate) fn words(self) -> (&'static str, &'static str, &'static str) {
        match self {
            Self::Skill => ("skill", "skills", "skills"),
            Self::Stage => ("stage", "stages", "skills"),
            Self::Reference => ("reference", "references", "references"),
            Self::Axis => ("axis", "axes", "axes"),
            Self::Constraint => ("constraint", "constraints", "axes"),
            Self::Exercise => ("exercise", "exercises", "exercises"),
            Self::Fault => ("fault", "faults", "faults"),
            Self::Observation => ("observation", "observations", "observations"),
            Self::TrackMeasure => ("track measure", "track measures", "track-measures"),
            Self::TrackEvent => ("track event", "track events", "track-events"),
            Self::TrackFilter => ("track filter", "track filters", "track-filters"),
            Self::TrackRemark => ("track remark", "track remarks", "track-remarks"),
            Self::AttemptField => ("attempt field", "attempt fields", "attempt-fields"),
            Self::Sign => ("sign", "signs", "signs"),
            Self::Judgement => ("judgement", "judgements", "judgements"),
            Self::SoundWeek => ("sound week", "sound weeks", "sound-weeks"),
            Self::TrainingBlock => ("training block", "training blocks", "training-blocks"),
            Self::WeekFigure => ("figure of a week", "figures of a week", "week-figures"),
            Self::ReviewWindow => ("review window", "review windows", "reviews"),
            Self::ReviewDecision => ("review decision", "review decisions", "reviews"),
            Self::SeenWhere => ("place where faults are seen", "places of faults", "reviews"),
            Self::BestFrom => ("source of a best", "sources of bests", "reviews"),
            Self::Estimate => ("estimate", "estimates", "reviews"),
            Self::Cause => ("cause", "causes", "causes"),
            Self::Quality => ("quality", "qualities", "qualities"),
            Self::Stress => ("stress", "stresses", "stresses"),
            Self::Role => ("role", "roles", "roles"),
            Self::Part => ("part", "parts", "parts"),
            Self::Effort => ("effort", "efforts", "efforts"),
            Self::Mark => ("mark", "marks", "marks"),
            Self::Phase => ("phase", "phases", "phases"),
            Self::Layout => ("layout", "layouts", "layouts"),
            Self::Dose => ("dose", "doses", "doses"),
            Self::Measure => ("measure", "measures", "measures"),
            Self::Bar => ("bar", "bars", "bars"),
            Self::ZoneTable => ("zone table", "zone tables", "zone-tables"),
            Self::Table => ("table", "tables", "tables"),
            Self::Factor => ("factor", "factors", "factors"),
            Self::CaseField => ("case field", "case fields", "case-fields"),
            Self::Group => ("group", "groups", "groups"),
            Self::Source => ("source", "sources", "sources"),
            Self::Word => ("word", "words", "words"),
            Self::RuleTest => ("test", "tests", "cases"),
            Self::TrackTest => ("track test", "track tests", "track-tests"),
            Self::WatchedTest => ("test of attempts", "tests of attempts", "watched-tests"),
            Self::AnyRule => ("rule", "rules", "rules"),
            Self::Rule("dose") => ("dose rule", "dose rules", "rules: dose"),
            Self::Rule(_) => ("rule", "rules", "rules"),
        }
    }
}
