//! Which known word somebody most likely meant.

/// Longer words are not compared: nobody mistypes an id of this length, and the work stays small.
const LONGEST: usize = 80;

/// The candidate that lies nearest to `word`, if one lies near enough to be a slip of the hand.
///
/// Near enough is a distance of at most a third of the word's characters, and at least one; a
/// distance counts letters put in, left out, changed, or swapped with their neighbour. Of equally
/// near candidates the first wins, so the answer depends on nothing but the order given.
#[must_use]
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word: Vec<char> = word.chars().take(LONGEST + 1).collect();
    if word.is_empty() || word.len() > LONGEST {
        return None;
    }
    let mut bound = (word.len() / 3).max(1);
    let mut best = None;
    for candidate in candidates {
        let other: Vec<char> = candidate.chars().take(LONGEST + 1).collect();
        let Some(distance) = distance(&word, &other, bound) else {
            continue;
        };
        best = Some(candidate);
        if distance == 0 {
            break;
        }
        // Only a strictly nearer one may take its place.
        bound = distance - 1;
    }
    best
}

/// Whether a word is one of the candidates but for a slip or two of the hand.
pub fn is_slip<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> bool {
    const MOST: usize = 2;
    let word: Vec<char> = word.chars().take(LONGEST + 1).collect();
    let bound = (word.len() / 3).clamp(1, MOST);
    word.len() <= LONGEST
        && candidates.into_iter().any(|candidate| {
            let other: Vec<char> = candidate.chars().take(LONGEST + 1).collect();
            distance(&word, &other, bound).is_some()
        })
}

/// The number of single-letter edits and swaps of neighbours between two words, if at most `bound`.
fn distance(a: &[char], b: &[char], bound: usize) -> Option<usize> {
    if a.len().abs_diff(b.len()) > bound {
        return None;
    }
    // Rows of the usual table: the one before the last, the last, and the one being filled.
    let mut older: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    let mut before_a: Option<char> = None;
    for (i, &in_a) in a.iter().enumerate() {
        let mut row = Vec::with_capacity(b.len() + 1);
        let mut left = i + 1;
        row.push(left);
        let mut before_b: Option<char> = None;
        for (j, &in_b) in b.iter().enumerate() {
            let change = at(&last, j) + usize::from(in_a != in_b);
            let mut least = change.min(at(&last, j + 1) + 1).min(left + 1);
            if before_a == Some(in_b) && before_b == Some(in_a) && j > 0 {
                least = least.min(at(&older, j - 1) + 1);
            }
            row.push(least);
            left = least;
            before_b = Some(in_b);
        }
        older = std::mem::replace(&mut last, row);
        before_a = Some(in_a);
    }
    last.last().copied().filter(|&d| d <= bound)
}

/// The cell of a row; a cell that is not there is as far away as can be without overflow.
fn at(row: &[usize], index: usize) -> usize {
    row.get(index).copied().unwrap_or(usize::MAX / 2)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("pre", &["per", "what"], Some("per"))]
    #[case("hold", &["holds", "unset"], Some("holds"))]
    #[case("at-lest", &["at-most", "at-least"], Some("at-least"))]
    #[case("competiton", &["competition"], Some("competition"))]
    #[case("sntach", &["clean", "snatch"], Some("snatch"))]
    #[case("ab", &["ax", "ay"], Some("ax"))]
    #[case("squat", &["clean", "jerk"], None)]
    #[case("", &["a"], None)]
    #[case("a", &[], None)]
    #[case("same", &["sane", "same"], Some("same"))]
    #[case("höhe", &["hohe"], Some("hohe"))]
    fn finds_the_nearest(
        #[case] word: &str,
        #[case] candidates: &[&'static str],
        #[case] wanted: Option<&str>,
    ) {
        assert_eq!(nearest(word, candidates.iter().copied()), wanted);
    }

    #[test]
    fn very_long_words_have_no_neighbour() {
        let long = "a".repeat(5_000);
        assert_eq!(nearest(&long, [long.as_str()]), None);
        assert_eq!(nearest("a", [long.as_str()]), None);
    }

    proptest::proptest! {
        #[test]
        fn never_fails_and_is_never_far_off(word in ".{0,12}", candidates in proptest::collection::vec(".{0,12}", 0..6)) {
            if let Some(found) = nearest(&word, candidates.iter().map(String::as_str)) {
                let (w, f) = (word.chars().count(), found.chars().count());
                proptest::prop_assert!(w.abs_diff(f) <= (w / 3).max(1));
            }
        }
    }
}
