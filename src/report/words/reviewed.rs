//! What a training log says, in words.

use crate::explain::{
    Becomes, BestEstimate, BestMade, Counts, ExerciseReview, FaultReview, NextStep, Review,
    ShareSeen,
};

use super::phrase::{capital, many, spaced};

/// What was reviewed.
pub(crate) fn head(review: &Review) -> String {
    let of = format!(
        "{} with {} in {}, {} to {}",
        many(count(review.entries), "entry", "entries"),
        many(review.repetitions.into(), "repetition", "repetitions"),
        many(count(review.weeks), "week", "weeks"),
        review.from,
        review.to
    );
    if review.lifter.is_empty() {
        of
    } else {
        format!("{}: {of}", review.lifter)
    }
}

fn count(number: usize) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

/// What must be said of how the numbers come about.
pub(crate) fn method(review: &Review) -> Vec<String> {
    let mut all = vec![
        format!(
            "Intervals are exact (Clopper and Pearson), {} % sure if repetitions were independent. Those of one set are not, so less is sure than is printed.",
            review.interval_percent
        ),
        format!(
            "Now is the last {}; first is the first {} where those are others. A repetition of which nobody named the fault counts as free of it.",
            many(review.last_weeks.into(), "calendar week", "calendar weeks"),
            review.first_weeks
        ),
    ];
    if review.unsaid > 0 {
        all.push(format!(
            "{} a fault and not in how many repetitions: all that were missed are taken, or all where none was missed.",
            many(count(review.unsaid), "entry names", "entries name")
        ));
    }
    if !review.not_listed.is_empty() {
        all.push(format!(
            "No rule file lists, so that the next case cannot name: {}.",
            review.not_listed.join("; ")
        ));
    }
    all
}

/// A number of per mille in percent.
fn percent(mille: u16) -> String {
    if mille.is_multiple_of(10) {
        format!("{}", mille / 10)
    } else {
        format!("{}.{}", mille / 10, mille % 10)
    }
}

/// How often it was seen, with the interval.
pub(crate) fn share(share: &ShareSeen) -> String {
    if share.of == 0 {
        return String::from("none that could show it");
    }
    format!(
        "{} of {} ({} to {} %)",
        share.seen,
        share.of,
        percent(share.low),
        percent(share.high)
    )
}

/// How often now, before and in all.
pub(crate) fn counts(counts: &Counts) -> String {
    let first = counts.first.filter(|first| first.of > 0);
    let first = first.map_or_else(String::new, |first| format!("; first {}", share(&first)));
    format!(
        "now {}{first}; in all {}",
        share(&counts.last),
        share(&counts.in_all)
    )
}

/// Week by week.
pub(crate) fn by_week(counts: &Counts) -> String {
    let of =
        |(monday, held): &(String, ShareSeen)| format!("{monday} {} of {}", held.seen, held.of);
    let all: Vec<String> = counts.by_week.iter().map(of).collect();
    all.join(", ")
}

/// The name of a fault with its skill.
pub(crate) fn fault(held: &FaultReview) -> String {
    format!(
        "{} ({})",
        capital(&held.fault.name),
        spaced(held.skill.as_str())
    )
}

/// How often a fault was seen in one exercise.
pub(crate) fn in_exercise(held: &ExerciseReview) -> String {
    if !held.shows && held.counts.in_all.of == 0 {
        return String::from("it cannot be seen in this.");
    }
    format!("{}.", counts(&held.counts))
}

/// The next step of a ladder.
pub(crate) fn next_step(next: &NextStep) -> String {
    let with: Vec<&str> = next.with.iter().map(|held| held.name.as_str()).collect();
    let with = if with.is_empty() {
        String::new()
    } else {
        format!(", with {} (not listed)", with.join(" and "))
    };
    format!(
        "{}{with}: without {}.",
        capital(&next.name),
        next.freed.name
    )
}

/// What becomes of a fault.
pub(crate) fn becomes(held: &FaultReview) -> String {
    match &held.becomes {
        Becomes::Stated {
            grade,
            seen,
            of,
            is_new,
        } => {
            let new = if *is_new { ", which is new" } else { "" };
            format!(
                "stated as {}, seen {seen} of {of}{new}.",
                spaced(grade.as_str())
            )
        }
        Becomes::AsBefore => {
            String::from("stays as the case says it; too little was seen to leave it out.")
        }
        Becomes::LeftOut => String::from("left out."),
    }
}

/// A best that was made.
pub(crate) fn best(made: &BestMade) -> String {
    let before = made
        .before
        .map_or_else(String::new, |before| format!(", {before} until then"));
    format!(
        "{}: {} in {} on {}{before}.",
        capital(&made.best.name),
        made.load,
        made.exercise.name,
        made.on
    )
}

/// What a load made several times says.
pub(crate) fn estimate(made: &BestEstimate) -> String {
    let what = if made.becomes_best {
        "it becomes the best, as the rules let it"
    } else if made.is_above {
        "above the best; an estimate is no best until it is lifted"
    } else {
        "not above the best"
    };
    format!(
        "{}: about {} by {}'s formula, from {} × {} on {}; {what}.",
        capital(&made.best.name),
        made.once,
        made.formula,
        made.load,
        made.repetitions,
        made.on
    )
}

/// That nothing was done against a fault.
pub(crate) const NOTHING_DONE: &str =
    "Nothing of the last weeks works against it by itself, so nothing is decided.";

/// The limits of estimates.
pub(crate) const ESTIMATES: &str = "Such formulas are for few repetitions done to the end of what can be done; of easier sets they say less than could be lifted, and of what is a matter of skill nothing. Nobody loads a bar by one alone.";

/// What is said of every review.
pub(crate) const CAUTION: &str = "This follows from what was written down and from rules that anyone can read. A qualified coach decides; pain is for a clinician, whatever a log says.";
