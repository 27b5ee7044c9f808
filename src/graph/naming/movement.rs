//! One movement of a text, without a plus sign: an exercise and what is said of it, in any order.

use super::cover::{Cover, covers};
use super::lexicon::{Meaning, Target};
use super::read::{As, Heard, heard_as, left_over};
use super::settle::{beyond_root, body_of};
use super::token::{Token, count};
use super::{Meant, Misread, Movement, Naming};

/// The most ways to take the open names of one text.
const MOST_TAKEN: usize = 512;
/// The most exercises that are looked for where there should be one.
const MOST_EXERCISES: usize = 3;

/// What the words of a movement were read as.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Part {
    pub(super) meant: Meant,
    pub(super) heard: Vec<Heard>,
}

/// A way to take words for names with each open name taken for one of its meanings.
#[derive(Debug, Clone, Default)]
struct Taken {
    exercises: Vec<usize>,
    said: Vec<usize>,
    /// What the names of exercises say that these have.
    by_name: Vec<usize>,
    heard: Vec<Heard>,
}

/// How far a way to take words is from what is written: less is nearer. A name with several meanings
/// counts as two.
fn rank(cover: &Cover) -> (usize, usize, usize) {
    let names = cover.names.len() + cover.open;
    (cover.turned, names, cover.disorder)
}

/// The same but for how near the words of a name stand to one another.
fn kind(cover: &Cover) -> (usize, usize) {
    let (turned, names, _) = rank(cover);
    (turned, names)
}

/// Whether each name stands as it is written and has one meaning.
fn is_plain(cover: &Cover) -> bool {
    cover.turned + cover.open + cover.disorder == 0
}

