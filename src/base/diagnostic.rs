//! What is wrong with a rule file, where, and what would put it right.

use std::cmp::Ordering;
use std::fmt;

use serde::{Serialize, Serializer};

use super::place::Place;

macro_rules! codes {
    ($($(#[doc = $doc:literal])+ $name:ident = $text:literal,)+) => {
        /// What kind of problem a [`Diagnostic`] is about. The codes are stable; the wording is not.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
        pub enum Code {
            $($(#[doc = $doc])+ $name,)+
        }

        impl Code {
            /// Every code there is, in a fixed order.
            pub const ALL: &'static [Code] = &[$(Code::$name,)+];

            /// The code as it is written in output: lower-case words joined by hyphens.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self {
                    $(Code::$name => $text,)+
                }
            }
        }
    };
}

codes! {
    /// The text is not YAML.
    Syntax = "syntax",
    /// Two YAML readers take the text for different things.
    TwoReadings = "two-readings",
    /// An anchor (`&name`) or an alias (`*name`).
    Anchor = "anchor",
    /// A merge key (`<<`).
    MergeKey = "merge-key",
    /// A tag (`!name`).
    Tag = "tag",
    /// A value that is empty, `null` or `~`.
    Null = "null",
    /// A second document in one file.
    SecondDocument = "second-document",
    /// A file with nothing in it.
    EmptyFile = "empty-file",
    /// A key that is a list or a map.
    KeyNotText = "key-not-text",
    /// A key that stands twice in one map.
    DuplicateKey = "duplicate-key",
    /// A key that means nothing here.
    UnknownKey = "unknown-key",
    /// A key that must be there and is not.
    MissingKey = "missing-key",
    /// A value of another type than the one that belongs here.
    WrongType = "wrong-type",
    /// A word that is none of those that may stand here.
    UnknownWord = "unknown-word",
    /// A word that is not an id.
    BadId = "bad-id",
    /// A number that is not written as numbers are written here.
    BadNumber = "bad-number",
    /// A number below or above what is allowed.
    OutOfRange = "out-of-range",
    /// A value that its own type refuses, with the reason in the text.
    BadValue = "bad-value",
    /// A number sign after unquoted prose, which cuts the prose off.
    SwallowedComment = "swallowed-comment",
    /// A map that is empty where that means nothing.
    EmptyMap = "empty-map",
    /// A file, or all files together, with too many bytes.
    TooLarge = "too-large",
    /// Lists and maps nested too deep, or folders.
    TooDeep = "too-deep",
    /// A file with too many values.
    TooManyNodes = "too-many-nodes",
    /// A folder with too many files.
    TooManyFiles = "too-many-files",
    /// So many problems that the rest are not listed.
    TooManyProblems = "too-many-problems",
    /// A file or folder that could not be read.
    UnreadFile = "unread-file",
    /// A file that is not UTF-8 text.
    NotUtf8 = "not-utf8",
    /// A format number that this version does not read.
    UnknownFormat = "unknown-format",
    /// An id that names nothing.
    DanglingId = "dangling-id",
    /// Things that follow from one another in a circle.
    Circle = "circle",
    /// One id given to two things.
    DuplicateId = "duplicate-id",
    /// One name given to two things.
    SharedName = "shared-name",
    /// Two values on an axis that holds one.
    TwoValuesOnAxis = "two-values-on-axis",
    /// Dropping what was never there.
    DropsNothing = "drops-nothing",
    /// An exercise that goes back to no root.
    NoRoot = "no-root",
    /// Rules of order that run in a circle.
    BeforeCircle = "before-circle",
    /// A table whose slopes rise.
    RisingSlope = "rising-slope",
    /// Something that nothing reads: a remark, and no error.
    Unread = "unread",
    /// A name that may mean several things.
    Ambiguous = "ambiguous",
    /// Two things that cannot both hold.
    Contradiction = "contradiction",
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

impl Serialize for Code {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.as_str())
    }
}

/// Something that may be written in place of a text that is not clear.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[non_exhaustive]
pub struct Candidate {
    /// What to write.
    pub name: String,
    /// The id of what that names, where it is listed.
    pub id: Option<String>,
}

impl Candidate {
    /// A text that names something, with its id where it is listed.
    #[must_use]
    pub fn new(name: impl Into<String>, id: Option<String>) -> Self {
        Self {
            name: name.into(),
            id,
        }
    }
}

/// One problem: where it is, what it is, and what would put it right.
///
/// Diagnostics sort by place, then code, then text. They are shown as
///
/// ```text
/// axes.yaml:4:9: the key `hold` means nothing here
///   help: did you mean `holds`?
///   also: axes.yaml:9:3: another place that belongs to it
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize)]
#[non_exhaustive]
pub struct Diagnostic {
    /// What kind of problem it is.
    pub code: Code,
    /// Where it is.
    pub place: Place,
    /// What it is, in one sentence without a full stop.
    pub what: String,
    /// What would put it right, in plain words.
    pub help: String,
    /// Other places that belong to it, each with a note.
    pub also: Vec<(Place, String)>,
    /// What may be meant, where it is a written name that does not say which; what and help say the
    /// same in words.
    pub candidates: Vec<Candidate>,
}

