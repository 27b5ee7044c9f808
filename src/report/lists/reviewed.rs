//! What a training log says.

use serde::{Deserialize, Serialize};

use crate::base::Decimal;
use crate::explain::{
    Becomes, BestEstimate, BestMade, Counts, Decision, ExerciseReview, FaultReview, NextStep,
    Review, ShareSeen,
};
use crate::report::json::{FORMAT, PlaceDocument, document, this_format};
use crate::report::words::reviewed as words;

use super::case_text::case_text;

document! {
    /// What a training log says.
    ReviewDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The fingerprint of the rules.
        rules: String,
        /// The label of the case; it may be empty.
        lifter: String,
        /// The day of the first entry, as YYYY-MM-DD.
        from: String,
        /// The day of the last entry.
        to: String,
        /// The day from which the next case counts.
        today: String,
        /// How many entries there are.
        entries: usize,
        /// Their repetitions, made and missed.
        repetitions: u32,
        /// Calendar weeks that have entries.
        weeks: usize,
        /// How sure the intervals are, in percent.
        interval_percent: u8,
        /// The last so many calendar weeks are what is so now.
        last_weeks: u8,
        /// The first so many are what it is compared with.
        first_weeks: u8,
        /// Each fault of the case and of the log.
        faults: Vec<FaultReviewDocument>,
        /// Bests that were made.
        bests: Vec<BestMadeDocument>,
        /// What loads made several times say of bests.
        estimates: Vec<BestEstimateDocument>,
        /// Entries that name a fault and do not say in how many repetitions.
        unsaid: usize,
        /// Listed exercises of the last calendar week.
        did_last_week: Vec<String>,
        /// Exercises that no rule file lists, as they are read.
        not_listed: Vec<String>,
        /// The case that goes on from it, as the text of a case file.
        next_case: String,
        /// How the numbers come about, and what to be careful of.
        cautions: Vec<String>,
    }
}

document! {
    /// What the log says of a fault of a skill.
    FaultReviewDocument {
        /// The fault.
        fault: String,
        /// Its name.
        name: String,
        /// The skill.
        skill: String,
        /// In the full form, done alone.
        full: CountsDocument,
        /// In each other exercise of the skill.
        exercises: Vec<ExerciseReviewDocument>,
        /// What is decided of the fault by itself; null where that says nothing.
        decision: Option<DecisionDocument>,
        /// What becomes of it in the next case: `stated`, `as-before` or `left-out`.
        becomes: String,
        /// The grade in which it is stated.
        grade: Option<String>,
        /// In how many repetitions it is stated to be seen.
        seen: Option<u16>,
        /// Of how many.
        of: Option<u16>,
    }
}

document! {
    /// How often a fault was seen in one form.
    CountsDocument {
        /// In the whole log.
        in_all: ShareSeenDocument,
        /// In the last weeks.
        last: ShareSeenDocument,
        /// In the first weeks, where the last ones are others.
        first: Option<ShareSeenDocument>,
        /// In each calendar week that could show it.
        by_week: Vec<WeekSeenDocument>,
    }
}

document! {
    /// In how many repetitions of how many, with its exact interval.
    ShareSeenDocument {
        /// In how many.
        seen: u32,
        /// Of how many that could show it.
        of: u32,
        /// The lower end in per mille, rounded down.
        low_per_mille: u16,
        /// The upper end in per mille, rounded up.
        high_per_mille: u16,
    }
}

document! {
    /// The same of one calendar week.
    WeekSeenDocument {
        /// Its Monday, as YYYY-MM-DD.
        monday: String,
        /// How often.
        share: ShareSeenDocument,
    }
}

document! {
    /// What the log says of a fault in one exercise.
    ExerciseReviewDocument {
        /// The exercise.
        exercise: String,
        /// Its name.
        name: String,
        /// Whether a rule file lists it.
        is_listed: bool,
        /// Whether the fault can be seen in it at all.
        shows: bool,
        /// How often it was.
        counts: CountsDocument,
        /// What is decided; null where it does nothing against the fault, or was not done in the last weeks.
        decision: Option<DecisionDocument>,
        /// The next step of its ladder, where the lifter moves along.
        next: Option<NextStepDocument>,
    }
}

document! {
    /// A decision.
    DecisionDocument {
        /// `keep`, `move-along`, `swap`, `withdraw` or `look-again`.
        decided: String,
        /// The rule.
        by: String,
        /// Where it stands.
        place: PlaceDocument,
        /// What it means for the weeks to come.
        says: String,
        /// Why.
        because: String,
        /// What the next case says came of the exercise.
        came: Option<String>,
    }
}

document! {
    /// The next step of a ladder.
    NextStepDocument {
        /// The listed exercise, where there is one.
        exercise: Option<String>,
        /// Its name; where it is not listed, that of the exercise at the ladder's end.
        name: String,
        /// Constraints that are still there, where it is not listed.
        with: Vec<String>,
        /// What is taken away.
        freed: String,
    }
}

document! {
    /// A best that was made.
    BestMadeDocument {
        /// The best.
        best: String,
        /// The load.
        load: Decimal,
        /// The day, as YYYY-MM-DD.
        on: String,
        /// In which exercise.
        exercise: String,
        /// What the case said until now.
        before: Option<Decimal>,
    }
}

