//! What a written week comes to, in words.

use crate::explain::{
    Audit, AuditedLine, CauseServed, Change, Changed, Lack, Level, Missed, Ruling, Says, Wanting,
    Wrongly,
};

use super::phrase::{capital, half_points, hundredths, many, spaced, weekday};

/// What is said of every audit.
pub(crate) const CAUTION: &str = "A week may differ from the best one under these rules and be sound; what the rules do not know of a lifter its coach does. A qualified coach decides.";

/// What is looked at.
pub(crate) fn head(audit: &Audit) -> String {
    let lines: usize = audit.days.iter().map(|(_, lines)| lines.len()).sum();
    let lines = i64::try_from(lines).unwrap_or(i64::MAX);
    let whose = if audit.lifter.is_empty() {
        String::new()
    } else {
        format!(" for {}", audit.lifter)
    };
    format!("A written week{whose}, {}", many(lines, "line", "lines"))
}

/// Whether it is sound.
pub(crate) fn verdict(audit: &Audit) -> String {
    String::from(if audit.soundness.is_sound {
        "Sound under these rules."
    } else {
        "Not sound under these rules:"
    })
}

/// Something that is wanting.
pub(crate) fn wanting(wanting: &Wanting) -> String {
    match wanting {
        Wanting::Broken => {
            String::from("something in it clashes with what must hold, marked ! below.")
        }
        Wanting::Missed { level, more, most } => format!(
            "of what gives way {level} it misses {} more than the best week; {most} more are allowed.",
            many(*more, "unit", "units")
        ),
        Wanting::Worth { percent, least } => format!(
            "it is worth {percent} % of what the best week is worth; {least} % are asked for."
        ),
    }
}

fn units(missed: Missed) -> String {
    format!("{} / {} / {}", missed.last, missed.middle, missed.first)
}

/// Its worth beside the best week's.
pub(crate) fn beside_the_best(audit: &Audit) -> String {
    let own = format!(
        "Worth {} points; units missed of what gives way last / in the middle / first: {}.",
        hundredths(audit.worth),
        units(audit.missed)
    );
    match &audit.best {
        Some(best) => format!(
            "{own} The best week ({}): {} points, {}.",
            best.proof.as_str(),
            hundredths(best.worth),
            units(best.missed)
        ),
        None => format!("{own} There is no best week to hold it against."),
    }
}

fn percents((low, high): (i64, i64)) -> String {
    if low == high {
        format!("{low} %")
    } else {
        format!("{low}–{high} %")
    }
}

fn dose((sets, reps): (i64, i64), percent: Option<(i64, i64)>) -> String {
    let load = percent.map_or_else(String::new, |percent| format!(" at {}", percents(percent)));
    format!("{sets} × {reps}{load}")
}

/// How it was read.
pub(crate) fn stands(held: &AuditedLine) -> String {
    match &held.stands {
        Some((part, role)) => format!(
            "read as {}; {}, {}",
            held.exercise.name, part.name, role.name
        ),
        None => format!("read as {}", held.exercise.name),
    }
}

/// The dose that the rules give, where that is another.
pub(crate) fn other_dose(held: &AuditedLine) -> Option<String> {
    let usual = held.usual?;
    let within = |(low, high): (i64, i64), (from, to): (i64, i64)| low >= from && high <= to;
    let same_load = match (held.percent, held.usual_percent) {
        (Some(own), Some(usual)) => within(own, usual),
        _ => true,
    };
    if held.dose == usual && same_load {
        return None;
    }
    Some(format!(
        "written {}; the rules give {}",
        dose(held.dose, held.percent),
        dose(usual, held.usual_percent)
    ))
}

/// What is wrong with a day as a whole.
pub(crate) fn wrong_on_day(held: &Wrongly) -> String {
    let day = held
        .day
        .map_or_else(String::new, |day| format!("{}: ", capital(&weekday(day))));
    format!("{day}{}", wrong(held))
}

/// What may not stand as it stands.
pub(crate) fn wrong(held: &Wrongly) -> String {
    against(&held.what, &held.says)
}

