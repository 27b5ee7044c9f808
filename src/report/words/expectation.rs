//! What stood where a test of the method expects something else.

use crate::explain::{Instead, Missed, Standing};

use super::phrase::{many, spaced, texts, weekday};
use super::proof::gave_way;

/// More of what stood there says no more.
const MOST_SHOWN: usize = 8;

/// What stood there instead, in one sentence without the items that are listed under it.
pub(crate) fn instead(what: &Instead) -> String {
    match what {
        Instead::NoSuchItem(standing) if standing.is_empty() => {
            String::from("nothing of the kind is there; the days asked for are empty")
        }
        Instead::NoSuchItem(_) => String::from("nothing of the kind is there; there are"),
        Instead::These(_) => String::from("there are"),
        Instead::Count {
            is,
            at_least,
            at_most,
            day,
            of,
        } => {
            let wanted = match (at_least, at_most) {
                (Some(least), Some(most)) => format!("{least} to {most} are expected"),
                (Some(least), None) => format!("at least {least} are expected"),
                (None, Some(most)) => format!("at most {most} are expected"),
                (None, None) => String::from("another number is expected"),
            };
            let place = match day {
                Some(day) => format!("{} has", weekday(*day)),
                None => String::from("the week has"),
            };
            let end = if of.is_empty() { "" } else { "; counted are" };
            format!("{place} {is}, and {wanted}{end}")
        }
        Instead::Measured(Some(value)) => format!("it is measured as {value}"),
        Instead::Measured(None) | Instead::IsTrue(None) => String::from("it is not known"),
        Instead::IsTrue(Some(true)) => String::from("it is so"),
        Instead::IsTrue(Some(false)) => String::from("it is not so"),
        Instead::Order { .. } => String::from("the first of these stands before the second"),
        Instead::Compared { more, fewer } => {
            format!("there are {more}, and {fewer} in the variant that should have fewer")
        }
        Instead::WorkedOn(causes) if causes.is_empty() => String::from("no cause is worked on"),
        Instead::WorkedOn(causes) => {
            let causes: Vec<String> = causes
                .iter()
                .map(|(skill, cause)| {
                    format!("{} ({})", spaced(cause.as_str()), spaced(skill.as_str()))
                })
                .collect();
            format!("worked on are {}", causes.join(", "))
        }
        Instead::Missed { units, of } => missed(units, &texts(of)),
        Instead::Proof(proof) => format!("the week's proof is `{}`", proof.as_str()),
        Instead::Week => String::from("there is a week"),
        Instead::NoWeek(clash) => {
            format!("there is no week; what clashes is {}", clash.join(", "))
        }
        Instead::Fault(None) => String::from("no attempt shows it"),
        Instead::Fault(Some((made, grade, from))) => {
            let from = from.map_or_else(String::new, |from| format!(" from {from} % on"));
            format!("it is `{made}`, in the grade `{grade}`{from}")
        }
        Instead::Behind(causes) if causes.is_empty() => String::from("no cause is behind it"),
        Instead::Behind(causes) => {
            let causes: Vec<String> = causes
                .iter()
                .map(|(cause, demand)| format!("`{cause}` ({demand})"))
                .collect();
            format!("behind it are {}", causes.join(", "))
        }
        Instead::Further(Some(look)) => format!("the further look is `{look}`"),
        Instead::Further(None) => String::from("no further look would tell causes apart"),
        Instead::Sound(true) => String::from("the written week is sound"),
        Instead::Sound(false) => String::from("the written week is not sound"),
        Instead::Breaks(_, 0) => String::from("the written week clashes with nothing"),
        Instead::Breaks(rules, clashes) => {
            let clashes = many(*clashes, "clash", "clashes");
            if rules.is_empty() {
                format!("the written week has {clashes} and breaks no rule")
            } else {
                format!(
                    "the written week has {clashes} and breaks {}",
                    rules.join(", ")
                )
            }
        }
        Instead::Phase(phase) => format!("the week is of the phase `{phase}`"),
        Instead::Figure(Some(value)) => format!("the figure is {value}"),
        Instead::Figure(None) => String::from("the week has nothing to take the figure of"),
        Instead::Decided(all) if all.is_empty() => String::from(
            "nothing is decided of it: it is not in the log, or does nothing against that",
        ),
        Instead::Decided(all) => {
            let all: Vec<String> = all
                .iter()
                .map(|(decided, by)| format!("`{}`, by `{by}`", decided.as_str()))
                .collect();
            format!("decided is {}", all.join(", "))
        }
        Instead::NotAmong {
            rules,
            fields,
            bests,
        } => {
            let mut all = texts(rules);
            all.extend(texts(fields));
            all.extend(texts(bests));
            format!("not among it: {}", all.join(", "))
        }
    }
}

fn missed(units: &Missed, of: &[String]) -> String {
    format!("{}: {}", gave_way(units), of.join(", "))
}

/// The items that stood there.
pub(crate) fn stood(what: &Instead) -> Vec<&Standing> {
    match what {
        Instead::NoSuchItem(standing)
        | Instead::These(standing)
        | Instead::Count { of: standing, .. } => standing.iter().collect(),
        Instead::Order { earlier, later } => vec![earlier, later],
        _ => Vec::new(),
    }
}

/// The items that stood there, a line each; of very many the first.
pub(crate) fn stood_in_words(what: &Instead) -> Vec<String> {
    let all = stood(what);
    let mut lines: Vec<String> = all.iter().take(MOST_SHOWN).map(|one| line(one)).collect();
    if let Some(more) = all.len().checked_sub(MOST_SHOWN).filter(|more| *more > 0) {
        let more = i64::try_from(more).unwrap_or(i64::MAX);
        lines.push(format!("and {}", many(more, "other", "others")));
    }
    lines
}

fn line(standing: &Standing) -> String {
    let load = match standing.percent {
        Some((low, high)) => format!(" at {low}–{high} %"),
        None => String::new(),
    };
    format!(
        "{}, {}: {} {} × {}{load}, {}",
        weekday(standing.day),
        spaced(standing.part.as_str()),
        standing.name,
        standing.sets,
        standing.reps,
        spaced(standing.role.as_str()),
    )
}
