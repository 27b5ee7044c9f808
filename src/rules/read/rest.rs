//! Looking back into the text for what a YAML parser does not tell: whether a comment follows, and
//! other signs that prose is not what was meant.

use super::tree::shortened;
use crate::base::{Code, Diagnostic, Place};

/// What has not been passed of the text. Scalars come in order, so the text is walked only once.
pub(super) struct Rest<'a> {
    text: &'a str,
    passed: usize,
}

impl<'a> Rest<'a> {
    pub(super) const fn new(text: &'a str) -> Self {
        Self { text, passed: 0 }
    }

    /// Prose that a comment cuts off, so many characters from the start.
    pub(super) fn cut_off(&mut self, text: &str, at: &Place, index: usize) -> Option<Diagnostic> {
        self.comment_follows(index).then(|| {
            Diagnostic::new(
                Code::SwallowedComment,
                at.clone(),
                format!(
                    "the text `{}` is cut off by the number sign after it",
                    shortened(text)
                ),
                "put the whole text in quotes, or move the comment to a line of its own",
            )
        })
    }

    /// Whether a comment follows on the same line after so many characters from the start.
    fn comment_follows(&mut self, index: usize) -> bool {
        let ahead = index.saturating_sub(self.passed);
        let mut chars = self.text.chars();
        if ahead > 0 {
            chars.nth(ahead - 1);
        }
        self.text = chars.as_str();
        self.passed += ahead;
        let after = self.text.trim_start_matches([' ', '\t']);
        after.len() < self.text.len() && after.starts_with('#')
    }
}

/// A quotation mark at the end of prose that does not begin with one.
pub(super) fn lost_quote(text: &str, at: &Place) -> Option<Diagnostic> {
    let lost = text.ends_with('"') && text.matches('"').count() % 2 == 1;
    lost.then(|| {
        Diagnostic::new(
            Code::Syntax,
            at.clone(),
            "this text ends with a quotation mark and has none where it begins",
            "put one in front of it, or take the last one away",
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sees_comments_after_a_gap_on_the_same_line() {
        let mut rest = Rest::new("ä b # c\nd#\n#\ne \t# f");
        assert!(rest.comment_follows(3));
        assert!(rest.comment_follows(3));
        assert!(!rest.comment_follows(9));
        assert!(!rest.comment_follows(10));
        assert!(rest.comment_follows(14));
        assert!(!rest.comment_follows(100));
    }
}
