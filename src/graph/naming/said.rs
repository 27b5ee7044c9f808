//! What names say beyond their own words: of an exercise by what it is called, and of each of several
//! things by a word that is written once for all of them.

use crate::graph::Graph;

use super::lexicon::{Lexicon, Phrase, Target};
use super::settle::body_of;
use super::token::{ALSO, Token};

impl Lexicon {
    /// Notes of each name of an exercise what it says of it.
    pub(super) fn gather_said(&mut self, graph: &Graph) {
        let all = self.phrases.iter();
        let said: Vec<Vec<usize>> = all.map(|phrase| self.said_by(phrase, graph)).collect();
        for (phrase, said) in self.phrases.iter_mut().zip(said) {
            phrase.own = said;
        }
    }

    /// The constraints that an exercise has and whose name, taken out of a name of it, leaves
    /// another name of it.
    fn said_by(&self, phrase: &Phrase, graph: &Graph) -> Vec<usize> {
        let Target::Exercise(exercise) = phrase.target else {
            return Vec::new();
        };
        let Some(body) = body_of(graph, exercise) else {
            return Vec::new();
        };
        let names_it = |words: &Vec<String>| {
            let mut all = self.phrases.iter();
            all.any(|other| other.target == phrase.target && other.words == *words)
        };
        let mut said = Vec::new();
        for held in &self.phrases {
            let Target::Constraint(at) = held.target else {
                continue;
            };
            let own = body.constraints.has(at) && !said.contains(&at);
            if own && without(&phrase.words, &held.words).is_some_and(|rest| names_it(&rest)) {
                said.push(at);
            }
        }
        said
    }

    /// Words with those written again that are written once for several things with “and” between
    /// them. Such a word alone leaves open which constraint it is, and with each of the things it
    /// names one. The things may share their last words as well.
    pub(super) fn written_out(&self, words: &[Token]) -> Vec<Token> {
        let (mut full, mut rest) = (Vec::with_capacity(words.len()), words);
        while let Some((first, tail)) = rest.split_first() {
            rest = self.with_each(first, tail, &mut full).unwrap_or_else(|| {
                full.push(first.clone());
                tail
            });
        }
        full
    }

    /// Writes a word and what stands behind it in full, and gives what is left; none where the word
    /// is not shared.
    fn with_each<'w>(
        &self,
        head: &Token,
        behind: &'w [Token],
        full: &mut Vec<Token>,
    ) -> Option<&'w [Token]> {
        if !self.is_constraint(&[head], true) {
            return None;
        }
        let (first, mut rest) = at_also(behind)?;
        let mut things: Vec<(Option<&Token>, Vec<Token>)> = Vec::new();
        let (joins, second) = rest.split_first()?;
        let (next, _) = self.longest(head, second)?;
        match self.listed(head, first) {
            Some(all) => things.extend(all.into_iter().map(|thing| (None, thing.to_vec()))),
            None => things.push((None, self.with_end(head, first, next)?)),
        }
        things.push((Some(joins), next.to_vec()));
        rest = second.get(next.len()..)?;
        while let Some((joins, more)) = rest.split_first().filter(|(word, _)| word.text == ALSO)
            && let Some((next, left)) = self.longest(head, more)
        {
            things.push((Some(joins), next.to_vec()));
            rest = left;
        }
        for (joins, thing) in things {
            full.extend(joins.cloned());
            full.push(head.clone());
            full.extend(thing);
        }
        Some(rest)
    }

    /// The longest beginning of some words that is a constraint with the word before it, and the rest.
    fn longest<'w>(&self, head: &Token, words: &'w [Token]) -> Option<(&'w [Token], &'w [Token])> {
        let lengths = (1..=words.len()).rev();
        let mut all = lengths.filter_map(|length| words.split_at_checked(length));
        all.find(|(thing, _)| self.is_one(head, thing))
    }

    /// Words as things each of which is a constraint with the word before them.
    fn listed<'w>(&self, head: &Token, mut words: &'w [Token]) -> Option<Vec<&'w [Token]>> {
        let mut all = Vec::new();
        while !words.is_empty() {
            let (thing, rest) = self.longest(head, words)?;
            all.push(thing);
            words = rest;
        }
        Some(all)
    }

    /// Words with the fewest last ones of others that make them a constraint with the word before.
    fn with_end(&self, head: &Token, words: &[Token], of: &[Token]) -> Option<Vec<Token>> {
        let mut ends = (1..of.len()).rev().filter_map(|from| of.get(from..));
        ends.find_map(|end| {
            let thing = [words, end].concat();
            self.is_one(head, &thing).then_some(thing)
        })
    }

    fn is_one(&self, head: &Token, thing: &[Token]) -> bool {
        let words: Vec<&Token> = std::iter::once(head).chain(thing).collect();
        self.is_constraint(&words, false)
    }

    /// Whether words name a constraint or, surely where that is asked, leave open which.
    fn is_constraint(&self, words: &[&Token], open: bool) -> bool {
        let first = words.first().and_then(|word| self.by_word.get(&word.text));
        let mut phrases = first.into_iter().flatten();
        phrases.any(|at| {
            self.phrases.get(*at).is_some_and(|phrase| {
                let same = phrase.words.iter().eq(words.iter().map(|word| &word.text));
                same && match &phrase.target {
                    Target::Exercise(_) => false,
                    Target::Constraint(_) => !open,
                    Target::Open(all) => all.iter().all(|meaning| meaning.exercises.is_empty()),
                }
            })
        })
    }
}

/// Words before the first “and”, where there are some, and those from it on.
fn at_also(words: &[Token]) -> Option<(&[Token], &[Token])> {
    let at = words.iter().position(|word| word.text == ALSO)?;
    words
        .split_at_checked(at)
        .filter(|(first, _)| !first.is_empty())
}

/// Words without some of them, the first of each; none where one of these is not there.
fn without(words: &[String], out: &[String]) -> Option<Vec<String>> {
    let mut rest = words.to_vec();
    for word in out {
        let at = rest.iter().position(|held| held == word)?;
        rest.remove(at);
    }
    Some(rest)
}
