//! Output, and what becomes of errors.

use std::io::{IsTerminal, Write};
use std::path::Path;
use std::process::ExitCode;

use drillwright::report::problem_document;
use drillwright::{Answer, Error, ErrorKind, KnowledgeBase};
use serde::Serialize;

use crate::args::{Common, Form};
use crate::colour::wanted;

pub const NO_WEEK: u8 = 1;
pub const BAD_INPUT: u8 = 2;
pub const NOT_FOUND: u8 = 3;
pub const MISTAKE: u8 = 70;

/// The exit status of an answer.
pub fn status(answer: &Answer) -> ExitCode {
    match answer {
        Answer::Week(_) => ExitCode::SUCCESS,
        Answer::NoWeek(_) => ExitCode::from(NO_WEEK),
        // Whatever else there may be one day, it is no week.
        _ => ExitCode::from(NOT_FOUND),
    }
}

/// Why a command gave no answer.
pub enum Failed {
    /// The library says why.
    Library(Error),
    /// Something that was said on the command line.
    Said(String),
}

impl From<Error> for Failed {
    fn from(error: Error) -> Self {
        Self::Library(error)
    }
}

impl Failed {
    /// Says what is wrong, and gives the exit status for it.
    pub fn told(&self, common: &Common) -> ExitCode {
        let colour = wanted(
            std::io::stderr().is_terminal(),
            std::env::var_os("NO_COLOR").as_deref(),
        );
        match self {
            Self::Said(what) => {
                problem(common, "command-line", what);
                ExitCode::from(BAD_INPUT)
            }
            Self::Library(error) => {
                if common.form == Form::Json {
                    json(&error.document());
                } else {
                    let _closed = write!(std::io::stderr(), "{}", error.rendered(colour));
                }
                ExitCode::from(if error.kind() == ErrorKind::Internal {
                    MISTAKE
                } else {
                    BAD_INPUT
                })
            }
        }
    }
}

/// Tells one problem that has no place.
pub fn problem(common: &Common, code: &str, what: &str) {
    if common.form == Form::Json {
        json(&problem_document(code, what));
    } else {
        let _closed = writeln!(std::io::stderr(), "error: {what}");
    }
}

/// Whether what goes to standard output is coloured.
pub fn colour() -> bool {
    wanted(
        std::io::stdout().is_terminal(),
        std::env::var_os("NO_COLOR").as_deref(),
    )
}

/// Prints a text; that nobody reads on is no failure.
pub fn text(text: &str) {
    let _closed = std::io::stdout().write_all(text.as_bytes());
}

/// Prints a document.
pub fn json<T: Serialize>(document: &T) {
    if let Ok(written) = serde_json::to_string_pretty(document) {
        text(&written);
        text("\n");
    }
}

/// The name and the bytes of a file.
pub fn read(path: &Path) -> Result<(String, Vec<u8>), Failed> {
    let name = path.display().to_string();
    match std::fs::read(path) {
        Ok(bytes) => Ok((name, bytes)),
        Err(error) => Err(Failed::Said(format!(
            "`{name}` could not be read: {error}; check the name"
        ))),
    }
}

/// The rules that are asked.
pub fn base(common: &Common) -> Result<KnowledgeBase, Failed> {
    match &common.rules {
        Some(folder) => Ok(KnowledgeBase::from_folder(folder)?),
        None => Ok(KnowledgeBase::builtin()?),
    }
}
