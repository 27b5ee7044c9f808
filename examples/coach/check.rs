//! `coach check`: every problem of a folder of rule files.

use std::process::ExitCode;

use drillwright::KnowledgeBase;
use drillwright::report::problems_document;

use crate::args::{CheckArgs, Common, Form};
use crate::out::{self, Failed};

pub fn run(common: &Common, args: &CheckArgs) -> Result<ExitCode, Failed> {
    match KnowledgeBase::from_folder(&args.folder) {
        Ok(base) => {
            match common.form {
                Form::Json => out::json(&problems_document(&[])),
                _ => out::text(&format!(
                    "No problems: {} exercises, {} faults, fingerprint {}.\n",
                    base.exercises().len(),
                    base.faults().len(),
                    base.fingerprint()
                )),
            }
            Ok(ExitCode::SUCCESS)
        }
        Err(error) => {
            match common.form {
                Form::Json => out::json(&error.document()),
                _ => out::text(&error.rendered(out::colour())),
            }
            Ok(ExitCode::from(out::BAD_INPUT))
        }
    }
}
