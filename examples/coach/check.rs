//! `coach check`: every problem of a folder of rule files, and what is remarked on where there is none.

use std::process::ExitCode;

use drillwright::KnowledgeBase;
use drillwright::report::remarks_document;

use crate::args::{CheckArgs, Common, Form};
use crate::out::{self, Failed};

pub fn run(common: &Common, args: &CheckArgs) -> Result<ExitCode, Failed> {
    match KnowledgeBase::from_folder(&args.folder) {
        Ok(base) => {
            let remarks = base.remarks();
            match common.form {
                Form::Json => out::json(&remarks_document(&remarks)),
                _ => {
                    let mut text = format!(
                        "No problems: {} exercises, {} faults, fingerprint {}.\n",
                        base.exercises().len(),
                        base.faults().len(),
                        base.fingerprint()
                    );
                    for remark in remarks {
                        text.push_str(&format!("\nremark: {remark}\n"));
                    }
                    out::text(&text);
                }
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
