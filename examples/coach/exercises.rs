//! `coach exercises`: what there is, and what helps.

use std::process::ExitCode;

use drillwright::report::{exercises_document, exercises_text, ranking_document, ranking_text};

use crate::args::{Common, ExercisesArgs, Form};
use crate::out::{self, Failed};

pub fn run(common: &Common, args: &ExercisesArgs) -> Result<ExitCode, Failed> {
    let base = out::base(common)?;
    if let Some(fault) = &args.fault {
        let ranked = base.ranked_for_fault(fault, args.skill.as_deref())?;
        match common.form {
            Form::Json => out::json(&ranking_document(&ranked)),
            _ => out::text(&ranking_text(&ranked, out::colour())),
        }
        return Ok(ExitCode::SUCCESS);
    }
    let exercises = match (&args.skill, &args.under) {
        (Some(skill), _) => base.exercises_of(skill)?,
        (None, Some(exercise)) => base.exercises_under(exercise)?,
        (None, None) => base.exercises(),
    };
    match common.form {
        Form::Json => out::json(&exercises_document(&exercises)),
        _ => out::text(&exercises_text(&exercises, out::colour())),
    }
    Ok(ExitCode::SUCCESS)
}
