//! Figures of a week, and the ranges in which they lie.
//!
//! Whole numbers; shares are rounded down. A *lift* is a snatch, clean or jerk that is received, or
//! a complex with one: no pull, no press. Sets of lifts are counted, since a set of one in a
//! competition lift stands for as much work as a set of three in a drill.

use std::collections::BTreeMap;

use drillwright::KnowledgeBase;
use drillwright::explain::{ExerciseEntry, Item, Plan};

/// One figure of a week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Figure {
    /// Repetitions with a load, of lifts, pulls, squats and presses alike.
    LoadedRepetitions,
    /// Of the sets of lifts those of one to three repetitions, in percent.
    SetsOfOneToThree,
    /// Repetitions of lifts above 90 % of the best, where loads climb evenly from the low to the
    /// high end.
    AboveNinety,
    /// Mean percent of the lifts that are no primer, weighted by repetitions.
    MeanPercent,
    /// Of the sets of lifts those of correctives, in percent.
    CorrectiveShare,
    /// Of the sets of lifts those of full lifts, in percent.
    FullLiftShare,
    /// Minutes of the longest session, as a percent of those that the case has.
    LongestSession,
}

impl Figure {
    /// What it is, in words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::LoadedRepetitions => "repetitions with a load, a week",
            Self::SetsOfOneToThree => "sets of 1 to 3 repetitions, % of sets of lifts",
            Self::AboveNinety => "repetitions of lifts above 90 %, a week",
            Self::MeanPercent => "mean percent of the lifts",
            Self::CorrectiveShare => "correctives, % of sets of lifts",
            Self::FullLiftShare => "full lifts, % of sets of lifts",
            Self::LongestSession => "longest session, % of the minutes there are",
        }
    }

    /// The range for a phase, both ends included, and where it comes from.
    pub fn range(self, phase: &str) -> ((i64, i64), &'static str) {
        match (self, phase) {
            (Self::LoadedRepetitions, _) => (
                (15, 300),
                "1,000 to 1,300 lifts a month in elite lifters (review of Soviet-era loads, abstract): nobody has more; the least is expert-set",
            ),
            (Self::SetsOfOneToThree, _) => (
                (75, 100),
                "75 to 85 % of the sets of elite lifters (the same review); more here, where general strength is counted apart",
            ),
            (Self::AboveNinety, "general" | "last-week") => {
                ((0, 0), "common practice: nothing near the best then")
            }
            (Self::AboveNinety, _) => (
                (0, 18),
                "46, 93 and 184 in ten weeks compared, 93 best (González-Badillo 2006, abstract): 5, 9 and 18 a week",
            ),
            (Self::MeanPercent, "general") => ((62, 77), "expert-set"),
            (Self::MeanPercent, "specific") => ((66, 82), "expert-set"),
            (Self::MeanPercent, "competition") => ((70, 86), "expert-set"),
            (Self::MeanPercent, _) => ((64, 80), "expert-set: loads fall in the last week"),
            (Self::CorrectiveShare, "general") => ((0, 50), "expert-set"),
            (Self::CorrectiveShare, "specific") => ((0, 50), "expert-set"),
            (Self::CorrectiveShare, "competition") => ((0, 40), "expert-set"),
            (Self::CorrectiveShare, _) => ((0, 0), "common practice: the last week drills nothing"),
            (Self::FullLiftShare, "general") => ((15, 100), "expert-set"),
            (Self::FullLiftShare, _) => ((33, 100), "expert-set: a third at the least"),
            (Self::LongestSession, _) => {
                ((50, 100), "the case's own minutes; the least is expert-set")
            }
        }
    }
}

/// What is known of all exercises of some rules, by id.
pub fn entries(base: &KnowledgeBase) -> BTreeMap<String, ExerciseEntry> {
    let all = base.exercises().into_iter();
    all.map(|entry| (entry.id.to_string(), entry)).collect()
}

