//! `coach rules test`: what the tests beside the rules of a folder come to.

use std::process::ExitCode;
use std::thread;

use drillwright::explain::TestResult;
use drillwright::report::{rule_tests_document, rule_tests_text};
use drillwright::{Error, KnowledgeBase, Work};

use crate::args::{Common, Form, RuleTestArgs};
use crate::out::{self, Failed};

/// A test that fails, or none that could.
const FAILED: u8 = 1;

pub fn test(common: &Common, args: &RuleTestArgs) -> Result<ExitCode, Failed> {
    let base = KnowledgeBase::from_folder(&args.folder)?;
    let work = common.work();
    let names: Vec<String> = match &args.only {
        Some(name) => vec![name.clone()],
        None => base.rule_tests().iter().map(ToString::to_string).collect(),
    };
    let results = run(&base, &names, work)?;
    if results.is_empty() {
        let folder = args.folder.display();
        out::problem(
            common,
            "no-tests",
            &format!("there is no test in `{folder}`: write some in a file of the kind `cases`"),
        );
        return Ok(ExitCode::from(FAILED));
    }
    match common.form {
        Form::Json => out::json(&rule_tests_document(&results)),
        _ => out::text(&rule_tests_text(&results, out::colour())),
    }
    Ok(if results.iter().any(|result| !result.failed.is_empty()) {
        ExitCode::from(FAILED)
    } else if results.iter().any(|result| !result.unanswered.is_empty()) {
        ExitCode::from(out::NOT_FOUND)
    } else {
        ExitCode::SUCCESS
    })
}

/// Runs tests on as many threads as there are, and keeps their order.
fn run(base: &KnowledgeBase, names: &[String], work: Work) -> Result<Vec<TestResult>, Error> {
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let mut results = thread::scope(|scope| {
        let running: Vec<_> = (0..threads)
            .map(|first| {
                let mine = names.iter().enumerate().skip(first).step_by(threads);
                scope.spawn(move || {
                    mine.map(|(at, name)| Ok((at, base.run_rule_test(name, work)?)))
                        .collect::<Result<Vec<_>, Error>>()
                })
            })
            .collect();
        let done = running.into_iter().map(|thread| match thread.join() {
            Ok(results) => results,
            Err(panic) => std::panic::resume_unwind(panic),
        });
        done.collect::<Result<Vec<_>, Error>>()
    })?
    .concat();
    results.sort_by_key(|(at, _)| *at);
    Ok(results.into_iter().map(|(_, result)| result).collect())
}
