//! A training week with its reasons.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::base::{
    BarId, CaseFieldId, CauseId, ConstraintId, Decimal, DoseId, EffortId, ExerciseId, FactId,
    FaultId, GradeId, LayoutId, PartId, PhaseId, Place, ReferenceId, RoleId, RuleId, SkillId,
    Trail, Weekday,
};
use crate::explain::claim::{Claim, Level, Ruling, WaitsFor};
use crate::explain::glossary::Glossary;

use super::{Bound, Missed, Proof};

/// A training week with its reasons.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Plan {
    /// The fingerprint of the rules that it was made with.
    pub fingerprint: String,
    /// The label of the case; it may be empty.
    pub lifter: String,
    /// Phase of training.
    pub phase: PhaseId,
    /// The layout of the days.
    pub layout: LayoutId,
    /// The bar that all loads are made on.
    pub bar: Bar,
    /// What the case itself says beyond faults and bests, in words, by field.
    pub stated: Vec<(CaseFieldId, String)>,
    /// The bests that loads are a percent of, as the case states them.
    pub bests: Vec<StatedBest>,
    /// What was seen.
    pub seen: Vec<Seen>,
    /// Causes worked on, the greatest demand first.
    pub focus: Vec<Worked>,
    /// Causes that wait.
    pub waiting: Vec<Waiting>,
    /// What is known of how good the week is.
    pub proof: Proof,
    /// Units missed by what gave way.
    pub missed: Missed,
    /// In hundredths of a point.
    pub worth: i64,
    /// The tie measure: among weeks of the same worth the least is best.
    pub tie: i64,
    /// Where the proof is limited: what no week betters.
    pub bound: Option<Bound>,
    /// Nodes that the search took.
    pub nodes: u64,
    /// What gave way.
    pub shortfalls: Vec<Shortfall>,
    /// What stands in for a full form that the case rules out.
    pub stand_ins: Vec<StandIn>,
    /// Days of the layout, 1 to 7, that were missed before the rest of the week was made.
    pub missed_days: Vec<u8>,
    /// Training days in order.
    pub sessions: Vec<Session>,
    /// What of the week is a variation that no rule file lists, in the order of their ids.
    pub composed: Vec<Composed>,
    /// Repetitions in the week, all components counted.
    pub lifts: i64,
    /// What must be said with the week.
    pub cautions: Vec<Said>,
    /// What the case leaves open and what could change the answer.
    pub missing: Vec<Missing>,
    /// The facts behind it all.
    pub trail: Trail<Claim>,
    pub(crate) glossary: Arc<Glossary>,
}

/// A variation that no rule file lists.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Composed {
    /// Its id.
    pub exercise: ExerciseId,
    /// Its canonical name.
    pub name: String,
    /// The listed exercise that it is made from.
    pub from: ExerciseId,
    /// What it has beyond that.
    pub with: Vec<ConstraintId>,
}

/// A best that the case states.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct StatedBest {
    /// What it is a best of.
    pub reference: ReferenceId,
    /// What was lifted, in the unit of the bar.
    pub weight: Decimal,
    /// The day on which it was lifted, as YYYY-MM-DD, where the case says so.
    pub day: Option<String>,
}

/// A bar with its collars, which every load includes.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Bar {
    /// The bar.
    pub bar: BarId,
    /// What it weighs alone, in the unit.
    pub weight: Decimal,
    /// What each of its two collars weighs, in the unit; nought where none is on.
    pub collar: Decimal,
    /// The unit's sign.
    pub unit: String,
}

/// A fault that the case states.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Seen {
    /// The fault.
    pub fault: FaultId,
    /// The skill in which it is seen.
    pub skill: SkillId,
    /// Its grade.
    pub grade: GradeId,
    /// In how many attempts of how many it was seen, where the case says so.
    pub times: Option<(u16, u16)>,
    /// The load at which it starts, in percent of the best, where the case says so.
    pub from_percent: Option<u8>,
    /// What is said where it was seen in too few attempts to count.
    pub too_seldom: Option<Said>,
    /// The fact.
    pub fact: FactId,
}

