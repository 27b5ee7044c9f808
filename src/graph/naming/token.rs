//! Words of a text, each with where it stands.

/// The sign between movements that are done in one round.
pub(super) const PLUS: &str = "+";
/// What any other word between movements is turned into.
pub(super) const ALSO: &str = "&";

/// A word, a number, or one of the signs `+` and `&`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Token {
    /// In small letters; apostrophes are left out.
    pub(crate) text: String,
    /// Where it begins, in characters from 0.
    pub(crate) from: usize,
    /// Where it ends, in characters from 0; this character is not in it.
    pub(crate) to: usize,
}

impl Token {
    /// A word of no text.
    pub(super) fn nowhere(text: &str) -> Self {
        Self {
            text: text.to_owned(),
            from: 0,
            to: 0,
        }
    }
}

/// The words of a text: what is no letter and no digit parts them and says nothing.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut all: Vec<Token> = Vec::new();
    let mut open = false;
    for (at, c) in text.chars().enumerate() {
        if matches!(c, '\'' | '’' | '´' | '`') {
            continue;
        }
        if matches!(c, '+' | '&') {
            all.push(Token {
                text: c.to_string(),
                from: at,
                to: at + 1,
            });
        } else if c.is_alphanumeric() {
            if !open {
                all.push(Token {
                    text: String::new(),
                    from: at,
                    to: at,
                });
            }
            if let Some(last) = all.last_mut() {
                last.text.extend(c.to_lowercase());
                last.to = at + 1;
            }
        }
        open = c.is_alphanumeric();
    }
    all
}

/// How often something is done, written as `2`, `2x` or `x2`; none where the word is no count, an
/// error where the number is not 1 to 10.
pub(super) fn count(word: &Token) -> Option<Result<u8, ()>> {
    let text = word.text.as_str();
    let text = text
        .strip_prefix('x')
        .or_else(|| text.strip_suffix('x'))
        .unwrap_or(text);
    if text.is_empty() || !text.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    Some(match text.parse::<u8>() {
        Ok(number @ 1..=10) => Ok(number),
        _ => Err(()),
    })
}

/// Whether these words come first.
pub(super) fn starts_with(words: &[Token], first: &[String]) -> bool {
    words.len() >= first.len()
        && words
            .iter()
            .zip(first)
            .all(|(word, text)| word.text == *text)
}

/// The words of a text alone.
pub(super) fn bare(text: &str) -> Vec<String> {
    tokens(text).into_iter().map(|token| token.text).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str) -> Vec<String> {
        tokens(text).into_iter().map(|token| token.text).collect()
    }

    #[test]
    fn case_punctuation_and_hyphens_say_nothing() {
        assert_eq!(
            texts("No-Hook, (flat) FEET."),
            ["no", "hook", "flat", "feet"]
        );
        assert_eq!(texts("A&B+2c"), ["a", "&", "b", "+", "2c"]);
        assert_eq!(texts("lifter’s"), ["lifters"]);
        assert!(texts(" –/, ").is_empty());
    }

    #[test]
    fn places_are_counted_in_characters() {
        let places: Vec<(usize, usize)> = tokens("é – hö+")
            .iter()
            .map(|word| (word.from, word.to))
            .collect();
        assert_eq!(places, [(0, 1), (4, 6), (6, 7)]);
    }

    #[test]
    fn counts_are_one_to_ten() {
        let of = |text: &str| tokens(text).first().and_then(count);
        assert_eq!(of("2"), Some(Ok(2)));
        assert_eq!(of("x10"), Some(Ok(10)));
        assert_eq!(of("3x"), Some(Ok(3)));
        assert_eq!(of("0"), Some(Err(())));
        assert_eq!(of("300"), Some(Err(())));
        assert_eq!(of("3x2"), None);
        assert_eq!(of("x"), None);
    }
}
