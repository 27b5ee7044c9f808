//! Sets of candidates of a day of which one may stand at most: the tight form of what excludes what.

use std::collections::BTreeSet;

use crate::graph::Bits;
use crate::plan::model::DayModel;

/// Most sets of candidates that exclude each other.
const MOST_ONES: usize = 60;

/// Sets of candidates any two of which exclude each other, until each such pair is in one.
pub(super) fn ones(model: &DayModel, conflicts: &[Bits]) -> Vec<Bits> {
    let exercise = |at: usize| model.candidates.get(at).map(|held| held.exercise);
    let count = model.candidates.len();
    let apart = |one: usize, other: usize| -> bool {
        exercise(one) == exercise(other) || conflicts.get(one).is_some_and(|bits| bits.has(other))
    };
    let mut covered: BTreeSet<(usize, usize)> = BTreeSet::new();
    let mut sets = Vec::new();
    for one in 0..count {
        for other in one + 1..count {
            if !apart(one, other) || covered.contains(&(one, other)) {
                continue;
            }
            let mut members = vec![one, other];
            for more in 0..count {
                if !members.contains(&more) && members.iter().all(|held| apart(*held, more)) {
                    members.push(more);
                }
            }
            members.sort_unstable();
            for (at, low) in members.iter().enumerate() {
                covered.extend(members.iter().skip(at + 1).map(|high| (*low, *high)));
            }
            sets.push(members.into_iter().collect());
            if sets.len() == MOST_ONES {
                return sets;
            }
        }
    }
    sets
}
