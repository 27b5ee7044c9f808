//! What can go wrong when rules and cases are read and weeks are solved.

use std::fmt;
use std::sync::Arc;

use crate::base::Diagnostic;
use crate::report::{ProblemsDocument, problem_document, problems_document};

/// What went wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ErrorKind {
    /// The rule files have problems; the diagnostics say which.
    Rules,
    /// The case has problems; the diagnostics say which.
    Case,
    /// The file of watched attempts has problems; the diagnostics say which.
    Watched,
    /// The file of a written week has problems; the diagnostics say which.
    Week,
    /// The training log has problems; the diagnostics say which.
    Log,
    /// The file of a track, or what is said of it, has problems; the diagnostics say which.
    Track,
    /// The case was read for other rules than those that are asked.
    OtherRules,
    /// Something that was asked about is not in the rules.
    Unknown,
    /// A written name means no one exercise.
    Name,
    /// The rules leave open what they must decide: no layout fits the case, several do, or
    /// several rules dose the same item.
    Open,
    /// A mistake in this library: the week that was found fails its re-check.
    Internal,
}

impl ErrorKind {
    /// The word of output: lower-case words joined by hyphens.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Rules => "rules",
            Self::Case => "case",
            Self::Watched => "watched",
            Self::Week => "week",
            Self::Log => "log",
            Self::Track => "track",
            Self::OtherRules => "other-rules",
            Self::Unknown => "unknown",
            Self::Name => "name",
            Self::Open => "open",
            Self::Internal => "internal",
        }
    }
}

/// Why there is no answer. It is opaque; [`Error::kind`] and [`Error::diagnostics`] say more.
#[derive(Clone, thiserror::Error)]
#[error("{message}")]
pub struct Error {
    kind: ErrorKind,
    message: String,
    diagnostics: Vec<Diagnostic>,
    /// Names and texts of the files that the diagnostics are about.
    #[cfg_attr(not(feature = "render"), allow(dead_code))]
    pub(super) texts: Vec<(Arc<str>, Arc<str>)>,
}

impl fmt::Debug for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Error")
            .field("kind", &self.kind)
            .field("message", &self.message)
            .field("diagnostics", &self.diagnostics)
            .finish_non_exhaustive()
    }
}

impl Error {
    /// What went wrong.
    #[must_use]
    pub const fn kind(&self) -> ErrorKind {
        self.kind
    }

    /// Every problem of the rule files, the case, or what was asked about, sorted by place; empty
    /// for other kinds.
    #[must_use]
    pub fn diagnostics(&self) -> &[Diagnostic] {
        &self.diagnostics
    }

    /// The problems as a document; where there are none of files, the error itself as one.
    #[must_use]
    pub fn document(&self) -> ProblemsDocument {
        if self.diagnostics.is_empty() {
            problem_document(self.kind.as_str(), &self.message)
        } else {
            problems_document(&self.diagnostics)
        }
    }

    pub(super) fn new(kind: ErrorKind, message: impl Into<String>) -> Self {
        Self {
            kind,
            message: message.into(),
            diagnostics: Vec::new(),
            texts: Vec::new(),
        }
    }

    pub(super) fn found(
        kind: ErrorKind,
        diagnostics: Vec<Diagnostic>,
        texts: Vec<(Arc<str>, Arc<str>)>,
    ) -> Self {
        let all: Vec<String> = diagnostics.iter().map(ToString::to_string).collect();
        Self {
            kind,
            message: all.join("\n"),
            diagnostics,
            texts,
        }
    }
}
