//! The words of a pack by what they name: exercises, constraints, what is written for them.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{At, Code, Diagnostic, ExerciseId, WordId, nearest};
use crate::graph::Graph;
use crate::rules::pack::Pack;
use crate::rules::vocab::{Names, Word};

use super::cover::covers;
use super::round::Round;
use super::token::{ALSO, PLUS, Token, bare, starts_with, tokens};

/// One thing that a name with several meanings may be.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Meaning {
    pub(super) exercises: Vec<usize>,
    pub(super) constraints: Vec<usize>,
}

/// What a name names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Target {
    Exercise(usize),
    Constraint(usize),
    /// One of these, and the name leaves open which.
    Open(Vec<Meaning>),
}

/// A name: words in the order in which it is written.
#[derive(Debug, Clone)]
pub(super) struct Phrase {
    pub(super) words: Vec<String>,
    pub(super) target: Target,
    /// What of its own an exercise is said to have by this name.
    pub(super) own: Vec<usize>,
}

/// A name with a plus sign or counts in it, as it is read.
#[derive(Debug, Clone)]
pub(super) struct Alias {
    pub(super) round: Round,
    pub(super) exercise: usize,
}

/// All words of a pack.
#[derive(Debug, Clone, Default)]
pub(crate) struct Lexicon {
    /// What says nothing, by its first word and then all its words.
    silent: BTreeMap<String, BTreeSet<Vec<String>>>,
    /// What is written for other words, by its first word and then all its words.
    short: BTreeMap<String, BTreeMap<Vec<String>, Vec<String>>>,
    pub(super) phrases: Vec<Phrase>,
    /// Phrases by each of their words.
    pub(super) by_word: BTreeMap<String, Vec<usize>>,
    pub(super) aliases: Vec<Alias>,
    /// Every way of writing that stands for something else.
    written: BTreeSet<String>,
}

impl Lexicon {
    /// Gathers the words of a pack.
    ///
    /// # Errors
    ///
    /// Ways of writing that two entries share, and what is meant but names nothing.
    pub(crate) fn of(pack: &Pack, graph: &Graph) -> Result<Self, Vec<Diagnostic>> {
        let mut held = Self::default();
        held.gather_short(pack);
        let mut wrong = held.shared(&pack.words);
        let mut whole: Vec<(usize, &str)> = Vec::new();
        for (id, names) in exercise_names(pack) {
            let Some(at) = graph.ids.find(id.as_str()) else {
                continue;
            };
            for name in &names.en {
                let words = held.normal(name);
                if is_round(&words) {
                    whole.push((at, name));
                } else {
                    held.phrase(words, Target::Exercise(at));
                }
            }
        }
        for (id, held_by) in pack.axes.values().flat_map(|axis| &axis.constraints) {
            if let Some(at) = graph.constraints.find(id.as_str()) {
                for name in &held_by.names.en {
                    let words = held.normal(name);
                    held.phrase(words, Target::Constraint(at));
                }
            }
        }
        held.gather_open(pack, &mut wrong);
        held.gather_said(graph);
        held.gather_aliases(pack, graph, &whole);
        if wrong.is_empty() {
            Ok(held)
        } else {
            wrong.sort();
            Err(wrong)
        }
    }

    fn gather_short(&mut self, pack: &Pack) {
        for word in pack.words.values().filter(|word| is_silent(word)) {
            for words in word.write.iter().map(|text| bare(text)) {
                if let Some(first) = words.first() {
                    let held = self.silent.entry(first.clone()).or_default();
                    held.insert(words);
                }
            }
        }
        for word in pack.words.values().filter(|word| !is_silent(word)) {
            let means: Vec<String> = match word.means.as_slice() {
                _ if word.joins => vec![ALSO.to_owned()],
                [only] => self.spoken(only),
                _ => continue,
            };
            for written in &word.write {
                let words = self.spoken(written);
                self.written.extend(words.iter().cloned());
                if let Some(first) = words.first() {
                    let held = self.short.entry(first.clone()).or_default();
                    held.insert(words, means.clone());
                }
            }
        }
        // What stands for a word that stands for another one stands for that.
        let full = self.short.iter().map(|(first, held)| {
            let full = held.iter().map(|(written, means)| {
                let all: Vec<Token> = means.iter().map(|text| Token::nowhere(text)).collect();
                let all = self.replaced(&self.replaced(&all)).into_iter();
                (written.clone(), all.map(|token| token.text).collect())
            });
            (first.clone(), full.collect())
        });
        self.short = full.collect();
    }

