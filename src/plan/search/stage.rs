//! What one solve is after: which levels are hard, held, free or minimised.
//!
//! Every week is one number, its score: worth, less the weight of each unit missed.
//! Weights are far enough apart that no worth buys off a unit of the level
//! that is minimised, and no such unit one of a level that is held.

use crate::plan::model::Level;

/// What one point of worth weighs; the tie measure stays below it.
pub(super) const POINT: i64 = 1 << 20;
/// What a unit missed weighs on the level that is minimised.
pub(super) const UNIT: i64 = 1 << 45;
/// What a unit missed weighs on a level that is held at what it must miss.
pub(super) const HELD: i64 = 1 << 51;
/// What a unit out of a hard bound weighs where a relaxation proposes multipliers; never in a bound.
pub(super) const MILD: i64 = 1 << 35;
/// The same where the mild price leaves a bound broken: high enough to show that nothing is left.
pub(super) const HARD: i64 = 1 << 46;

/// How a level takes part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    /// Nothing may be missed.
    Hard,
    /// At most so many units.
    Held(i64),
    /// As few units as can be.
    Least,
    /// Whatever comes.
    Free,
}

/// One solve.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stage {
    pub(super) levels: [Part; 3],
}

impl Stage {
    /// Everything that yields is hard.
    pub(super) fn strict() -> Self {
        Self {
            levels: [Part::Hard; 3],
        }
    }

    /// The level that is minimised.
    pub(super) fn least(&self) -> Option<usize> {
        self.levels.iter().position(|part| *part == Part::Least)
    }

    fn part(&self, level: usize) -> Part {
        self.levels.get(level).copied().unwrap_or(Part::Free)
    }

    /// Whether a rule of this level must hold.
    pub(super) fn hard(&self, level: Level) -> bool {
        level.is_none_or(|level| matches!(self.part(level), Part::Hard | Part::Held(0)))
    }

    /// Whether a rule of this level plays no part.
    pub(super) fn free(&self, level: Level) -> bool {
        level.is_some_and(|level| self.part(level) == Part::Free)
    }

    /// Weight of units missed, by level.
    pub(super) fn weight(&self, misses: [i64; 3]) -> i64 {
        misses
            .iter()
            .zip(self.levels)
            .map(|(units, part)| match part {
                Part::Hard | Part::Held(_) => units.saturating_mul(HELD),
                Part::Least => units.saturating_mul(UNIT),
                Part::Free => 0,
            })
            .fold(0, i64::saturating_add)
    }

    /// Whether what is missed is allowed.
    pub(super) fn allows(&self, misses: [i64; 3]) -> bool {
        misses
            .iter()
            .zip(self.levels)
            .all(|(units, part)| match part {
                Part::Hard => *units == 0,
                Part::Held(most) => *units <= most,
                Part::Least | Part::Free => true,
            })
    }

    /// Score given back for the units that held levels miss anyway.
    pub(super) fn given(&self) -> i64 {
        self.levels
            .iter()
            .map(|part| match part {
                Part::Held(most) => most.saturating_mul(HELD),
                _ => 0,
            })
            .fold(0, i64::saturating_add)
    }
}