/// A cause that is worked on.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Worked {
    /// The skill.
    pub skill: SkillId,
    /// The cause.
    pub cause: CauseId,
    /// Its demand, 1 to 300.
    pub demand: i64,
    /// Whether it is the coach's word.
    pub sure: bool,
    /// The exercises of the week that work on it, by what they do in all, the most first.
    pub by: Vec<ExerciseId>,
    /// The fact.
    pub fact: FactId,
}

/// A cause that waits.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Waiting {
    /// The skill.
    pub skill: SkillId,
    /// The cause.
    pub cause: CauseId,
    /// Its demand, 1 to 300.
    pub demand: i64,
    /// What it waits for.
    pub why: WaitsFor,
    /// The fact.
    pub fact: FactId,
}

/// A bound that gave way.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Shortfall {
    /// Whose bound.
    pub ruling: Ruling,
    /// Where it stands.
    pub place: Place,
    /// When it gives way.
    pub level: Level,
    /// Units missed.
    pub units: i64,
    /// By how much, in what the kind counts: items, sets, repetitions, points, pairs; seconds of
    /// a time, hundredths of a share.
    pub lack: i64,
    /// Days of the week, 1 to 7, on which it is missed; none for a sum over the week.
    pub days: Vec<u8>,
    /// What outranked it: whatever would have served it would have missed one of these, or is
    /// refused by one of these.
    pub outranked_by: Vec<Ruling>,
    /// Case fields that rule out what would have served it.
    pub ruled_out_by: Vec<CaseFieldId>,
    /// Whether the gym lacks pieces: with all of them the same week would miss less.
    pub for_lack_of_pieces: bool,
}

/// What stands in for a full form.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct StandIn {
    /// The full form.
    pub of: ExerciseId,
    /// What stands in; none where nothing does.
    pub exercise: Option<ExerciseId>,
    /// What is said aloud.
    pub said: Said,
}

/// Words that a rule has said with a week.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Said {
    /// The rule.
    pub rule: RuleId,
    /// Where it stands.
    pub place: Place,
    /// Its words.
    pub words: String,
}

/// What the case leaves open.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Missing {
    /// A case field that a rule asked for in vain.
    Field(CaseFieldId),
    /// A best that loads would be a percent of.
    Best {
        /// The best.
        reference: ReferenceId,
        /// The best that it was estimated from, and the percent of it; none where loads are given
        /// in words only.
        estimated_from: Option<(ReferenceId, u16)>,
    },
}

impl Plan {
    /// Minutes of all sessions together, a started one of each session as a whole.
    #[must_use]
    pub fn minutes(&self) -> i64 {
        self.sessions.iter().map(Session::minutes).sum()
    }

    /// The bars, other than the week's, on which something is done that is too light for it, by id.
    pub fn lighter_bars(&self) -> impl Iterator<Item = &Bar> {
        let items = self.sessions.iter().flat_map(|session| &session.items);
        let bars = items.filter_map(|item| Some(&item.load.as_ref()?.bar));
        let others = bars.filter(|bar| bar.bar != self.bar.bar);
        let by_id: BTreeMap<&BarId, &Bar> = others.map(|bar| (&bar.bar, bar)).collect();
        by_id.into_values()
    }
}

/// One training day.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Session {
    /// Day of the week, 1 (Monday) to 7.
    pub day: u8,
    /// The same as a word, where the case names its training days.
    pub weekday: Option<Weekday>,
    /// How hard the day is.
    pub effort: EffortId,
    /// Whether it was done already when the week was made; see
    /// [`KnowledgeBase::rest_of_week`](crate::KnowledgeBase::rest_of_week).
    pub done: bool,
    /// All of its time in seconds: warm-up, lighter sets, sets, rests, changeovers.
    pub seconds: i64,
    /// Repetitions, all components counted.
    pub lifts: i64,
    /// Items in order.
    pub items: Vec<Item>,
}

