//! `coach schema`: JSON Schemas; they are JSON whatever is asked for.

use std::process::ExitCode;

use drillwright::base::nearest;
use drillwright::report::{schema, schema_names};

use crate::args::SchemaArgs;
use crate::out::{self, Failed};

pub fn run(args: &SchemaArgs) -> Result<ExitCode, Failed> {
    let Some(schema) = schema(&args.kind) else {
        let names = schema_names();
        let meant = match nearest(&args.kind, names.iter().copied()) {
            Some(near) => format!("did you mean `{near}`? "),
            None => String::new(),
        };
        return Err(Failed::Said(format!(
            "there is no schema `{}`; {meant}there are: {}",
            args.kind,
            names.join(", ")
        )));
    };
    out::text(&schema);
    out::text("\n");
    Ok(ExitCode::SUCCESS)
}