/// Whether an item is a lift.
pub fn is_lift(entries: &BTreeMap<String, ExerciseEntry>, item: &Item) -> bool {
    let Some(entry) = entries.get(item.exercise.as_str()) else {
        return false;
    };
    let of = |id: &str| entry.skills.iter().any(|skill| skill.as_str() == id);
    let has = |id: &str| item.constraints.iter().any(|held| held.as_str() == id);
    let unreceived = ["no-turnover", "high-pull", "strict-press"];
    (of("snatch") || of("clean") || of("jerk"))
        && (entry.complex || !unreceived.into_iter().any(has))
}

const fn share(part: i64, whole: i64) -> Option<i64> {
    if whole == 0 {
        None
    } else {
        Some(100 * part / whole)
    }
}

/// The figures of a week; one is absent where there is nothing to take it of. `minutes` are those
/// of the case.
pub fn figures(
    entries: &BTreeMap<String, ExerciseEntry>,
    plan: &Plan,
    minutes: i64,
) -> BTreeMap<Figure, i64> {
    let (mut loaded, mut sets, mut short, mut correctives, mut full) = (0, 0, 0, 0, 0);
    let (mut above, mut weighed, mut reps_weighed) = (0, 0, 0);
    for item in plan.sessions.iter().flat_map(|session| &session.items) {
        let round: i64 = item.round.iter().sum();
        let reps = item.sets * round;
        loaded += if item.load.is_some() { reps } else { 0 };
        if !is_lift(entries, item) {
            continue;
        }
        sets += item.sets;
        short += if round <= 3 { item.sets } else { 0 };
        match item.role.as_str() {
            "corrective" => correctives += item.sets,
            "competition" => full += item.sets,
            _ => {}
        }
        if let Some(load) = item
            .load
            .as_ref()
            .filter(|_| item.role.as_str() != "primer")
        {
            let (low, high) = load.percent;
            above += if low >= 90 && high > 90 {
                reps
            } else {
                reps * (high - 90).max(0) / (high - low).max(1)
            };
            weighed += (low + high) * reps;
            reps_weighed += 2 * reps;
        }
    }
    let longest = plan.sessions.iter().map(|session| session.minutes()).max();
    let all = [
        (Figure::LoadedRepetitions, (loaded > 0).then_some(loaded)),
        (Figure::SetsOfOneToThree, share(short, sets)),
        (Figure::AboveNinety, (reps_weighed > 0).then_some(above)),
        (
            Figure::MeanPercent,
            share(weighed, reps_weighed).map(|hundredfold| hundredfold / 100),
        ),
        (Figure::CorrectiveShare, share(correctives, sets)),
        (Figure::FullLiftShare, share(full, sets)),
        (
            Figure::LongestSession,
            longest.and_then(|longest| share(longest, minutes)),
        ),
    ];
    let known = all
        .into_iter()
        .filter_map(|(figure, value)| Some((figure, value?)));
    known.collect()
}

/// What the case says in a field, in words; none where it does not say it itself.
fn said<'a>(plan: &'a Plan, field: &str) -> Option<&'a str> {
    let mut all = plan.stated.iter();
    let found = all.find(|(id, _)| id.as_str() == field);
    found.map(|(_, words)| words.as_str())
}

/// Minutes a session that the case has, of days that have their own the most; the rules' usual ones
/// where it says none.
pub fn minutes(plan: &Plan) -> i64 {
    const USUAL: i64 = 90;
    let words = said(plan, "minutes").unwrap_or_default();
    let numbers = words.split(|letter: char| !letter.is_ascii_digit());
    let said = numbers.filter_map(|number| number.parse().ok()).max();
    said.unwrap_or(USUAL)
}

/// Whether the lifter has a sore place or does not own the full lifts.
pub fn is_partial(plan: &Plan) -> bool {
    let limits = said(plan, "limits").is_some_and(|words| words != "none");
    limits || said(plan, "full-lift").is_some_and(|words| words.contains("not owned"))
}
