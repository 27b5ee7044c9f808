//! A case from a file or from flags.

use std::collections::BTreeSet;
use std::path::Path;

use drillwright::{Case, KnowledgeBase};

use crate::args::WeekArgs;
use crate::out::{self, Failed};

pub fn from_file(base: &KnowledgeBase, path: &Path) -> Result<Case, Failed> {
    let (name, bytes) = out::read(path)?;
    Ok(base.case_from_bytes(&name, &bytes)?)
}

/// Whether flags say anything of the case. Each is named, so that one more says here what it is.
pub fn is_more_said(args: &WeekArgs) -> bool {
    let WeekArgs {
        // What is done with a case.
        case: _,
        seek: _,
        done: _,
        missed: _,
        compose: _,
        // Those go with `fault`.
        grade: _,
        skill: _,
        seen,
        lifter,
        today,
        fault,
        observed,
        sure_of,
        phase,
        days,
        minutes,
        on,
        level,
        best,
        new,
        disliked,
        tried,
        did_last_week,
        bar,
        other_bar,
        field,
    } = args;
    let once = [lifter, today, phase, days, minutes, level, bar];
    let many = [
        fault,
        observed,
        sure_of,
        on,
        new,
        disliked,
        did_last_week,
        other_bar,
    ];
    let pairs = [best, tried, field];
    once.iter().any(|said| said.is_some())
        || many.iter().any(|said| !said.is_empty())
        || pairs.iter().any(|said| !said.is_empty())
        || !seen.is_empty()
}

/// Refuses what flags say twice, as a file refuses a key that stands twice: nobody knows which of the
/// two is meant.
fn twice(args: &WeekArgs) -> Result<(), Failed> {
    let bests = args.best.iter().map(|(id, _)| ("--best", id.as_str()));
    let fields = args.field.iter().map(|(id, _)| ("--field", id.as_str()));
    let own = FIELDS.iter().filter(|(_, value)| value(args).is_some());
    let own = own.map(|(id, _)| ("--field", *id));
    let days = args.on.iter().map(|on| ("--on", of_day(on).0));
    let (mut said, mut twice) = (BTreeSet::new(), BTreeSet::new());
    for (flag, id) in bests.chain(own).chain(fields).chain(days) {
        if !said.insert((flag, id)) {
            twice.insert((flag, id));
        }
    }
    if twice.is_empty() {
        return Ok(());
    }
    let told = twice.into_iter().map(|(flag, id)| {
        let is_own = flag == "--field" && FIELDS.iter().any(|(own, _)| *own == id);
        let too = if is_own {
            format!(" or `--{id}`")
        } else {
            String::new()
        };
        format!("`{id}` is said twice, by `{flag}`{too}")
    });
    let told: Vec<String> = told.collect();
    Err(Failed::Said(format!("{}; say each once", told.join("; "))))
}

/// A flag that a field has of its own: the field, and what the flag says.
type OwnFlag = (&'static str, fn(&WeekArgs) -> Option<&String>);

/// A training day as a flag says it, with its minutes where it says them.
fn of_day(on: &str) -> (&str, Option<&str>) {
    on.split_once('=')
        .map_or((on, None), |(day, minutes)| (day, Some(minutes)))
}

const FIELDS: [OwnFlag; 3] = [
    ("days", |args| args.days.as_ref()),
    ("minutes", |args| args.minutes.as_ref()),
    ("level", |args| args.level.as_ref()),
];

pub fn from_flags(base: &KnowledgeBase, args: &WeekArgs) -> Result<Case, Failed> {
    if args.grade.len() != args.fault.len() {
        return Err(Failed::Said(String::from(
            "give as many grades as faults, in the same order",
        )));
    }
    if args.skill.len() > 1 && args.skill.len() != args.fault.len() {
        return Err(Failed::Said(String::from(
            "give one skill for all faults, or one for each",
        )));
    }
    twice(args)?;
    let mut case = match &args.case {
        Some(path) => {
            let (name, bytes) = out::read(path)?;
            base.case_on_bytes(&name, &bytes)?
        }
        None => base.case(),
    };
    for path in &args.seen {
        case = case.seen(&crate::see::of_file(base, path)?);
    }
    for (at, (fault, grade)) in args.fault.iter().zip(&args.grade).enumerate() {
        let skill = if args.skill.len() == 1 {
            args.skill.first()
        } else {
            args.skill.get(at)
        };
        case = match skill {
            Some(skill) => case.fault_of(fault, skill, grade),
            None => case.fault(fault, grade),
        };
    }
    if let Some(lifter) = &args.lifter {
        case = case.lifter(lifter);
    }
    if let Some(today) = &args.today {
        case = case.today(today);
    }
    for observation in &args.observed {
        case = case.observed(observation);
    }
    for cause in &args.sure_of {
        case = match cause.split_once('=') {
            Some((cause, skill)) => case.sure_of_in(cause, skill),
            None => case.sure_of(cause),
        };
    }
    if let Some(phase) = &args.phase {
        case = case.phase(phase);
    }
    if let Some(bar) = &args.bar {
        case = case.bar(bar);
    }
    for bar in &args.other_bar {
        case = case.other_bar(bar);
    }
    for (field, value) in FIELDS {
        if let Some(value) = value(args) {
            case = case.field(field, value);
        }
    }
    for on in &args.on {
        case = match of_day(on) {
            (day, Some(minutes)) => case.field_of_day(day, "minutes", minutes),
            (day, None) => case.training_day(day),
        };
    }
    for (reference, load) in &args.best {
        case = match load.split_once('@') {
            Some((load, date)) => case.best_on(reference, load, date),
            None => case.best(reference, load),
        };
    }
    for exercise in &args.new {
        case = case.new_to(exercise);
    }
    for exercise in &args.disliked {
        case = case.disliked(exercise);
    }
    for (exercise, came) in &args.tried {
        case = case.tried(exercise, came);
    }
    for exercise in &args.did_last_week {
        case = case.did_last_week(exercise);
    }
    for (field, value) in &args.field {
        case = case.field(field, value);
    }
    Ok(case.build()?)
}
