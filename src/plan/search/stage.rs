//! What one solve is after: which levels are hard, held, free or minimised.
//!
//! Every week is one number, its score: worth, less the weight of each unit missed.
//! Weights are far enough apart that no worth buys off a unit of the level
//! that is minimised, and no such unit one of a level that is held.

use crate::plan::model::Level;

/// What one point of worth weighs; the tie measure stays below it.
pub(super) const POINT: i64 = 1 << 20;
/// What a unit missed weighs on the level that is minimised; nothing else is scored then.
pub(super) const UNIT: i64 = POINT;
/// What a unit missed weighs on a held level while another is minimised.
const HELD: i64 = 1 << 40;
/// The price of a unit out of a hard bound with which a relaxation starts; never in a bound.
pub(super) const MILD: i64 = 1 << 31;
/// The highest such price: it shows that nothing is left.
pub(super) const HARD: i64 = 1 << 47;
/// How much dearer it gets where it leaves a bound broken.
pub(super) const DEARER: i64 = 16;

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
    levels: [Part; 3],
    /// What a unit missed weighs on a level that is held; more than all worth.
    held: i64,
    /// Whether only units missed are scored, and no worth.
    counts: bool,
}

impl Stage {
    /// A solve over levels; no worth of a week, in scores, may reach `span`.
    pub(super) fn of(levels: [Part; 3], span: i64) -> Self {
        let counts = levels.contains(&Part::Least);
        Self {
            levels,
            held: if counts { HELD } else { span },
            counts,
        }
    }

    /// Whatever gives way and whatever it is worth.
    pub(super) fn any() -> Self {
        Self {
            levels: [Part::Free; 3],
            held: HELD,
            counts: true,
        }
    }

    /// Everything that yields is hard.
    pub(super) fn strict(span: i64) -> Self {
        Self::of([Part::Hard; 3], span)
    }

    /// Whether only units missed are scored, and no worth.
    pub(super) fn counts(&self) -> bool {
        self.counts
    }

    /// What so much worth and tie score.
    pub(super) fn score(&self, worth: i64, tie: i64) -> i64 {
        if self.counts() { 0 } else { worth * POINT - tie }
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
                Part::Hard | Part::Held(_) => units.saturating_mul(self.held),
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
                Part::Held(most) => most.saturating_mul(self.held),
                _ => 0,
            })
            .fold(0, i64::saturating_add)
    }
}