document! {
    /// What a load made several times says of the one that could be made once.
    BestEstimateDocument {
        /// The best.
        best: String,
        /// The name of the published formula.
        formula: String,
        /// The load.
        load: Decimal,
        /// How often it was made in one set.
        repetitions: u16,
        /// The day, as YYYY-MM-DD.
        on: String,
        /// What could be made once, rounded down; an estimate.
        once: Decimal,
        /// Whether that is above the best and all that was made.
        is_above: bool,
        /// Whether the rules let it become the best.
        becomes_best: bool,
        /// Why it is made, and what it is good for.
        because: String,
    }
}

fn share(held: &ShareSeen) -> ShareSeenDocument {
    ShareSeenDocument {
        seen: held.seen,
        of: held.of,
        low_per_mille: held.low,
        high_per_mille: held.high,
    }
}

fn counts(held: &Counts) -> CountsDocument {
    CountsDocument {
        in_all: share(&held.in_all),
        last: share(&held.last),
        first: held.first.as_ref().map(share),
        by_week: held
            .by_week
            .iter()
            .map(|(monday, held)| WeekSeenDocument {
                monday: monday.clone(),
                share: share(held),
            })
            .collect(),
    }
}

fn decision(held: &Decision) -> DecisionDocument {
    DecisionDocument {
        decided: held.decided.as_str().to_owned(),
        by: held.by.to_string(),
        place: PlaceDocument::from(&held.place),
        says: held.says.clone(),
        because: held.because.clone(),
        came: held.came.map(str::to_owned),
    }
}

fn next(held: &NextStep) -> NextStepDocument {
    NextStepDocument {
        exercise: held.exercise.as_ref().map(ToString::to_string),
        name: held.name.clone(),
        with: held.with.iter().map(|held| held.id.to_string()).collect(),
        freed: held.freed.id.to_string(),
    }
}

fn exercise(held: &ExerciseReview) -> ExerciseReviewDocument {
    ExerciseReviewDocument {
        exercise: held.exercise.id.to_string(),
        name: held.exercise.name.clone(),
        is_listed: held.is_listed,
        shows: held.shows,
        counts: counts(&held.counts),
        decision: held.decision.as_ref().map(decision),
        next: held.next.as_ref().map(next),
    }
}

fn fault(held: &FaultReview) -> FaultReviewDocument {
    let (becomes, stated) = match &held.becomes {
        Becomes::Stated {
            grade, seen, of, ..
        } => ("stated", Some((grade.to_string(), *seen, *of))),
        Becomes::AsBefore => ("as-before", None),
        Becomes::LeftOut => ("left-out", None),
    };
    FaultReviewDocument {
        fault: held.fault.id.to_string(),
        name: held.fault.name.clone(),
        skill: held.skill.to_string(),
        full: counts(&held.full),
        exercises: held.exercises.iter().map(exercise).collect(),
        decision: held.decision.as_ref().map(decision),
        becomes: becomes.to_owned(),
        seen: stated.as_ref().map(|(_, seen, _)| *seen),
        of: stated.as_ref().map(|(_, _, of)| *of),
        grade: stated.map(|(grade, _, _)| grade),
    }
}

fn best(held: &BestMade) -> BestMadeDocument {
    BestMadeDocument {
        best: held.best.id.to_string(),
        load: held.load,
        on: held.on.clone(),
        exercise: held.exercise.id.to_string(),
        before: held.before,
    }
}

fn estimate(held: &BestEstimate) -> BestEstimateDocument {
    BestEstimateDocument {
        best: held.best.id.to_string(),
        formula: held.formula.to_owned(),
        load: held.load,
        repetitions: held.repetitions,
        on: held.on.clone(),
        once: held.once,
        is_above: held.is_above,
        becomes_best: held.becomes_best,
        because: held.because.clone(),
    }
}

/// What a training log says, as a document.
#[must_use]
pub fn review_document(review: &Review) -> ReviewDocument {
    let mut cautions = words::method(review);
    if !review.estimates.is_empty() {
        cautions.push(words::ESTIMATES.to_owned());
    }
    cautions.push(words::CAUTION.to_owned());
    ReviewDocument {
        format: FORMAT,
        rules: review.fingerprint.clone(),
        lifter: review.lifter.clone(),
        from: review.from.clone(),
        to: review.to.clone(),
        today: review.today.clone(),
        entries: review.entries,
        repetitions: review.repetitions,
        weeks: review.weeks,
        interval_percent: review.interval_percent,
        last_weeks: review.last_weeks,
        first_weeks: review.first_weeks,
        faults: review.faults.iter().map(fault).collect(),
        bests: review.bests.iter().map(best).collect(),
        estimates: review.estimates.iter().map(estimate).collect(),
        unsaid: review.unsaid,
        did_last_week: review
            .did_last_week
            .iter()
            .map(|held| held.id.to_string())
            .collect(),
        not_listed: review.not_listed.clone(),
        next_case: review_case(review),
        cautions,
    }
}

/// The case that goes on from a training log, as the text of a case file.
#[must_use]
pub fn review_case(review: &Review) -> String {
    case_text(&review.next)
}
