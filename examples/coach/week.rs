//! `coach` and `coach week`: the best week for a case.

use std::process::ExitCode;

use drillwright::report::{Layout, Reasons};
use drillwright::{Answer, Case, KnowledgeBase};

use crate::args::{Common, Depth, Form, Seek, WeekArgs};
use crate::out::{self, Failed};

/// The case of the command without arguments: an invented lifter.
const DEMO: &str = include_str!("demo.yaml");

pub fn demo(common: &Common) -> Result<ExitCode, Failed> {
    let base = out::base(common)?;
    let case = base.case_from_text("demo.yaml", DEMO)?;
    answer(common, &base, &case, None)
}

pub fn run(common: &Common, args: &WeekArgs) -> Result<ExitCode, Failed> {
    let base = out::base(common)?;
    let case = match &args.case {
        Some(path) if !crate::case::is_more_said(args) => crate::case::from_file(&base, path)?,
        _ => crate::case::from_flags(&base, args)?,
    };
    let (base, case) = if args.compose {
        base.composed(&case)?
    } else {
        (base, case)
    };
    let begun = !args.done.is_empty() || !args.missed.is_empty();
    let case = if begun {
        match base.solve_within(&case, common.work())? {
            Answer::Week(week) => base.rest_of_week(&case, &week, &args.done, &args.missed)?,
            // Without a week nothing of it can have been done: what there is instead is the answer.
            _ => case,
        }
    } else {
        case
    };
    answer(common, &base, &case, args.seek)
}

fn answer(
    common: &Common,
    base: &KnowledgeBase,
    case: &Case,
    seek: Option<Seek>,
) -> Result<ExitCode, Failed> {
    if common.form.is_model() {
        return crate::model::run(common, base, case, seek);
    }
    if seek.is_some() {
        return Err(Failed::Said(String::from(
            "`--seek` says which model is written: it goes with `--as mps` or `--as lp`",
        )));
    }
    let work = common.work();
    let answer = base.solve_within(case, work)?;
    let reasons = match common.reasons {
        Depth::Brief => Reasons::Brief,
        Depth::Full => Reasons::Full,
    };
    match common.form {
        Form::Json => out::json(&answer.document(reasons)),
        _ => out::text(
            &answer.text(
                Layout::new()
                    .with_reasons(reasons)
                    .with_lighter_sets(common.ramp)
                    .with_colour(out::colour()),
            ),
        ),
    }
    Ok(out::status(&answer))
}
