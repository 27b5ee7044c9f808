//! Weeks in a row, in words: what changes from one to the next, and why.

use std::collections::BTreeMap;

use crate::base::FactId;
use crate::explain::{
    Beyond, BlockWeek, Called, DoneInWeek, FigureEntry, FigureValue, Named, Ruling, Says,
    TrainingBlock, WeekChange, WhyChanged,
};

use super::audited::against;
use super::phrase::{capital, first_sentence, hundredths, many};
use super::{Words, best_in_words};

/// What is proven of a block, and what is not.
pub(crate) const CHAIN: &str = "The weeks are made one after the other, each the best for its own question after the week before it, as its proof says. That no other row of weeks would be better together is neither asked nor proven.";

/// What is said with every block.
pub(crate) const CAUTION: &str = "A plan of weeks is a proposal for a qualified coach. What is seen on the platform stands above it: look again after three or four weeks, make loads lighter or stop where something hurts, and make the next weeks from what was seen.";

/// What it is.
pub(crate) fn head(block: &TrainingBlock) -> String {
    let lifter = if block.lifter.is_empty() {
        "a lifter"
    } else {
        block.lifter.as_str()
    };
    let weeks = i64::try_from(block.weeks.len()).unwrap_or(i64::MAX);
    format!(
        "Training block for {lifter}: {}, {}",
        block.laid_out.name,
        many(weeks, "week", "weeks")
    )
}

/// A day to which the block does not lead.
pub(crate) fn beyond(held: &Beyond) -> String {
    format!(
        "{}, {}, is in week {}: this block does not lead to it. Make as many weeks, or another block after these.",
        capital(&held.field.name),
        held.on,
        held.week
    )
}

/// A week's place in the block.
pub(crate) fn week(held: &BlockWeek) -> String {
    let begins = held
        .begins
        .as_ref()
        .map_or_else(String::new, |day| format!(", {day}"));
    format!("Week {}{begins}: {}", held.number, kind(held))
}

/// Its phase, and what its place says.
pub(crate) fn kind(held: &BlockWeek) -> String {
    let says = held
        .says
        .as_ref()
        .map_or_else(String::new, |(_, says)| format!(", {says}"));
    format!("{}{says}", held.phase.name)
}

/// What is known of how good a week is, and what gives way in it.
pub(crate) fn proof(held: &BlockWeek) -> String {
    let misses = held.plan.shortfalls.iter();
    let misses =
        misses.map(|lack| format!("{} ({})", lack.ruling, many(lack.units, "unit", "units")));
    let misses: Vec<String> = misses.collect();
    if misses.is_empty() {
        held.plan.proof.as_str().to_owned()
    } else {
        format!(
            "{}; gives way: {}",
            held.plan.proof.as_str(),
            misses.join(", ")
        )
    }
}

/// What was seen, and what is worked on.
pub(crate) fn aims(block: &TrainingBlock) -> Vec<String> {
    let Some(first) = block.weeks.first() else {
        return Vec::new();
    };
    let words = Words::new(&first.plan.glossary);
    let seen = first.plan.seen.iter().map(|seen| {
        let fault = words.name(Named::Fault, seen.fault.as_str());
        format!("seen: {} ({})", fault, words.skill(seen.skill.as_str()))
    });
    let causes = first.plan.focus.iter().map(|held| {
        let cause = words.cause(held.cause.as_str());
        format!("works on: {} ({})", cause, words.skill(held.skill.as_str()))
    });
    // What its place in the block says is told week by week.
    let own = first.says.as_ref().map(|(field, _)| field);
    let stated = first
        .plan
        .stated
        .iter()
        .filter(|(field, _)| Some(field) != own);
    let stated = stated
        .map(|(field, says)| format!("{}: {says}", words.name(Named::CaseField, field.as_str())));
    let bests = first.plan.bests.iter().map(|best| {
        let name = words.name(Named::Reference, best.reference.as_str());
        best_in_words(name, best, &first.plan.bar.unit)
    });
    let aims: Vec<String> = seen.chain(causes).collect();
    let case: Vec<String> = stated.chain(bests).collect();
    let lines = [aims.join("; "), case.join("; ")];
    lines.into_iter().filter(|line| !line.is_empty()).collect()
}

/// A figure with its value.
pub(crate) fn figure(entry: &FigureEntry, value: &FigureValue) -> String {
    let percent = if entry.percent { " %" } else { "" };
    format!("{} {}{percent}", entry.figure.name, value.value)
}

/// That a figure does not lie where it should; none where it does.
pub(crate) fn outside(entry: &FigureEntry, value: &FigureValue) -> Option<String> {
    let (from, to, says) = value.range.as_ref().filter(|_| !value.is_within())?;
    Some(format!(
        "{} is not within {from} to {to}: {} ({})",
        figure(entry, value),
        says.because,
        says.path
    ))
}

fn names<I>(all: &[Called<I>]) -> String {
    let names: Vec<&str> = all.iter().map(|held| held.name.as_str()).collect();
    match names.as_slice() {
        [rest @ .., last] if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => names.concat(),
    }
}

