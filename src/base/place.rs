//! Where in which file something stands.

use std::fmt;
use std::sync::Arc;

use serde::ser::{Serialize, SerializeStruct, Serializer};

/// A place in a rule file: which file, which line, which column.
///
/// Places sort by file, then line, then column. The place of something that was not read from a
/// file is [`Place::unknown`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The file's path as it was handed in, relative to the folder of rules.
    pub file: Arc<str>,
    /// The line, counted from 1; 0 if unknown.
    pub line: u32,
    /// The column in characters (not bytes), counted from 1; 0 if unknown.
    pub column: u32,
}

impl Place {
    /// The place at `line` and `column` (both counted from 1, columns in characters) of `file`.
    #[must_use]
    pub fn new(file: &Arc<str>, line: u32, column: u32) -> Self {
        Self {
            file: Arc::clone(file),
            line,
            column,
        }
    }

    /// The start of `file`: line 1, column 1. Meant for what concerns a file as a whole.
    #[must_use]
    pub fn start_of(file: &Arc<str>) -> Self {
        Self::new(file, 1, 1)
    }

    /// The place of the first of some bytes of `file` that is not UTF-8; `good` bytes before it are.
    pub(crate) fn of_bad_byte(file: &Arc<str>, bytes: &[u8], good: usize) -> Self {
        let text = String::from_utf8_lossy(bytes.get(..good).unwrap_or(&[]));
        let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let last = text.rsplit('\n').next().unwrap_or("");
        let line = text.matches('\n').count() + 1;
        Self::new(file, number(line), number(last.chars().count() + 1))
    }

    /// The place of something that was not read from a rule file: file `-`, line 0, column 0.
    #[must_use]
    pub fn unknown() -> Self {
        Self {
            file: Arc::from("-"),
            line: 0,
            column: 0,
        }
    }

    /// Whether this is the place of something that was not read from a rule file.
    #[must_use]
    pub fn is_unknown(&self) -> bool {
        self.line == 0
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}", self.file, self.line, self.column)
    }
}

impl Serialize for Place {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut fields = serializer.serialize_struct("Place", 3)?;
        fields.serialize_field("file", &*self.file)?;
        fields.serialize_field("line", &self.line)?;
        fields.serialize_field("column", &self.column)?;
        fields.end()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn shows_file_line_and_column() {
        let file: Arc<str> = Arc::from("rules/axes.yaml");
        assert_eq!(Place::new(&file, 3, 14).to_string(), "rules/axes.yaml:3:14");
        assert_eq!(Place::start_of(&file).to_string(), "rules/axes.yaml:1:1");
        assert_eq!(Place::unknown().to_string(), "-:0:0");
        assert!(Place::unknown().is_unknown());
        assert!(!Place::start_of(&file).is_unknown());
    }

    #[test]
    fn sorts_by_file_line_and_column() {
        let a: Arc<str> = Arc::from("a");
        let b: Arc<str> = Arc::from("b");
        let mut places = [
            Place::new(&b, 1, 1),
            Place::new(&a, 10, 1),
            Place::new(&a, 9, 5),
            Place::new(&a, 9, 2),
        ];
        places.sort();
        let shown: Vec<String> = places.iter().map(ToString::to_string).collect();
        assert_eq!(shown, ["a:9:2", "a:9:5", "a:10:1", "b:1:1"]);
    }

    #[test]
    fn is_written_as_three_fields() {
        let file: Arc<str> = Arc::from("a.yaml");
        let json = serde_json::to_string(&Place::new(&file, 2, 7)).unwrap();
        assert_eq!(json, r#"{"file":"a.yaml","line":2,"column":7}"#);
    }
}
