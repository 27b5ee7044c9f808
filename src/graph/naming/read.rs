//! Reading of a written name: movements with plus signs between them, and how often each is done.

use super::cover::covers;
use super::movement::Part;
use super::round::{Round, Written};
use super::token::{ALSO, PLUS, Token, count, tokens};
use super::{Meant, Misread, Naming};

/// The most characters of a text.
const LONGEST: usize = 300;
/// The most words of a movement.
const MOST_WORDS: usize = 24;
/// The most movements of a round.
const MOST_MOVEMENTS: usize = 10;

/// What some words were read as; exercises and constraints by index.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum As {
    Exercise(usize),
    Constraint(usize),
    /// How often a movement is done.
    Count(u8),
    /// It stands between movements.
    Joins,
    /// It says nothing.
    Nothing,
}

/// Words with what they were read as.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Heard {
    /// Where the words stand, in characters from 0, by place.
    pub(crate) spans: Vec<(usize, usize)>,
    pub(crate) read_as: As,
}

/// A name that was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Reading {
    pub(crate) meant: Meant,
    /// Every word of the text, by place.
    pub(crate) heard: Vec<Heard>,
}

impl Naming<'_> {
    /// What a text means.
    ///
    /// # Errors
    ///
    /// Why it means no one exercise.
    pub(crate) fn read(&self, text: &str) -> Result<Reading, Misread> {
        let trimmed = text.trim();
        if let Some(at) = self.graph.ids.find(trimmed) {
            let from = text.chars().take_while(|c| c.is_whitespace()).count();
            return Ok(Reading {
                meant: Meant::Listed(at),
                heard: vec![Heard {
                    spans: vec![(from, from + trimmed.chars().count())],
                    read_as: As::Exercise(at),
                }],
            });
        }
        let written = self.written(text)?;
        let heard = self.all_heard(text, &written);
        let meant = match written.parts.as_slice() {
            [(only, None)] if written.together.is_empty() => only.meant.clone(),
            _ => self.meant(&self.round_of_parts(&written)?, &written)?,
        };
        Ok(Reading { meant, heard })
    }

    /// The movements of a text, whether they are listed or not.
    pub(super) fn round(&self, text: &str) -> Result<(Round, Vec<Heard>), Misread> {
        let written = self.written(text)?;
        let heard = self.all_heard(text, &written);
        Ok((self.round_of_parts(&written)?, heard))
    }

    fn written(&self, text: &str) -> Result<Written, Misread> {
        if text.chars().nth(LONGEST).is_some() {
            return Err(Misread::TooLong);
        }
        let words = self.lexicon.in_full(&tokens(text));
        let words = self.lexicon.written_out(&words);
        for word in &words {
            let sign = word.text == PLUS || word.text == ALSO;
            if sign || count(word).is_some() || self.lexicon.knows(&word.text) {
                continue;
            }
            // Sets, percents and the like are no words.
            let figure = word.text.starts_with(|c: char| c.is_ascii_digit());
            return Err(if figure {
                Misread::Count {
                    word: word.text.clone(),
                    from: word.from,
                }
            } else {
                Misread::Unknown {
                    word: word.text.clone(),
                    from: word.from,
                    nearest: self.lexicon.nearest(&word.text).map(str::to_owned),
                }
            });
        }
        let (named, counts) = without_counts(&words);
        let mut heard = Vec::new();
        let mut together = Vec::new();
        for word in counts.iter().filter(|word| word.text != PLUS) {
            let number = number(word)?;
            together.push(number);
            heard.push(heard_as(std::slice::from_ref(word), As::Count(number)));
        }
        let mut parts = Vec::new();
        for stretch in self.stretches(named, PLUS)? {
            parts.extend(self.stretch(&stretch, &mut heard)?);
        }
        if parts.len() > MOST_MOVEMENTS {
            return Err(Misread::TooLong);
        }
        Ok(Written {
            parts,
            together,
            heard,
            words,
        })
    }

    /// Words between joining ones; a stretch of constraints alone belongs to the one before it.
    fn stretches(&self, words: &[Token], joining: &str) -> Result<Vec<Vec<Token>>, Misread> {
        let mut all: Vec<Vec<Token>> = Vec::new();
        for (number, stretch) in words.split(|word| word.text == joining).enumerate() {
            if stretch.is_empty() && number > 0 {
                let sign = words
                    .iter()
                    .filter(|word| word.text == joining)
                    .nth(number - 1);
                return Err(sign.map_or(Misread::Empty, left_over));
            }
            match all.last_mut() {
                Some(last) if self.constraints_alone(stretch) => last.extend_from_slice(stretch),
                _ => all.push(stretch.to_vec()),
            }
        }
        match (all.as_slice(), words.first()) {
            ([only], _) if only.is_empty() => Err(Misread::Empty),
            ([first, ..], Some(sign)) if first.is_empty() => Err(left_over(sign)),
            _ => Ok(all),
        }
    }

    /// Whether words name constraints and no exercise.
    fn constraints_alone(&self, words: &[Token]) -> bool {
        let plain = plain(words);
        let all = covers(self.lexicon, &plain, 1).unwrap_or_default();
        !all.is_empty() && !all.iter().any(|cover| self.may_name_exercise(cover))
    }

    /// The movements of a stretch: one, or where that cannot be several with “and” between them.
    fn stretch(
        &self,
        words: &[Token],
        heard: &mut Vec<Heard>,
    ) -> Result<Vec<(Part, Option<u8>)>, Misread> {
        let wrong = match self.counted(words, heard) {
            Ok(one) => return Ok(vec![one]),
            Err(wrong) => wrong,
        };
        let parted = matches!(
            wrong,
            Misread::Several(_) | Misread::LeftOver { .. } | Misread::Count { .. }
        );
        if !parted || !words.iter().any(|word| word.text == ALSO) {
            return Err(wrong);
        }
        let Ok(stretches) = self.stretches(words, ALSO) else {
            return Err(wrong);
        };
        let (mut parts, mut more) = (Vec::new(), Vec::new());
        for stretch in &stretches {
            let Ok(one) = self.counted(stretch, &mut more) else {
                return Err(wrong);
            };
            parts.push(one);
        }
        heard.extend(more);
        Ok(parts)
    }

    /// A movement with how often it is done.
    fn counted(
        &self,
        words: &[Token],
        heard: &mut Vec<Heard>,
    ) -> Result<(Part, Option<u8>), Misread> {
        let words = plain(words);
        if words.len() > MOST_WORDS {
            return Err(Misread::TooLong);
        }
        // A number may be part of a name; else the first or the last word may be a count.
        let whole = covers(self.lexicon, &words, 1).ok_or(Misread::TooLong)?;
        let number_first = words.first().filter(|word| count(word).is_some());
        let number_last = words.last().filter(|word| count(word).is_some());
        let (named, written) = match (words.as_slice(), number_first, number_last) {
            ([_, rest @ ..], Some(first), _) if whole.is_empty() => (rest, Some(first)),
            ([rest @ .., _], _, Some(last)) if whole.is_empty() => (rest, Some(last)),
            (all, _, _) => (all, None),
        };
        let times = match written {
            Some(word) => {
                let number = number(word)?;
                heard.push(heard_as(std::slice::from_ref(word), As::Count(number)));
                Some(number)
            }
            None => None,
        };
        Ok((self.part(named)?, times))
    }

    /// Every word of a text with what it was read as, by place.
    fn all_heard(&self, text: &str, written: &Written) -> Vec<Heard> {
        let mut all = written.heard.clone();
        for (part, _) in &written.parts {
            all.extend(part.heard.iter().cloned());
        }
        for word in &written.words {
            if word.text == PLUS || word.text == ALSO {
                all.push(heard_as(std::slice::from_ref(word), As::Joins));
            }
        }
        for word in tokens(text) {
            let within = |(from, to): &(usize, usize)| *from <= word.from && word.to <= *to;
            if !all.iter().flat_map(|heard| &heard.spans).any(within) {
                all.push(heard_as(std::slice::from_ref(&word), As::Nothing));
            }
        }
        let silent: Vec<char> = text.chars().collect();
        for heard in &mut all {
            heard.spans = side_by_side(&silent, &heard.spans);
        }
        all.sort_by(|one, other| one.spans.cmp(&other.spans));
        all
    }
}

