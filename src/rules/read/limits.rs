//! How much a set of rule files may hold, so that no input uses up time, memory or stack.

use std::sync::Arc;

use crate::base::{Code, Diagnostic, Place};

/// The deepest nesting that may be asked for: what reads the trees follows them on its own stack.
#[cfg(test)]
const DEEPEST: usize = 100;

/// Bounds on what is read. What goes beyond one is refused with a diagnostic, never cut off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    bytes_per_file: usize,
    bytes_total: usize,
    depth: usize,
    nodes: usize,
    files: usize,
}

impl Default for Limits {
    /// 1 MiB a file, 8 MiB in all, 24 lists and maps inside each other, 400 000 values a file,
    /// 400 files.
    fn default() -> Self {
        Self {
            bytes_per_file: 1024 * 1024,
            bytes_total: 8 * 1024 * 1024,
            depth: 24,
            nodes: 400_000,
            files: 400,
        }
    }
}

impl Limits {
    /// The most bytes that one file may have; 1 MiB by default.
    #[must_use]
    pub const fn bytes_per_file(&self) -> usize {
        self.bytes_per_file
    }

    /// The most bytes that all files together may have; 8 MiB by default.
    #[must_use]
    pub const fn bytes_total(&self) -> usize {
        self.bytes_total
    }

    /// How many lists and maps may stand inside each other; 24 by default.
    #[must_use]
    pub const fn depth(&self) -> usize {
        self.depth
    }

    /// How many keys, scalars, lists and maps one file may have; 400 000 by default.
    #[must_use]
    pub const fn nodes(&self) -> usize {
        self.nodes
    }

    /// How many files there may be; 400 by default.
    #[must_use]
    pub const fn files(&self) -> usize {
        self.files
    }

    /// The same limits with another most of bytes for one file.
    #[cfg(test)]
    #[must_use]
    pub const fn with_bytes_per_file(mut self, bytes: usize) -> Self {
        self.bytes_per_file = bytes;
        self
    }

    /// The same limits with another most of bytes for all files together.
    #[cfg(test)]
    #[must_use]
    pub const fn with_bytes_total(mut self, bytes: usize) -> Self {
        self.bytes_total = bytes;
        self
    }

    /// The same limits with another depth. More than 100 is taken as 100.
    #[cfg(test)]
    #[must_use]
    pub const fn with_depth(mut self, depth: usize) -> Self {
        self.depth = if depth > DEEPEST { DEEPEST } else { depth };
        self
    }

    /// The same limits with another most of values for one file.
    #[cfg(test)]
    #[must_use]
    pub const fn with_nodes(mut self, nodes: usize) -> Self {
        self.nodes = nodes;
        self
    }

    /// The same limits with another most of files.
    #[cfg(test)]
    #[must_use]
    pub const fn with_files(mut self, files: usize) -> Self {
        self.files = files;
        self
    }
}

/// Checks a set of texts (path and text each) against the limits that concern them all: how many
/// there are, and how many bytes they have together. Says whether they may be read.
pub fn check_texts(
    texts: &[(Arc<str>, impl AsRef<str>)],
    limits: &Limits,
    out: &mut Vec<Diagnostic>,
) -> bool {
    if let Some((file, _)) = texts.get(limits.files()) {
        out.push(too_many_files(file, limits));
        return false;
    }
    let mut total = 0_usize;
    for (file, text) in texts {
        total = total.saturating_add(text.as_ref().len());
        if total > limits.bytes_total() {
            out.push(too_large_together(file, limits));
            return false;
        }
    }
    true
}

/// A file, or more, without a text.
#[derive(Debug)]
pub struct Lost {
    /// Why there is none.
    pub problem: Diagnostic,
    /// What can be had of the text; nothing where nobody knows what it holds.
    pub lossy: Option<String>,
}

impl Lost {
    /// A file of these bytes, which are not UTF-8; so many of them are good.
    pub fn garbled(file: &Arc<str>, bytes: &[u8], good: usize) -> Self {
        Self {
            problem: not_utf8(Place::of_bad_byte(file, bytes, good)),
            lossy: Some(String::from_utf8_lossy(bytes).into_owned()),
        }
    }

    /// What was not read at all.
    #[cfg(feature = "files")]
    pub const fn unread(problem: Diagnostic) -> Self {
        Self {
            problem,
            lossy: None,
        }
    }
}

/// The problem of a file that is not UTF-8; `place` is that of its first byte that is not.
pub fn not_utf8(place: Place) -> Diagnostic {
    Diagnostic::new(
        Code::NotUtf8,
        place,
        "the file is not UTF-8 from here on",
        "save it as UTF-8",
    )
}

/// The problem of one file too many; `file` is the first that is too many.
pub(super) fn too_many_files(file: &Arc<str>, limits: &Limits) -> Diagnostic {
    Diagnostic::new(
        Code::TooManyFiles,
        Place::start_of(file),
        format!("there are more than {} files", limits.files),
        "put more into each file, or raise the limit",
    )
}

/// The problem of too many bytes in all; `file` is the first that goes beyond.
pub(super) fn too_large_together(file: &Arc<str>, limits: &Limits) -> Diagnostic {
    Diagnostic::new(
        Code::TooLarge,
        Place::start_of(file),
        format!(
            "up to this file there are more than {} bytes",
            limits.bytes_total
        ),
        "take files away, or raise the limit",
    )
}

/// The problem of a file with too many bytes.
pub(super) fn too_large(file: &Arc<str>, limits: &Limits) -> Diagnostic {
    Diagnostic::new(
        Code::TooLarge,
        Place::start_of(file),
        format!("the file has more than {} bytes", limits.bytes_per_file),
        "split it into several files, or raise the limit",
    )
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn texts() -> Vec<(Arc<str>, String)> {
        vec![
            (Arc::from("a.yaml"), "a: 1".into()),
            (Arc::from("b.yaml"), "b: 2".into()),
        ]
    }

    #[test]
    fn stays_within_what_was_set() {
        let limits = Limits::default()
            .with_bytes_per_file(1)
            .with_bytes_total(2)
            .with_depth(1000)
            .with_nodes(4)
            .with_files(5);
        assert_eq!(limits.bytes_per_file(), 1);
        assert_eq!(limits.bytes_total(), 2);
        assert_eq!(limits.depth(), 100);
        assert_eq!(limits.nodes(), 4);
        assert_eq!(limits.files(), 5);
    }

    #[test]
    fn names_the_first_file_that_goes_beyond() {
        let mut out = Vec::new();
        assert!(check_texts(&texts(), &Limits::default(), &mut out));
        assert!(!check_texts(
            &texts(),
            &Limits::default().with_files(1),
            &mut out
        ));
        assert!(!check_texts(
            &texts(),
            &Limits::default().with_bytes_total(7),
            &mut out
        ));
        let found: Vec<_> = out.iter().map(|d| (d.code, d.place.to_string())).collect();
        assert_eq!(
            found,
            [
                (Code::TooManyFiles, "b.yaml:1:1".to_string()),
                (Code::TooLarge, "b.yaml:1:1".to_string()),
            ]
        );
        assert!(out.iter().all(|d| !d.help.is_empty()));
    }
}
