//! Looking back into the text for what a YAML parser does not tell: whether a comment follows.

/// What has not been passed of the text. Scalars come in order, so the text is walked only once.
pub(super) struct Rest<'a> {
    text: &'a str,
    passed: usize,
}

impl<'a> Rest<'a> {
    pub(super) const fn new(text: &'a str) -> Self {
        Self { text, passed: 0 }
    }

    /// Whether a comment follows on the same line after so many characters from the start.
    pub(super) fn comment_follows(&mut self, index: usize) -> bool {
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