/// Words with what they were read as.
pub(super) fn heard_as(words: &[Token], read_as: As) -> Heard {
    let mut spans: Vec<(usize, usize)> = words.iter().map(|word| (word.from, word.to)).collect();
    spans.sort_unstable();
    spans.dedup();
    Heard { spans, read_as }
}

/// Spans with those made one that have no letter and no sign between them.
fn side_by_side(text: &[char], spans: &[(usize, usize)]) -> Vec<(usize, usize)> {
    let mut all: Vec<(usize, usize)> = Vec::new();
    for (from, to) in spans {
        let gap = all.last().and_then(|(_, end)| text.get(*end..*from));
        let empty = |gap: &[char]| {
            !gap.iter()
                .any(|c| c.is_alphanumeric() || matches!(c, '+' | '&'))
        };
        match all.last_mut() {
            Some(last) if gap.is_some_and(empty) => last.1 = *to,
            _ => all.push((*from, *to)),
        }
    }
    all
}

/// Words without those that only join.
fn plain(words: &[Token]) -> Vec<Token> {
    let all = words.iter().filter(|word| word.text != ALSO);
    all.cloned().collect()
}

fn number(word: &Token) -> Result<u8, Misread> {
    match count(word) {
        Some(Ok(number)) => Ok(number),
        _ => Err(Misread::Count {
            word: word.text.clone(),
            from: word.from,
        }),
    }
}

/// A word that belongs to nothing.
pub(super) fn left_over(word: &Token) -> Misread {
    if count(word).is_some() {
        return Misread::Count {
            word: word.text.clone(),
            from: word.from,
        };
    }
    Misread::LeftOver {
        word: word.text.clone(),
        from: word.from,
    }
}

/// Words, and counts with plus signs between them that stand before or behind all of them.
fn without_counts(words: &[Token]) -> (&[Token], &[Token]) {
    let alternates = |at: usize, word: &Token| {
        if at.is_multiple_of(2) {
            count(word).is_some()
        } else {
            word.text == PLUS
        }
    };
    let run = |words: &mut dyn Iterator<Item = &Token>| {
        let length = words
            .enumerate()
            .take_while(|(at, word)| alternates(*at, word))
            .count();
        // A plus sign at its end belongs to what follows.
        length.saturating_sub(usize::from(length.is_multiple_of(2)))
    };
    let (first, last) = (run(&mut words.iter()), run(&mut words.iter().rev()));
    if last > 2 {
        return words.split_at(words.len() - last);
    }
    if first > 2 {
        let (counts, named) = words.split_at(first);
        return (named, counts);
    }
    (words, &[])
}