    fn gather_open(&mut self, pack: &Pack, wrong: &mut Vec<Diagnostic>) {
        let mut open: Vec<(Vec<String>, Vec<Meaning>)> = Vec::new();
        for word in pack.words.values().filter(|word| !word.joins) {
            let mut meanings = Vec::new();
            for text in &word.means {
                match self.meaning(text) {
                    Some(meaning) => meanings.push(meaning),
                    None if word.means.len() == 1 => {
                        // A word for another one need be no name, but part of one.
                        self.check_known(text, wrong);
                    }
                    None => wrong.push(nothing(text)),
                }
            }
            if word.means.len() > 1 {
                let all = word.write.iter().map(|written| self.normal(written));
                open.extend(all.map(|words| (words, meanings.clone())));
            }
        }
        for (words, meanings) in open {
            self.phrase(words, Target::Open(meanings));
        }
    }

    /// Ways of writing that stand in two entries, or twice in one.
    fn shared(&self, all: &BTreeMap<At<WordId>, Word>) -> Vec<Diagnostic> {
        let mut seen: BTreeMap<Vec<String>, (&At<WordId>, &At<String>)> = BTreeMap::new();
        let mut wrong = Vec::new();
        for (id, word) in all {
            for written in &word.write {
                let words = if is_silent(word) {
                    bare(written)
                } else {
                    self.spoken(written)
                };
                if words.is_empty() {
                    wrong.push(Diagnostic::new(
                        Code::BadValue,
                        written.place.clone(),
                        format!("`{written}` has no word in it that says anything"),
                        "write letters, digits, `+` or `&`, and more than words that say nothing",
                    ));
                    continue;
                }
                let Some((first, other)) = seen.get(&words) else {
                    seen.insert(words, (id, written));
                    continue;
                };
                let what = if *first == id {
                    format!("`{id}` has `{written}` twice")
                } else {
                    format!("`{first}` and `{id}` share `{written}`")
                };
                let help = "take it from one of them; what leaves open which is meant goes into one entry with several under `means`";
                wrong.push(
                    Diagnostic::new(Code::SharedName, written.place.clone(), what, help)
                        .with_also(other.place.clone(), "it stands here first"),
                );
            }
        }
        wrong
    }

    fn check_known(&self, text: &At<String>, wrong: &mut Vec<Diagnostic>) {
        let words = self.normal(text);
        let known =
            |word: &String| word == PLUS || word == ALSO || self.knows(word) || is_number(word);
        if words.is_empty() || !words.iter().all(known) {
            wrong.push(nothing(text));
        }
    }

    /// What a text names, with the fewest names, each in its order where that can be.
    fn meaning(&self, text: &str) -> Option<Meaning> {
        let words = self.normal_tokens(text);
        let mut all = covers(self, &words, 1)?;
        all.retain(|cover| cover.open == 0);
        let best = all
            .into_iter()
            .min_by_key(|cover| (cover.turned, cover.names.len(), cover.disorder))?;
        let mut meaning = Meaning::default();
        for name in &best.names {
            match self.phrases.get(name.phrase).map(|phrase| &phrase.target) {
                Some(Target::Exercise(at)) => meaning.exercises.push(*at),
                Some(Target::Constraint(at)) => meaning.constraints.push(*at),
                _ => return None,
            }
        }
        (!best.names.is_empty()).then_some(meaning)
    }

    fn gather_aliases(&mut self, pack: &Pack, graph: &Graph, whole: &[(usize, &str)]) {
        let mut aliases = Vec::new();
        let naming = super::Naming {
            pack,
            graph,
            lexicon: self,
        };
        for (exercise, name) in whole {
            // A name that does not read as a round of movements is only known by its id.
            if let Ok((round, _)) = naming.round(name) {
                aliases.push(Alias {
                    round,
                    exercise: *exercise,
                });
            }
        }
        self.aliases = aliases;
    }

    fn phrase(&mut self, words: Vec<String>, target: Target) {
        let same = |at: &usize| {
            let held = self.phrases.get(*at);
            held.is_some_and(|held| held.words == words && held.target == target)
        };
        let first = words.first().and_then(|word| self.by_word.get(word));
        let taken = first.is_some_and(|all| all.iter().any(same));
        if words.is_empty() || taken {
            return;
        }
        let at = self.phrases.len();
        for word in &words {
            let held = self.by_word.entry(word.clone()).or_default();
            if held.last() != Some(&at) {
                held.push(at);
            }
        }
        let own = Vec::new();
        self.phrases.push(Phrase { words, target, own });
    }

    /// The words of a text without those that say nothing.
    fn spoken(&self, text: &str) -> Vec<String> {
        let words = self.loud(&tokens(text)).into_iter();
        words.map(|word| word.text).collect()
    }

