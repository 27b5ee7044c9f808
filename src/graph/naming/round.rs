//! Rounds: movements done without putting the bar down, and what listed complex they are.

use super::movement::Part;
use super::read::Heard;
use super::settle::Movement;
use super::token::{Token, count};
use super::{Meant, Misread, Naming};

/// Movements in order, with how often each is done where that is written. There may be other counts
/// than movements only where the text is a single movement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Round {
    movements: Vec<Movement>,
    counts: Vec<Option<u8>>,
}

impl Round {
    /// Whether nothing is written of how often.
    fn uncounted(&self) -> bool {
        self.counts.iter().all(Option::is_none)
    }

    /// How often each is done: once where nothing is written, or as often as `listed` says.
    fn reps(&self, listed: Option<&[u8]>) -> Vec<u8> {
        let by_list = listed.filter(|listed| listed.len() == self.counts.len());
        let all = self.counts.iter().enumerate().map(|(at, count)| {
            let usual = by_list.and_then(|listed| listed.get(at)).copied();
            count.or(usual).unwrap_or(1)
        });
        all.collect()
    }
}

/// Movements with their counts, as they are written.
pub(super) struct Written {
    pub(super) parts: Vec<(Part, Option<u8>)>,
    /// Counts that stand together, as `2+1`, with the first word of them.
    pub(super) together: Vec<u8>,
    pub(super) heard: Vec<Heard>,
    pub(super) words: Vec<Token>,
}

impl Naming<'_> {
    /// The movements of a text with their counts; those of a complex one by one.
    pub(super) fn round_of_parts(&self, written: &Written) -> Result<Round, Misread> {
        let mut movements = Vec::new();
        let mut counts = Vec::new();
        for (part, times) in &written.parts {
            let all = match &part.meant {
                Meant::Listed(at) => self.movements(*at),
                Meant::Made(made) => vec![(made.clone(), 1)],
                Meant::Round(all) => all.clone(),
            };
            let several = all.len() > 1;
            if several && (times.is_some() || !written.together.is_empty()) {
                return Err(written.wrong_count());
            }
            for (movement, reps) in all {
                movements.push(movement);
                counts.push(if several { Some(reps) } else { *times });
            }
        }
        if !written.together.is_empty() {
            if written.parts.iter().any(|(_, times)| times.is_some()) {
                return Err(written.wrong_count());
            }
            counts = written.together.iter().copied().map(Some).collect();
        }
        Ok(Round {
            movements: self.behind_others(movements),
            counts,
        })
    }

    /// What comes behind a first movement that brings the bar is not taken from elsewhere.
    fn behind_others(&self, mut movements: Vec<Movement>) -> Vec<Movement> {
        let Some((first, rest)) = movements.split_first_mut() else {
            return movements;
        };
        let all = self.pack.axes.values().flat_map(|axis| &axis.constraints);
        for (id, held) in all {
            let Some(behind) = &held.behind_others else {
                continue;
            };
            let find = |id: &str| self.graph.constraints.find(id);
            let (Some(alone), Some(behind)) = (find(id.as_str()), find(behind.as_str())) else {
                continue;
            };
            if first.constraints.has(alone) {
                continue;
            }
            for movement in rest.iter_mut() {
                if movement.constraints.remove(alone) {
                    movement.constraints.insert(behind);
                }
            }
        }
        movements
    }

    /// What a round means: the complex with such a name, else the one with just these movements.
    pub(super) fn meant(&self, round: &Round, written: &Written) -> Result<Meant, Misread> {
        let named = self.lexicon.aliases.iter().find(|alias| {
            let listed: Vec<u8> = self.reps_of(alias.exercise);
            let same = if round.uncounted() {
                alias.round.uncounted()
            } else {
                alias.round.reps(Some(&listed)) == round.reps(None)
            };
            same && alias.round.movements == round.movements
        });
        if let Some(alias) = named {
            return Ok(Meant::Listed(alias.exercise));
        }
        if round.counts.len() != round.movements.len() || round.movements.len() < 2 {
            return Err(written.wrong_count());
        }
        for movement in &round.movements {
            self.stands(movement)?;
        }
        let reps = round.reps(None);
        let all: Vec<(Movement, u8)> = round.movements.iter().cloned().zip(reps).collect();
        let meant = self.round_of(all);
        if matches!(meant, Meant::Listed(_)) || !round.uncounted() {
            return Ok(meant);
        }
        // Nothing is said of how often: the only complex of these movements is meant.
        let listed = (0..self.graph.exercises.len()).filter(|at| {
            let own = self.movements(*at);
            own.len() > 1
                && own
                    .iter()
                    .map(|(movement, _)| movement)
                    .eq(&round.movements)
        });
        let mut listed: Vec<Meant> = listed.map(Meant::Listed).collect();
        match (listed.pop(), listed.is_empty()) {
            (Some(only), true) => Ok(only),
            (Some(last), false) => {
                listed.push(last);
                Err(Misread::Between(listed))
            }
            (None, _) => Ok(meant),
        }
    }

    fn reps_of(&self, exercise: usize) -> Vec<u8> {
        self.movements(exercise)
            .iter()
            .map(|(_, reps)| *reps)
            .collect()
    }
}

impl Written {
    /// That counts and movements do not go together, at the first count.
    fn wrong_count(&self) -> Misread {
        let first = self.words.iter().find(|word| count(word).is_some());
        first.map_or(Misread::Empty, |word| Misread::Count {
            word: word.text.clone(),
            from: word.from,
        })
    }
}
