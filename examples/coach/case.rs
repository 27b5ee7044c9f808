//! A case from a file or from flags.

use std::path::Path;

use drillwright::{Case, KnowledgeBase};

use crate::args::WeekArgs;
use crate::out::Failed;

pub fn from_file(base: &KnowledgeBase, path: &Path) -> Result<Case, Failed> {
    let name = path.display().to_string();
    let bytes = std::fs::read(path).map_err(|error| {
        Failed::Said(format!(
            "`{name}` could not be read: {error}; \
             check the name, or say the case by flags (`coach week --help`)"
        ))
    })?;
    Ok(base.case_from_bytes(&name, &bytes)?)
}

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
    let mut case = base.case();
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
    if let Some(phase) = &args.phase {
        case = case.phase(phase);
    }
    if let Some(bar) = &args.bar {
        case = case.bar(bar);
    }
    for (field, value) in [
        ("days", &args.days),
        ("minutes", &args.minutes),
        ("level", &args.level),
    ] {
        if let Some(value) = value {
            case = case.field(field, value);
        }
    }
    for (reference, load) in &args.best {
        case = case.best(reference, load);
    }
    for exercise in &args.new {
        case = case.new_to(exercise);
    }
    for exercise in &args.disliked {
        case = case.disliked(exercise);
    }
    for (field, value) in &args.field {
        case = case.field(field, value);
    }
    Ok(case.build()?)
}
