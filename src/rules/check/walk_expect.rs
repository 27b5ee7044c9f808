//! The walk over tests of the method and the cases in them.

use crate::base::Weekday;
use crate::rules::case::CaseText;
use crate::rules::expect::{
    BreaksIs, Compare, Contains, CountIs, DecidesIs, DoseIs, Expect, FigureIs, FocusIs, Lacks,
    MissedIs, NoWeekIs, PhaseIs, ProofIs, ProofWord, ReasonIs, RuleTest, SaidIs, SoundIs,
    StandsBefore,
};
use crate::rules::log::EntryText;

use crate::rules::expect_track::{LookIs, MeasuredIs, RemarkIs, TrackExpect, TrackKey, TrackTest};

use crate::rules::expect_watched::{
    BehindIs, FaultIs, FurtherIs, MadeOfFault, WatchedExpect, WatchedTest,
};
use crate::rules::watched::WatchedText;

use super::walk::{Placed, Spot, Visit, Walk, plain, walk};

// What a case says is held against the rules where the case is read.
plain!(
    ProofWord,
    MadeOfFault,
    CaseText,
    EntryText,
    WatchedText,
    Weekday
);

walk! {
    RuleTest { because, case, variants, weeks, log, written, expect }
    Expect {
        contains, lacks, count, before, dose, compare, reason, focus, missed, proof, no_week, said,
        decides, phase, figure, sound, breaks,
    }
    Contains { within as "in", what, on }
    Lacks { within as "in", what, on }
    CountIs { within as "in", what, per, counted_in, at_least, at_most, on }
    StandsBefore { within as "in", first, then, per }
    DoseIs {
        within as "in", what, on, sets, reps, percent_from, percent_to, loaded, estimated,
    }
    Compare { what, counted_in, more_in, fewer_in }
    ReasonIs { within as "in", what, causes, constraints, rules }
    FocusIs { within as "in", skill, works_on, leaves, opposed }
    MissedIs { within as "in", last_at_most, middle_at_most, first_at_most, kept }
    ProofIs { within as "in", is }
    NoWeekIs { within as "in", rules, fields }
    SoundIs { within as "in", is }
    BreaksIs { within as "in", rules, nothing }
    PhaseIs { within as "in", is }
    FigureIs { within as "in", figure, at_least, at_most }
    DecidesIs { within as "in", fault, skill, exercise, is, by }
    TrackTest { because, skill, body_height, ground, said, across, up, expect }
    WatchedTest { because, watched, expect }
    WatchedExpect { fault, behind, looked, further }
    FaultIs { fault, is, grade, from_percent }
    BehindIs { cause, more_than }
    FurtherIs { look }
    TrackKey { ms, mm }
    TrackExpect { measured, looked, remarked }
    MeasuredIs { measure, at_least, at_most, unknown }
    LookIs { look, is }
    RemarkIs { remark, is }
    SaidIs { within as "in", rules, missing_fields, missing_bests }
}