/// What is against something, with what in the rules says so.
pub(crate) fn against(what: &str, says: &[Says]) -> String {
    let rules: Vec<&str> = says.iter().map(|says| says.path.as_str()).collect();
    if rules.is_empty() {
        what.to_owned()
    } else {
        format!("{what} ({})", rules.join(", "))
    }
}

/// Bounds that are missed, each rule once with its days and all units.
pub(crate) fn lacks(all: &[Lack]) -> Vec<String> {
    let mut said: Vec<(&Lack, Vec<String>, i64)> = Vec::new();
    for held in all {
        let day = held.day.map(|day| capital(&weekday(day)));
        match said
            .iter_mut()
            .find(|(other, ..)| other.ruling == held.ruling)
        {
            Some((_, days, units)) => {
                days.extend(day.filter(|day| !days.contains(day)));
                *units += held.units;
            }
            None => said.push((held, day.into_iter().collect(), held.units)),
        }
    }
    let lines = said.iter().map(|(held, days, units)| {
        let on = if days.is_empty() {
            String::new()
        } else {
            format!("{}: ", days.join(", "))
        };
        let level = match held.level {
            Level::Never => String::from("must hold"),
            other => format!("gives way {}", other.as_str()),
        };
        let because = match &held.ruling {
            Ruling::Part(part) => format!(
                "the part “{}” has more or fewer lines than the day's layout gives it.",
                spaced(part.as_str())
            ),
            Ruling::Rule { .. } => held.because.clone(),
        };
        format!(
            "{on}{because} {} ({level}; {}, {}:{})",
            many(*units, "unit", "units"),
            held.ruling,
            held.place.file,
            held.place.line
        )
    });
    lines.collect()
}

/// What the week does for a cause.
pub(crate) fn served(held: &CauseServed) -> String {
    let named = |all: &[(crate::explain::Called<crate::base::ExerciseId>, i64)]| {
        let all = all.iter();
        let all: Vec<String> = all
            .map(|(exercise, points)| format!("{} {}", exercise.name, half_points(*points)))
            .collect();
        all.join(", ")
    };
    let mut text = format!(
        "{} in all, demand {} of 300.",
        half_points(held.effect),
        held.demand
    );
    if held.helps.is_empty() {
        text.push_str(" Nothing in it helps.");
    } else {
        text.push_str(&format!(" Helps: {}.", named(&held.helps)));
    }
    if !held.harms.is_empty() {
        text.push_str(&format!(" Feeds it: {}.", named(&held.harms)));
    }
    if !held.best.is_empty() {
        let best: Vec<&str> = held.best.iter().map(|held| held.name.as_str()).collect();
        text.push_str(&format!(" In the best week: {}.", best.join(", ")));
    }
    text
}

/// The change that helps most.
pub(crate) fn change(held: &Change) -> String {
    let day = capital(&weekday(held.day));
    let as_dosed = held
        .dose
        .map_or_else(String::new, |sets| dose(sets, held.percent));
    let role = held
        .stands
        .as_ref()
        .map_or_else(String::new, |(part, role)| {
            format!(" ({}, {})", part.name, role.name)
        });
    match &held.what {
        Changed::Dropped(one) => format!("{day}: leave out {}.", one.name),
        Changed::Dosed(one) => format!("{day}: do {} {as_dosed}.", one.name),
        Changed::Swapped(one, other) => {
            format!(
                "{day}: {} {as_dosed}{role} in place of {}.",
                other.name, one.name
            )
        }
        Changed::Added(one, at) => {
            format!(
                "{day}: {} {as_dosed}{role} as well, as line {}.",
                one.name,
                at + 1
            )
        }
        Changed::Moved(one, to) => format!("{day}: do {} as line {}.", one.name, to + 1),
    }
}

/// What the week comes to with it.
pub(crate) fn after(audit: &Audit, held: &Change) -> String {
    let hard = if audit.clashes + held.clashes > 0 {
        format!("clashes {} → {}; ", audit.clashes, held.clashes)
    } else {
        String::new()
    };
    format!(
        "{hard}units missed {} → {}; worth {} → {}. Every change of one line was tried.",
        units(audit.missed),
        units(held.missed),
        hundredths(audit.worth),
        hundredths(held.worth)
    )
}
