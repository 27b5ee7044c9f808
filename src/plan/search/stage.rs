//! What one solve is after: which levels are hard, held, free or minimised.
//!
//! Every week is one number, its score: worth, less the weight of each unit missed.
//! Weights are far enough apart that no worth buys off a unit of the level
//! that is minimised, and no such unit one of a level that is held.

use crate::plan::model::Level;

/// What one point of worth weighs; the tie measure stays below it.
pub(super) const POINT: i64 = 1 << 20;
/// The most that a level held at what it must miss may weigh.
const MOST_HELD: i64 = 1 << 51;
/// How many units of the level that is minimised one unit of a held level outweighs.
const HELD_UNITS: i64 = 256;

/// How much units missed weigh beside the worths of a model.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Scale {
    /// More than any worth can score, either way.
    pub(super) span: i64,
    /// What a unit missed weighs on the level that is minimised.
    pub(super) unit: i64,
    /// What a unit missed weighs on a level that is held at what it must miss.
    held: i64,
}

impl Scale {
    /// For worths that come to at most so much, either way.
    pub(super) fn of(worth: i64) -> Self {
        let span = worth.saturating_add(2).saturating_mul(POINT);
        // Two weeks of one worth more and one worth less than nothing lie two spans apart.
        let unit = span.saturating_mul(2).saturating_add(1);
        Self {
            span,
            unit,
            held: unit.saturating_mul(HELD_UNITS).min(MOST_HELD),
        }
    }
}

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
    pub(super) scale: Scale,
}

impl Stage {
    /// Everything that yields is hard.
    pub(super) fn strict(scale: Scale) -> Self {
        Self {
            levels: [Part::Hard; 3],
            scale,
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
                Part::Hard | Part::Held(_) => units.saturating_mul(self.scale.held),
                Part::Least => units.saturating_mul(self.scale.unit),
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

    /// Of units missed those on levels that are held at some number of them.
    pub(super) fn held(&self, misses: [i64; 3]) -> [i64; 3] {
        let mut held = misses;
        for (slot, part) in held.iter_mut().zip(self.levels) {
            if !matches!(part, Part::Held(_)) {
                *slot = 0;
            }
        }
        held
    }

    /// Score given back for the units that held levels miss anyway.
    pub(super) fn given(&self) -> i64 {
        self.levels
            .iter()
            .map(|part| match part {
                Part::Held(most) => most.saturating_mul(self.scale.held),
                _ => 0,
            })
            .fold(0, i64::saturating_add)
    }

    /// Whether units missed are weighed at all.
    pub(super) fn weighs(&self) -> bool {
        self.least().is_some() || self.given() > 0
    }

    /// The lowest score of a week that misses so many units of the minimised level, at most.
    pub(super) fn lowest(&self, units: i64) -> i64 {
        -self.given() - self.scale.unit.saturating_mul(units) - self.scale.span
    }

    /// Fewest units missed on the minimised level that a bound leaves open.
    pub(super) fn least_units(&self, bound: i64) -> i64 {
        let lack = self.lowest(0).saturating_sub(bound);
        if lack <= 0 {
            0
        } else {
            // Rounded up: a part of a unit is missed as a whole one.
            (lack - 1) / self.scale.unit + 1
        }
    }
}