/// How something is done in a week.
fn done(held: &DoneInWeek) -> String {
    let top = held
        .top
        .map_or_else(String::new, |top| format!(", up to {top} %"));
    format!(
        "{}, {}, {}{top}",
        names(&held.roles),
        many(held.days, "day", "days"),
        many(held.sets, "set", "sets"),
    )
}

/// What of how it is done is otherwise.
fn difference(was: &DoneInWeek, is: &DoneInWeek) -> String {
    let mut said = Vec::new();
    if was.roles != is.roles {
        said.push(format!(
            "{} (before {})",
            names(&is.roles),
            names(&was.roles)
        ));
    }
    if was.days != is.days {
        said.push(format!(
            "{} (before {})",
            many(is.days, "day", "days"),
            was.days
        ));
    }
    if was.sets != is.sets {
        said.push(format!(
            "{} (before {})",
            many(is.sets, "set", "sets"),
            was.sets
        ));
    }
    if was.sets == is.sets && was.reps != is.reps {
        let reps = many(is.reps, "repetition", "repetitions");
        said.push(format!("{reps} (before {})", was.reps));
    }
    match (was.top, is.top) {
        (Some(was), Some(is)) if was != is => said.push(format!("up to {is} % (before {was} %)")),
        (None, Some(is)) => said.push(format!("up to {is} % (before without a load)")),
        (Some(was), None) => said.push(format!("without a load (before up to {was} %)")),
        _ => {}
    }
    if said.is_empty() {
        String::from("otherwise spread over its days")
    } else {
        said.join(", ")
    }
}

/// What is otherwise.
pub(crate) fn change(held: &WeekChange) -> String {
    let name = &held.exercise.name;
    match (&held.was, &held.is) {
        (None, Some(is)) => format!("{name} comes in ({})", done(is)),
        (Some(_), None) => {
            format!("{name} goes, after {}", many(held.weeks, "week", "weeks"))
        }
        (Some(was), Some(is)) => format!("{name}: {}", difference(was, is)),
        (None, None) => name.clone(),
    }
}

fn rules(all: &[Says]) -> String {
    let said = all.iter().map(|says| {
        let because = first_sentence(&says.because);
        format!("{because} ({})", says.path)
    });
    said.collect::<Vec<_>>().join(" ")
}

/// Why; `sentences` are those of the week's items by the fact that each is placed.
pub(crate) fn why(
    words: &Words<'_>,
    held: &WeekChange,
    why: &WhyChanged,
    sentences: &BTreeMap<FactId, String>,
) -> String {
    let often = if held.is.is_some() {
        "it once more"
    } else {
        "it"
    };
    match why {
        WhyChanged::Placed(fact) => sentences.get(fact).cloned().unwrap_or_default(),
        WhyChanged::Refused(what, says) => {
            format!("It may not stand in this week: {}.", against(what, says))
        }
        WhyChanged::NoRoom => format!("No week that keeps what must hold has {often}."),
        WhyChanged::GivesWay { more, proven } => {
            let more = more.iter().map(|(ruling, units)| {
                let units = many(*units, "unit", "units");
                format!("{} ({ruling}, {units} more)", because(words, ruling))
            });
            let more: Vec<String> = more.collect();
            let best = best(*proven);
            format!("{best} with {often} misses more: {}", more.join(" "))
        }
        WhyChanged::WorthLess { less, by, proven } => {
            let sum: i64 = by.iter().map(|(_, less)| less).sum();
            let said = by.iter().map(|(ruling, less)| {
                let because = because(words, ruling);
                let because = because.trim_end_matches('.');
                format!("“{because}” ({ruling}, {} points)", hundredths(*less))
            });
            let said: Vec<String> = said.collect();
            let made_up = if sum > *less {
                ", and makes up for some of it elsewhere"
            } else {
                ""
            };
            let (best, less) = (best(*proven), hundredths(*less));
            format!(
                "{best} with {often} is worth {less} points less: it does less by {}{made_up}.",
                said.join(", ")
            )
        }
        WhyChanged::Tie => format!("Weeks with {often} are as good as this one."),
        WhyChanged::Unsettled => format!(
            "Whether a week with {often} is as good was not settled within the limit of work."
        ),
        WhyChanged::DosedBy(says) => format!("Dosed otherwise: {}", rules(says)),
        WhyChanged::NoLongerDosedBy(says) => {
            format!("What dosed it otherwise is over: {}", rules(says))
        }
        WhyChanged::OtherDays { was, is } => {
            format!("It stands on {} days, before on {}.", names(is), names(was))
        }
    }
}

/// The best week, or the best that was found.
const fn best(proven: bool) -> &'static str {
    if proven {
        "The best week"
    } else {
        "The best week found"
    }
}

/// Why a bound is there.
fn because(words: &Words<'_>, ruling: &Ruling) -> String {
    match ruling {
        Ruling::Part(part) => format!(
            "The part “{}” has its room.",
            words.name(Named::Part, part.as_str())
        ),
        Ruling::Rule { .. } => first_sentence(words.because(&ruling.to_string())).to_owned(),
    }
}
