//! `coach block`: weeks in a row.

use std::process::ExitCode;

use drillwright::Cancel;
use drillwright::report::{block_document, block_text};

use crate::args::{BlockArgs, Common, Form};
use crate::out::{self, Failed};

pub fn run(common: &Common, args: &BlockArgs) -> Result<ExitCode, Failed> {
    let base = out::base(common)?;
    let case = crate::case::from_file(&base, &args.case)?;
    let block = base.block(&case, args.weeks, common.work(), &Cancel::new())?;
    match common.form {
        Form::Json => out::json(&block_document(&block)),
        _ => out::text(&block_text(&block, out::colour())),
    }
    Ok(match &block.stopped {
        None => ExitCode::SUCCESS,
        Some(answer) => out::status(answer),
    })
}