impl Naming<'_> {
    /// What the words of a movement mean.
    ///
    /// # Errors
    ///
    /// Why they mean no one exercise.
    pub(super) fn part(&self, words: &[Token]) -> Result<Part, Misread> {
        if words.is_empty() {
            return Err(Misread::Empty);
        }
        let mut all = covers(self.lexicon, words, 1).ok_or(Misread::TooLong)?;
        all.sort_by_key(rank);
        let mut first_wrong = None;
        let mut found: Vec<Part> = Vec::new();
        let mut best = None;
        for cover in &all {
            if best.is_some_and(|best| rank(cover) > best) {
                break;
            }
            // What is written just as its names are is no odd way of saying something else.
            let plain = all.first().filter(|first| is_plain(first));
            if first_wrong.is_some() && plain.is_some_and(|first| kind(cover) > kind(first)) {
                break;
            }
            for taken in self.taken(cover, words)? {
                let [exercise] = taken.exercises.as_slice() else {
                    continue;
                };
                match self.settle(*exercise, &taken.by_name, &taken.said) {
                    Ok(meant) => {
                        best = Some(rank(cover));
                        if !found.iter().any(|part| part.meant == meant) {
                            found.push(Part {
                                meant,
                                heard: taken.heard,
                            });
                        }
                    }
                    Err(wrong) => first_wrong = first_wrong.or(Some(wrong)),
                }
            }
        }
        match (found.pop(), found.is_empty()) {
            (Some(only), true) => Ok(only),
            (Some(last), false) => {
                found.push(last);
                let all = found.into_iter().map(|part| part.meant);
                Err(Misread::Between(all.collect()))
            }
            (None, _) => Err(match first_wrong {
                Some(wrong) => wrong,
                None => self.no_part(words, &all)?,
            }),
        }
    }

    /// Why words mean no exercise.
    fn no_part(&self, words: &[Token], covers_of_one: &[Cover]) -> Result<Misread, Misread> {
        if let Some(nearest) = covers_of_one.first().map(rank) {
            let mut could_be: Vec<usize> = Vec::new();
            let mut several = None;
            for cover in covers_of_one.iter().filter(|cover| rank(cover) == nearest) {
                for taken in self.taken(cover, words)? {
                    if taken.exercises.is_empty() {
                        could_be.extend(self.with_just(&taken.said));
                    } else {
                        several = several.or(Some(taken.exercises));
                    }
                }
            }
            if let Some(several) = several.filter(|_| could_be.is_empty()) {
                return Ok(Misread::Several(several));
            }
            could_be.sort_unstable();
            could_be.dedup();
            return Ok(Misread::NoExercise(could_be));
        }
        let several = covers(self.lexicon, words, MOST_EXERCISES).ok_or(Misread::TooLong)?;
        if let Some(cover) = several.iter().min_by_key(|cover| rank(cover)) {
            let mut names: Vec<(usize, usize)> = Vec::new();
            for name in &cover.names {
                let phrase = self.lexicon.phrases.get(name.phrase);
                if let Some(Target::Exercise(at)) = phrase.map(|phrase| &phrase.target) {
                    names.push((name.at.iter().min().copied().unwrap_or(0), *at));
                }
            }
            names.sort_unstable();
            return Ok(Misread::Several(
                names.into_iter().map(|(_, at)| at).collect(),
            ));
        }
        // A number that is part of no name is no count of this movement.
        let number = words.iter().find(|word| count(word).is_some());
        if let Some(number) = number {
            return Ok(left_over(number));
        }
        // The first word without which the rest is something.
        for (at, word) in words.iter().enumerate() {
            let rest = words.iter().enumerate().filter(|(other, _)| *other != at);
            let rest: Vec<Token> = rest.map(|(_, word)| word.clone()).collect();
            let found = covers(self.lexicon, &rest, 1).unwrap_or_default();
            if found.iter().any(|cover| self.may_name_exercise(cover)) {
                return Ok(left_over(word));
            }
        }
        // Else the first that is no name by itself.
        let alone = |word: &&Token| {
            let one = std::slice::from_ref(*word);
            covers(self.lexicon, one, 1).is_none_or(|found| found.is_empty())
        };
        let lost = words.iter().find(alone).or(words.first());
        Ok(lost.map_or(Misread::Empty, left_over))
    }

    /// Whether one of the names is an exercise, or may be.
    pub(super) fn may_name_exercise(&self, cover: &Cover) -> bool {
        cover.exercises > 0
            || cover.names.iter().any(|name| {
                let phrase = self.lexicon.phrases.get(name.phrase);
                phrase.is_some_and(|phrase| match &phrase.target {
                    Target::Open(all) => all.iter().any(|meaning| !meaning.exercises.is_empty()),
                    Target::Exercise(_) => true,
                    Target::Constraint(_) => false,
                })
            })
    }

    /// All that the names of a cover may mean.
    fn taken(&self, cover: &Cover, words: &[Token]) -> Result<Vec<Taken>, Misread> {
        let mut all = vec![Taken::default()];
        for name in &cover.names {
            let Some(phrase) = self.lexicon.phrases.get(name.phrase) else {
                continue;
            };
            let own: Vec<Token> = name
                .at
                .iter()
                .filter_map(|at| words.get(*at).cloned())
                .collect();
            let meanings = match &phrase.target {
                Target::Exercise(at) => vec![Meaning {
                    exercises: vec![*at],
                    constraints: Vec::new(),
                }],
                Target::Constraint(at) => vec![Meaning {
                    exercises: Vec::new(),
                    constraints: vec![*at],
                }],
                Target::Open(meanings) => meanings.clone(),
            };
            let mut more = Vec::new();
            for taken in &all {
                for meaning in &meanings {
                    let mut taken = taken.clone();
                    taken.by_name.extend_from_slice(&phrase.own);
                    for at in &meaning.exercises {
                        taken.exercises.push(*at);
                        taken.heard.push(heard_as(&own, As::Exercise(*at)));
                    }
                    for at in &meaning.constraints {
                        taken.said.push(*at);
                        taken.heard.push(heard_as(&own, As::Constraint(*at)));
                    }
                    more.push(taken);
                }
            }
            if more.len() > MOST_TAKEN {
                return Err(Misread::TooLong);
            }
            all = more;
        }
        Ok(all)
    }

    /// The listed exercises, done alone, that have just these constraints beyond their root.
    fn with_just(&self, said: &[usize]) -> Vec<usize> {
        let wanted = said.iter().copied().collect();
        let all = 0..self.graph.exercises.len();
        all.filter(|at| {
            body_of(self.graph, *at).is_some_and(|body| {
                let movement = Movement {
                    root: body.root,
                    constraints: body.constraints.clone(),
                };
                beyond_root(self.graph, &movement) == wanted
            })
        })
        .collect()
    }
}
