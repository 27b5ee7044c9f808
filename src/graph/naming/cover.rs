//! All ways to take some words for names, so that each word is part of one name.

use super::lexicon::{Lexicon, Phrase, Target};
use super::token::Token;

/// The most names that one search tries; a text that needs more is not read.
const MOST_STEPS: usize = 100_000;
/// The most ways that are looked at.
const MOST_WAYS: usize = 4_000;

/// A name with the places of its words, in the name's order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Placed {
    pub(super) phrase: usize,
    pub(super) at: Vec<usize>,
}

/// Some words taken for names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cover {
    pub(super) names: Vec<Placed>,
    /// How many of the names have several meanings.
    pub(super) open: usize,
    /// How many of them are exercises.
    pub(super) exercises: usize,
    /// How many of them are written in another order than their own, and how many pairs of them run
    /// into one another.
    pub(super) turned: usize,
    /// How far words stand from the order of their names: 0 where each name stands as it is written.
    pub(super) disorder: usize,
}

/// All ways to take words for names with at most so many exercises among them; none where the
/// search would take too long.
pub(super) fn covers(
    lexicon: &Lexicon,
    words: &[Token],
    most_exercises: usize,
) -> Option<Vec<Cover>> {
    let mut search = Search {
        lexicon,
        words,
        most_exercises,
        taken: vec![false; words.len()],
        now: Cover {
            names: Vec::new(),
            open: 0,
            exercises: 0,
            turned: 0,
            disorder: 0,
        },
        found: Vec::new(),
        steps: 0,
    };
    search.go();
    (search.steps <= MOST_STEPS && search.found.len() <= MOST_WAYS).then_some(search.found)
}

struct Search<'a> {
    lexicon: &'a Lexicon,
    words: &'a [Token],
    most_exercises: usize,
    taken: Vec<bool>,
    now: Cover,
    found: Vec<Cover>,
    steps: usize,
}

impl Search<'_> {
    fn go(&mut self) {
        if self.steps > MOST_STEPS || self.found.len() > MOST_WAYS {
            return;
        }
        let Some(first) = self.taken.iter().position(|taken| !taken) else {
            let mut found = self.now.clone();
            found.turned += crossings(&found.names);
            self.found.push(found);
            return;
        };
        let word = self.words.get(first).map(|word| word.text.as_str());
        let lexicon = self.lexicon;
        let all = word.and_then(|word| lexicon.by_word.get(word));
        for phrase in all.into_iter().flatten() {
            self.steps += 1;
            let Some(held) = lexicon.phrases.get(*phrase) else {
                continue;
            };
            let exercise = usize::from(matches!(held.target, Target::Exercise(_)));
            if self.now.exercises + exercise > self.most_exercises {
                continue;
            }
            let Some(at) = self.places(held, first) else {
                continue;
            };
            let open = usize::from(matches!(held.target, Target::Open(_)));
            let turned = usize::from(!at.is_sorted());
            let disorder = disorder(&at);
            self.mark(&at, true);
            self.now.exercises += exercise;
            self.now.open += open;
            self.now.turned += turned;
            self.now.disorder += disorder;
            self.now.names.push(Placed {
                phrase: *phrase,
                at,
            });
            self.go();
            if let Some(last) = self.now.names.pop() {
                self.mark(&last.at, false);
            }
            self.now.exercises -= exercise;
            self.now.open -= open;
            self.now.turned -= turned;
            self.now.disorder -= disorder;
        }
    }

    fn mark(&mut self, at: &[usize], taken: bool) {
        for place in at {
            if let Some(slot) = self.taken.get_mut(*place) {
                *slot = taken;
            }
        }
    }

    /// Where the words of a name stand among those that are left, the one at `first` among them;
    /// of several places for a word the nearest to where it belongs.
    fn places(&self, phrase: &Phrase, first: usize) -> Option<Vec<usize>> {
        let text = self.words.get(first).map(|word| &word.text)?;
        let own = phrase.words.iter().position(|word| word == text)?;
        let mut at: Vec<usize> = Vec::with_capacity(phrase.words.len());
        for (number, wanted) in phrase.words.iter().enumerate() {
            if number == own {
                at.push(first);
                continue;
            }
            let belongs = (first + number).saturating_sub(own);
            let free = |place: &usize| {
                *place > first
                    && self.taken.get(*place) == Some(&false)
                    && !at.contains(place)
                    && self
                        .words
                        .get(*place)
                        .is_some_and(|word| word.text == *wanted)
            };
            let place = (0..self.words.len())
                .filter(free)
                .min_by_key(|place| (place.abs_diff(belongs), *place))?;
            at.push(place);
        }
        Some(at)
    }
}

/// How many pairs of names begin in turn and end in turn, so that neither stands within the other.
fn crossings(names: &[Placed]) -> usize {
    let ends = |name: &Placed| Some((*name.at.iter().min()?, *name.at.iter().max()?));
    let ends: Vec<(usize, usize)> = names.iter().filter_map(ends).collect();
    let crosses = |one: &(usize, usize), other: &(usize, usize)| {
        one.0 < other.0 && other.0 < one.1 && one.1 < other.1
    };
    let of = |one: &(usize, usize)| ends.iter().filter(|other| crosses(one, other)).count();
    ends.iter().map(of).sum()
}

/// How far places are from following one another.
fn disorder(at: &[usize]) -> usize {
    at.iter()
        .zip(at.iter().skip(1))
        .map(|(one, next)| next.abs_diff(one + 1))
        .sum()
}
