//! `coach name`: an exercise as somebody writes it down.

use std::process::ExitCode;

use drillwright::report::{name_document, name_text};

use crate::args::{Common, Form, NameArgs};
use crate::out::{self, Failed};

pub fn run(common: &Common, args: &NameArgs) -> Result<ExitCode, Failed> {
    let base = out::base(common)?;
    let text = args.text.join(" ");
    let reading = base
        .read_name(&text)
        .map_err(|wrong| base.name_error(&text, &wrong))?;
    match common.form {
        Form::Json => out::json(&name_document(&reading)),
        _ => out::text(&name_text(&reading, out::colour())),
    }
    Ok(ExitCode::SUCCESS)
}
