//! What a written name was read as, and what that exercise is.

mod told;

use crate::base::{CauseId, ConstraintId, ExerciseId, ReferenceId, SkillId, StageId};

use super::entries::Called;

pub(crate) use told::{misread, name_reading};

/// A stretch of a text, in characters from 0; the last character is not in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub struct TextSpan {
    /// Where it begins.
    pub from: usize,
    /// Where it ends.
    pub to: usize,
}

/// A word of a text.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct WrittenWord {
    /// The word, in small letters and in full where it was written short.
    pub text: String,
    /// Where it begins, in characters from 0.
    pub from: usize,
}

/// How often a movement is done in one round, 1 to 10.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Repetitions(u8);

impl Repetitions {
    /// The number.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }
}

/// Half points of effect on a cause: above 0 they take it away, below 0 they feed it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct HalfPoints(i64);

impl HalfPoints {
    /// The number.
    #[must_use]
    pub const fn number(self) -> i64 {
        self.0
    }
}

/// What some words were read as.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ReadAs {
    /// The name of an exercise.
    Exercise(Called<ExerciseId>),
    /// The name of a constraint.
    Constraint(Called<ConstraintId>),
    /// How often a movement is done.
    Count(Repetitions),
    /// It stands between movements or between what is said of one.
    Joins,
    /// It says nothing.
    Nothing,
}

/// Words of a text with what they were read as.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct NamePiece {
    /// The words as they are written.
    pub text: String,
    /// Where they stand; several stretches where others stand between them.
    pub spans: Vec<TextSpan>,
    /// What they were read as.
    pub read_as: ReadAs,
}

/// The most that can be done.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LoadLimit {
    /// Percent of the reference.
    pub percent: i64,
    /// What that is a percent of.
    pub of: Called<ReferenceId>,
    /// Whether it is worked out and not stated in the rules.
    pub estimate: bool,
}

/// What an exercise does to a cause in a skill that it trains.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct CauseEffect {
    /// The skill.
    pub skill: SkillId,
    /// The cause.
    pub cause: Called<CauseId>,
    /// Net effect, before any role.
    pub half_points: HalfPoints,
}

/// One movement of an exercise.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct NamedPart {
    /// Its name.
    pub name: String,
    /// The listed exercise that is just this, where there is one.
    pub listed: Option<ExerciseId>,
    /// The exercise that it goes back to.
    pub root: Called<ExerciseId>,
    /// How often it is done in one round.
    pub reps: Repetitions,
    /// The constraints that it has beyond its root, by id.
    pub constraints: Vec<Called<ConstraintId>>,
    /// The stages that are left, by skill and in order of time.
    pub stages: Vec<StageId>,
    /// Sum of what its constraints cost in likeness to the full form.
    pub departure: i64,
    /// The most that can be done, where it has a reference.
    pub load: Option<LoadLimit>,
}

/// The exercise that a written name means: a listed one, or one that nobody listed but that follows
/// from listed exercises and constraints, with numbers that are worked out as theirs are.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct NamedExercise {
    /// Its canonical name. One that is not listed has the name of the listed exercise nearest to
    /// it, then each further constraint by axis and id, with commas between them; movements of a
    /// round have plus signs between them and how often each is done at the end. The name reads
    /// back as the same exercise.
    pub name: String,
    /// Its id, where it is listed.
    pub listed: Option<ExerciseId>,
    /// The listed exercise nearest to it, itself where it is listed; of a round that is not listed
    /// that of its first movement.
    pub nearest: Called<ExerciseId>,
    /// Skills that it trains.
    pub skills: Vec<SkillId>,
    /// Its movements in order: one, or those of a complex.
    pub parts: Vec<NamedPart>,
    /// What it does to causes, where it does anything; by skill and cause.
    pub effects: Vec<CauseEffect>,
    /// Sum of what its constraints cost in likeness to the full form; of a complex the mean over
    /// its repetitions, rounded down.
    pub departure: i64,
    /// The most that can be done, where it has a reference; of a complex by its weakest movement.
    pub load: Option<LoadLimit>,
}

/// A written name with what it was read as.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct NameReading {
    /// The text.
    pub text: String,
    /// What each word of it was read as, by place.
    pub pieces: Vec<NamePiece>,
    /// What it means.
    pub exercise: NamedExercise,
}

/// One of the things that an ambiguous name may mean.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub struct MayBe {
    /// Its canonical name.
    pub name: String,
    /// Its id, where it is listed.
    pub listed: Option<ExerciseId>,
}

/// Why a written name means no one exercise.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Misread {
    /// Nothing is written that says anything.
    Empty,
    /// More than 300 characters, 24 words in a movement or 10 movements, or too many ways to take
    /// the words.
    TooLong,
    /// A word that the rules have nowhere.
    UnknownWord {
        /// The word.
        word: WrittenWord,
        /// The known word that was most likely meant.
        nearest: Option<String>,
    },
    /// A word that is part of names of these rules, but of none that is written.
    LeftOver {
        /// The word.
        word: WrittenWord,
    },
    /// Constraints without an exercise.
    NoExercise {
        /// Listed exercises that have just these, by id.
        could_be: Vec<Called<ExerciseId>>,
    },
    /// Several exercises with nothing between them.
    Several {
        /// They, in the order in which they are written.
        exercises: Vec<Called<ExerciseId>>,
    },
    /// The text does not say which of several exercises is meant.
    Ambiguous {
        /// They, by name.
        between: Vec<MayBe>,
    },
    /// Two constraints that cannot stand together: values of one axis that holds one, or one that
    /// takes away what the other is about.
    Excluded {
        /// The one.
        first: Called<ConstraintId>,
        /// The other.
        second: Called<ConstraintId>,
    },
    /// A constraint on something that the exercise does not have.
    Elsewhere {
        /// The constraint.
        constraint: Called<ConstraintId>,
        /// The exercise.
        exercise: Called<ExerciseId>,
    },
    /// A count that belongs to no movement, or is not 1 to 10.
    Count {
        /// The count.
        word: WrittenWord,
    },
}
