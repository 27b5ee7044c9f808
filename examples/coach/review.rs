//! `coach review`: what a training log says, and the case that goes on from it.

use std::process::ExitCode;

use drillwright::report::{review_case, review_document, review_text};

use crate::args::{Common, Form, ReviewArgs};
use crate::out::{self, Failed};

pub fn run(common: &Common, args: &ReviewArgs) -> Result<ExitCode, Failed> {
    let base = out::base(common)?;
    let case = crate::case::from_file(&base, &args.case)?;
    let (name, bytes) = out::read(&args.log)?;
    let log = base.log_from_bytes(&name, &bytes)?;
    let review = base.review_on(&case, &log, args.today.as_deref())?;
    match common.form {
        Form::Json => out::json(&review_document(&review)),
        Form::Case => out::text(&review_case(&review)),
        _ => out::text(&review_text(&review, out::colour())),
    }
    Ok(ExitCode::SUCCESS)
}
