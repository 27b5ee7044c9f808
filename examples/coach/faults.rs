//! `coach faults`: what can be seen, with grades and causes.

use std::process::ExitCode;

use drillwright::report::{faults_document, faults_text};

use crate::args::{Common, Form};
use crate::out::{self, Failed};

pub fn run(common: &Common) -> Result<ExitCode, Failed> {
    let faults = out::base(common)?.faults();
    match common.form {
        Form::Json => out::json(&faults_document(&faults)),
        _ => out::text(&faults_text(&faults, out::colour())),
    }
    Ok(ExitCode::SUCCESS)
}
