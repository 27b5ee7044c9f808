//! `module CASE [RULES]`: writes and ends as `coach week CASE --as json [--rules RULES]` does.

use std::error::Error;
use std::process::ExitCode;

use drillwright::report::Reasons;
use drillwright::{Answer, KnowledgeBase};

fn main() -> Result<ExitCode, Box<dyn Error>> {
    let mut words = std::env::args().skip(1);
    let name = words.next().ok_or("no case")?;
    let base = match words.next() {
        Some(folder) => KnowledgeBase::from_folder(folder)?,
        None => KnowledgeBase::builtin()?,
    };
    let answer = base.solve(&base.case_from_bytes(&name, &std::fs::read(&name)?)?)?;
    println!(
        "{}",
        serde_json::to_string_pretty(&answer.document(Reasons::Brief))?
    );
    Ok(ExitCode::from(match answer {
        Answer::Week(_) => 0,
        Answer::NoWeek(_) => 1,
        _ => 3,
    }))
}
