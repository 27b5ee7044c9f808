//! `coach see`: what watched attempts say.

use std::path::Path;
use std::process::ExitCode;

use drillwright::KnowledgeBase;
use drillwright::explain::Findings;
use drillwright::report::{findings_case, findings_document, findings_text};

use crate::args::{Common, Form, SeeArgs};
use crate::out::{self, Failed};

pub fn run(common: &Common, args: &SeeArgs) -> Result<ExitCode, Failed> {
    let findings = of_file(&out::base(common)?, &args.watched)?;
    match common.form {
        Form::Json => out::json(&findings_document(&findings)),
        Form::Case => out::text(&findings_case(&findings)),
        _ => out::text(&findings_text(&findings, out::colour())),
    }
    Ok(ExitCode::SUCCESS)
}

/// What the attempts of a file say.
pub fn of_file(base: &KnowledgeBase, path: &Path) -> Result<Findings, Failed> {
    let (name, bytes) = out::read(path)?;
    Ok(base.see(&base.watched_from_bytes(&name, &bytes)?)?)
}
