//! `coach schema`: JSON Schemas; they are JSON whatever is asked for.

use std::process::ExitCode;

use drillwright::report::{schema, schema_names};

use crate::args::SchemaArgs;
use crate::out::{self, Failed};

pub fn run(args: &SchemaArgs) -> Result<ExitCode, Failed> {
    let Some(schema) = schema(&args.kind) else {
        let names = schema_names().join(", ");
        return Err(Failed::Said(format!(
            "there is no schema `{}`; there are: {names}",
            args.kind
        )));
    };
    out::text(&schema);
    out::text("\n");
    Ok(ExitCode::SUCCESS)
}