impl Diagnostic {
    /// A problem of the kind `code` at `place`; `what` says what it is and `help` what to do.
    #[must_use]
    pub fn new(code: Code, place: Place, what: impl Into<String>, help: impl Into<String>) -> Self {
        Self {
            code,
            place,
            what: what.into(),
            help: help.into(),
            also: Vec::new(),
            candidates: Vec::new(),
        }
    }

    /// The same problem with what may be meant.
    #[must_use]
    pub fn with_candidates(mut self, candidates: Vec<Candidate>) -> Self {
        self.candidates = candidates;
        self
    }

    /// The same problem with one more place that belongs to it, and a note on why it does.
    #[must_use]
    pub fn with_also(mut self, place: Place, note: impl Into<String>) -> Self {
        self.also.push((place, note.into()));
        self
    }
}

impl PartialOrd for Diagnostic {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Diagnostic {
    fn cmp(&self, other: &Self) -> Ordering {
        // What comes behind the text is there only so that the order agrees with equality.
        let first =
            (&self.place, self.code, &self.what).cmp(&(&other.place, other.code, &other.what));
        first.then_with(|| {
            (&self.help, &self.also, &self.candidates).cmp(&(
                &other.help,
                &other.also,
                &other.candidates,
            ))
        })
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.place, self.what)?;
        if !self.help.is_empty() {
            write!(f, "\n  help: {}", self.help)?;
        }
        for (place, note) in &self.also {
            write!(f, "\n  also: {place}: {note}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::collections::BTreeSet;
    use std::sync::Arc;

    use super::*;

    fn at(line: u32, column: u32) -> Place {
        Place::new(&Arc::from("a.yaml"), line, column)
    }

    #[test]
    fn codes_are_kebab_case_and_all_different() {
        let texts: BTreeSet<&str> = Code::ALL.iter().map(|c| c.as_str()).collect();
        assert_eq!(texts.len(), Code::ALL.len());
        for text in texts {
            assert!(
                text.chars()
                    .all(|c| c.is_ascii_lowercase() || c == '-' || c.is_ascii_digit()),
                "{text}"
            );
        }
        assert_eq!(Code::TwoReadings.to_string(), "two-readings");
    }

    #[test]
    fn shows_help_and_further_places_on_lines_of_their_own() {
        let one = Diagnostic::new(Code::DuplicateKey, at(4, 1), "`a` stands twice", "drop one")
            .with_also(at(2, 1), "first here");
        assert_eq!(
            one.to_string(),
            "a.yaml:4:1: `a` stands twice\n  help: drop one\n  also: a.yaml:2:1: first here"
        );
    }

    #[test]
    fn sorts_by_place_then_code_then_text() {
        let mut all = [
            Diagnostic::new(Code::Null, at(2, 1), "b", ""),
            Diagnostic::new(Code::Null, at(2, 1), "a", ""),
            Diagnostic::new(Code::Tag, at(2, 1), "z", ""),
            Diagnostic::new(Code::Contradiction, at(1, 9), "z", ""),
        ];
        all.sort();
        let shown: Vec<(u32, Code, &str)> = all
            .iter()
            .map(|d| (d.place.line, d.code, d.what.as_str()))
            .collect();
        assert_eq!(
            shown,
            [
                (1, Code::Contradiction, "z"),
                (2, Code::Tag, "z"),
                (2, Code::Null, "a"),
                (2, Code::Null, "b"),
            ]
        );
    }
}
