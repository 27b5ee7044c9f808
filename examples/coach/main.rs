//! A coach's command line: a week for a fault, what helps, ladders, and checks of rule files.
//!
//! Exit status: 0 answered, 1 no week satisfies the hard rules or a test of the rules fails, 2 bad
//! input, 3 no week found within the limit of work, 70 a mistake in the library.

mod args;
mod audit;
mod block;
mod case;
mod check;
mod colour;
mod exercises;
mod faults;
mod ladder;
mod model;
mod name;
mod out;
mod review;
mod rules;
mod schema;
mod see;
mod track;
mod week;

use std::process::ExitCode;

use clap::Parser;

use args::{Cli, Command, Form, RulesCommand};
use out::Failed;

fn main() -> ExitCode {
    let cli = Cli::parse();
    let week = matches!(cli.command, None | Some(Command::Week(_)));
    let done = match cli.command {
        _ if cli.common.form.is_model() && !week => Err(Failed::Said(String::from(
            "only a week is written as a model: `--as mps` and `--as lp` go with `week`",
        ))),
        _ if cli.common.form == Form::Case
            && !matches!(
                cli.command,
                Some(Command::See(_) | Command::Review(_) | Command::Track(_))
            ) =>
        {
            Err(Failed::Said(String::from(
                "only findings, reviews and measures are written as a case file: `--as case` goes with `see`, `review` and `track`",
            )))
        }
        None => week::demo(&cli.common),
        Some(Command::Week(args)) => week::run(&cli.common, &args),
        Some(Command::Audit(args)) => audit::run(&cli.common, &args),
        Some(Command::See(args)) => see::run(&cli.common, &args),
        Some(Command::Block(args)) => block::run(&cli.common, &args),
        Some(Command::Review(args)) => review::run(&cli.common, &args),
        Some(Command::Track(args)) => track::run(&cli.common, &args),
        Some(Command::Check(args)) => check::run(&cli.common, &args),
        Some(Command::Faults) => faults::run(&cli.common),
        Some(Command::Exercises(args)) => exercises::run(&cli.common, &args),
        Some(Command::Name(args)) => name::run(&cli.common, &args),
        Some(Command::Ladder(args)) => ladder::run(&cli.common, &args),
        Some(Command::Rules(RulesCommand::Test(args))) => rules::test(&cli.common, &args),
        Some(Command::Schema(args)) => schema::run(&args),
    };
    done.unwrap_or_else(|failed| failed.told(&cli.common))
}
