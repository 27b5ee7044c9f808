//! From a written name to an exercise.
//!
//! A text is cut into words; what says nothing is left out, what is written short is put in full, and
//! what is written once for several things is written with each.
//! Each movement of it is then taken apart into names of the pack in every way in which each word
//! belongs to one name and one name is an exercise. Of these ways those count that turn the fewest
//! names round or into one another, then those with the fewest names, of which one with several
//! meanings counts as two, then those whose words stand nearest to one another. Each way comes to
//! an exercise with constraints, or to two that exclude each other. One that is left is the answer;
//! of several the text does not say which.

mod cover;
mod lexicon;
mod made;
mod movement;
mod read;
mod round;
mod said;
mod settle;
mod token;

use crate::rules::pack::Pack;

use super::Graph;

pub(crate) use lexicon::Lexicon;
pub(crate) use made::{Added, added, free_id, name_of, put, variation};
pub(crate) use read::{As, Heard, Reading};
pub(crate) use settle::{Movement, beyond_root, nearest_listed};

/// What a written name means; exercises and constraints by index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Meant {
    /// A listed exercise.
    Listed(usize),
    /// A movement that is not listed.
    Made(Movement),
    /// Movements done in one round, with how often each, that are not listed together.
    Round(Vec<(Movement, u8)>),
}

/// Why a written name means no one thing; exercises and constraints by index.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Misread {
    /// Nothing is written that says anything.
    Empty,
    /// Too many characters or words, or too many ways to take them.
    TooLong,
    /// A word that the rules have nowhere.
    Unknown {
        word: String,
        from: usize,
        nearest: Option<String>,
    },
    /// A word that is part of names, but of none of those that are written.
    LeftOver { word: String, from: usize },
    /// Constraints without an exercise; listed exercises that have just these.
    NoExercise(Vec<usize>),
    /// Several exercises with nothing between them.
    Several(Vec<usize>),
    /// What is written may mean any of these.
    Between(Vec<Meant>),
    /// Two constraints that cannot stand together.
    Excludes { first: usize, second: usize },
    /// A constraint on something that the exercise does not have.
    Elsewhere { constraint: usize, exercise: usize },
    /// A count that belongs to no movement, or is not 1 to 10.
    Count { word: String, from: usize },
}

/// Reads written names with the words of one pack.
#[derive(Clone, Copy)]
pub(crate) struct Naming<'a> {
    pub(crate) pack: &'a Pack,
    pub(crate) graph: &'a Graph,
    pub(crate) lexicon: &'a Lexicon,
}
