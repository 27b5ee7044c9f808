//! `coach ladder`: from a drill to the full lift.

use std::process::ExitCode;

use drillwright::report::{ladder_document, ladder_text};

use crate::args::{Common, Form, LadderArgs};
use crate::out::{self, Failed};

pub fn run(common: &Common, args: &LadderArgs) -> Result<ExitCode, Failed> {
    let rungs = out::base(common)?.ladder(&args.exercise, args.cause.as_deref())?;
    match common.form {
        Form::Json => out::json(&ladder_document(&rungs)),
        _ => out::text(&ladder_text(&rungs, out::colour())),
    }
    Ok(ExitCode::SUCCESS)
}