impl Session {
    /// Its time in minutes, a started one as a whole.
    #[must_use]
    pub const fn minutes(&self) -> i64 {
        (self.seconds + 59) / 60
    }
}

/// One line of a session.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Item {
    /// Part of the session.
    pub part: PartId,
    /// Which part of the day it is, counted from 0.
    pub slot: usize,
    /// What it is in the week for.
    pub role: RoleId,
    /// The exercise.
    pub exercise: ExerciseId,
    /// Its canonical name.
    pub name: String,
    /// The competition form whose place it takes, where the case rules that form out.
    pub in_place_of: Option<ExerciseId>,
    /// Sets.
    pub sets: i64,
    /// Repetitions of one set, all components counted.
    pub reps: i64,
    /// Repetitions of each component of one round, in order; one number for an exercise done alone.
    pub round: Vec<i64>,
    /// Percent of the reference, low and high end; none where no load is named.
    pub percent: Option<(i64, i64)>,
    /// The load on the bar; none where there is no basis for one.
    pub load: Option<Load>,
    /// How it should feel.
    pub feel: String,
    /// The lighter sets that lead to it, rising; none where the rules name none, no load is known, or what was done
    /// before it on the day has led there.
    pub lighter_sets: Vec<LighterSet>,
    /// What to look at while it is done, where a rule says so.
    pub watch: Option<Watch>,
    /// What rules say of so light a load.
    pub notes: Vec<Said>,
    /// The constraints that make it what it is, of all components.
    pub constraints: Vec<ConstraintId>,
    /// The dose.
    pub dose: DoseId,
    /// The rule that gives the dose.
    pub dose_rule: RuleId,
    /// Rules that moved the load down.
    pub caps: Vec<RuleId>,
    /// Rules that took sets away.
    pub trims: Vec<RuleId>,
    /// Rules that moved the load by steps.
    pub load_steps: Vec<RuleId>,
    /// Rest between sets, in seconds.
    pub rest_seconds: i64,
    /// All of its time, in seconds.
    pub seconds: i64,
    /// The fact that it stands there, from which all that led to it can be followed.
    pub placed: FactId,
    /// The one fact that says best why.
    pub reason: FactId,
}

/// A set that leads to the first working set.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LighterSet {
    /// Percent of the first working set's load, 1 to 99, before it is rounded down.
    pub percent_of_load: i64,
    /// Repetitions of each component of one round, in order.
    pub round: Vec<i64>,
    /// What is on the bar.
    pub load: BarLoad,
}

/// What is on the bar in one set.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct BarLoad {
    /// With bar and collars, rounded down to what can be made; in the unit of the bar.
    pub weight: Decimal,
    /// Pieces on one side, innermost first.
    pub pieces: Vec<Decimal>,
}

/// What to look at while something is done.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Watch {
    /// The rule.
    pub rule: RuleId,
    /// Where it stands.
    pub place: Place,
    /// What to look at.
    pub look: String,
    /// When to take load off or stop.
    pub lighten: String,
}

/// A load on the bar.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Load {
    /// The bar that it is made on: the week's, or a lighter one of the gym's where that is too heavy.
    pub bar: Bar,
    /// With bar and collars, rounded down to what can be made.
    pub low: Decimal,
    /// With bar and collars, rounded down to what can be made.
    pub high: Decimal,
    /// The unit's sign.
    pub unit: String,
    /// Percent, low and high end.
    pub percent: (i64, i64),
    /// The percent that the rules ask for, where the bar or the gym's pieces do not allow it.
    pub asked: Option<(i64, i64)>,
    /// What the percent is of.
    pub of: ReferenceId,
    /// Pieces on one side for the low end, innermost first.
    pub low_pieces: Vec<Decimal>,
    /// Pieces on one side for the high end, innermost first.
    pub high_pieces: Vec<Decimal>,
    /// The best that the missing one was estimated from, and the percent.
    pub estimated_from: Option<(ReferenceId, u16)>,
}
