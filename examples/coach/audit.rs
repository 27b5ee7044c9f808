//! `coach audit`: what a week that somebody wrote comes to.

use std::process::ExitCode;

use drillwright::report::{audit_document, audit_text};

use crate::args::{AuditArgs, Common, Form};
use crate::out::{self, Failed};

pub fn run(common: &Common, args: &AuditArgs) -> Result<ExitCode, Failed> {
    let base = out::base(common)?;
    let case = crate::case::from_file(&base, &args.case)?;
    let (name, bytes) = out::read(&args.week)?;
    let week = base.week_from_bytes(&name, &bytes)?;
    let audit = base.audit(&case, &week, common.work())?;
    match common.form {
        Form::Json => out::json(&audit_document(&audit)),
        _ => out::text(&audit_text(&audit, out::colour())),
    }
    Ok(ExitCode::SUCCESS)
}