    /// Words without those that say nothing, the longest of these first.
    fn loud(&self, words: &[Token]) -> Vec<Token> {
        let (mut loud, mut rest) = (Vec::new(), words);
        while let Some((first, tail)) = rest.split_first() {
            let all = self.silent.get(&first.text).into_iter().flatten();
            let found = all.filter(|words| starts_with(rest, words)).map(Vec::len);
            match found.max().and_then(|length| rest.get(length..)) {
                Some(tail) => rest = tail,
                None => {
                    loud.push(first.clone());
                    rest = tail;
                }
            }
        }
        loud
    }

    /// The words of a name in full: without what says nothing and what only joins.
    fn normal(&self, text: &str) -> Vec<String> {
        let all = self.normal_tokens(text).into_iter();
        all.map(|token| token.text).collect()
    }

    fn normal_tokens(&self, text: &str) -> Vec<Token> {
        let mut words = self.in_full(&tokens(text));
        words.retain(|word| word.text != ALSO);
        words
    }

    /// Words in full: what says nothing is left out, what is written for other words gives way to
    /// them, the longest first.
    pub(super) fn in_full(&self, words: &[Token]) -> Vec<Token> {
        let loud = self.parted(&self.loud(words));
        // Short words may come together to what is short for something else.
        self.replaced(&self.replaced(&loud))
    }

    fn replaced(&self, words: &[Token]) -> Vec<Token> {
        let (mut full, mut rest) = (Vec::new(), words);
        while let Some((first, tail)) = rest.split_first() {
            let all = self.short.get(&first.text).into_iter().flatten();
            let found = all
                .filter(|(written, _)| starts_with(rest, written))
                .max_by_key(|(written, _)| written.len());
            let found = found.and_then(|(written, means)| {
                let (written, tail) = rest.split_at_checked(written.len())?;
                Some((written, means, tail))
            });
            match found {
                Some((written, means, tail)) => {
                    let to = written.last().map_or(first.to, |last| last.to);
                    full.extend(means.iter().map(|text| Token {
                        text: text.clone(),
                        from: first.from,
                        to,
                    }));
                    rest = tail;
                }
                None => {
                    full.push(first.clone());
                    rest = tail;
                }
            }
        }
        full
    }

    /// Words with a number that runs into a known word parted from it, as in `2fs`.
    fn parted(&self, words: &[Token]) -> Vec<Token> {
        let known = |text: &str| {
            let short = || self.short.get(text).into_iter().flatten();
            self.by_word.contains_key(text) || short().any(|(written, _)| written.len() == 1)
        };
        let mut all = Vec::with_capacity(words.len());
        for word in words {
            let letters = word.text.trim_start_matches(|c: char| c.is_ascii_digit());
            let digits = word.text.len() - letters.len();
            if digits == 0 || letters.is_empty() || known(&word.text) || !known(letters) {
                all.push(word.clone());
                continue;
            }
            let at = (word.from + digits).min(word.to);
            all.push(Token {
                text: word.text.chars().take(digits).collect(),
                from: word.from,
                to: at,
            });
            all.push(Token {
                text: letters.to_owned(),
                from: at,
                to: word.to,
            });
        }
        all
    }

    /// Whether a word is part of a name.
    pub(super) fn knows(&self, word: &str) -> bool {
        self.by_word.contains_key(word)
    }

    /// The known word that was most likely meant. One and two letters are no slip of the hand.
    pub(super) fn nearest(&self, word: &str) -> Option<&str> {
        const LEAST: usize = 3;
        let long = |known: &&str| known.chars().count() >= LEAST;
        if !long(&word) {
            return None;
        }
        let all = self.by_word.keys().chain(&self.written).map(String::as_str);
        nearest(word, all.filter(long))
    }
}

fn is_silent(word: &Word) -> bool {
    word.means.is_empty() && !word.joins
}

fn is_number(word: &str) -> bool {
    word.bytes().all(|byte| byte.is_ascii_digit())
}

/// Whether words are several movements, or say how often each is done.
fn is_round(words: &[String]) -> bool {
    words.iter().any(|word| word == PLUS)
}

fn exercise_names(pack: &Pack) -> impl Iterator<Item = (&At<ExerciseId>, &Names)> {
    let roots = pack.roots.iter().map(|(id, held)| (id, &held.names));
    let variations = pack.variations.iter().map(|(id, held)| (id, &held.names));
    let complexes = pack.complexes.iter().map(|(id, held)| (id, &held.names));
    roots.chain(variations).chain(complexes)
}

/// What is meant, but names nothing.
fn nothing(text: &At<String>) -> Diagnostic {
    Diagnostic::new(
        Code::DanglingId,
        text.place.clone(),
        format!("`{text}` names no exercise and no constraint"),
        "write it in the words of `names` under `exercises` and `axes`",
    )
}
