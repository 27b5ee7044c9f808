//! What an exercise with constraints on top is, and whether they can stand together.

use crate::graph::{Bits, Body, Graph};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Axis, Constraint, Holds};

use super::{Meant, Misread, Naming};

/// One movement: a root with all its constraints, unset values included.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Movement {
    pub(crate) root: usize,
    pub(crate) constraints: Bits,
}

/// The body of a listed exercise that is done alone.
pub(super) fn body_of(graph: &Graph, exercise: usize) -> Option<&Body> {
    let listed = graph.exercises.get(exercise)?;
    let alone = !listed.is_complex();
    listed
        .pieces
        .first()
        .filter(|_| alone)
        .map(|piece| &piece.body)
}

/// Constraints that a root has not.
pub(crate) fn beyond_root(graph: &Graph, movement: &Movement) -> Bits {
    let own = body_of(graph, movement.root).map(|body| &body.constraints);
    let all = movement.constraints.iter();
    all.filter(|at| own.is_none_or(|own| !own.has(*at)))
        .collect()
}

/// A constraint with its axis and the axis' number.
fn on_axis<'a>(
    pack: &'a Pack,
    graph: &Graph,
    at: usize,
) -> Option<(usize, &'a Axis, &'a Constraint)> {
    let id = graph.constraints.get(at)?;
    pack.axes
        .values()
        .enumerate()
        .find_map(|(number, axis)| Some((number, axis, axis.constraints.get(id)?)))
}

/// The listed exercise, done alone, that a movement varies least: it has nothing that the movement
/// has not, but for what a root has. The one that shares most constraints; of equals the one with
/// the fewest strong ones, then the one that departs most, then the first by id.
pub(crate) fn nearest_listed(graph: &Graph, movement: &Movement) -> usize {
    let wanted = beyond_root(graph, movement);
    let nature = body_of(graph, movement.root).map(|body| &body.constraints);
    let fits = (0..graph.exercises.len()).filter_map(|at| {
        let body = body_of(graph, at).filter(|body| body.root == movement.root)?;
        let by_nature = |held: usize| nature.is_some_and(|nature| nature.has(held));
        let mut own = body.constraints.iter();
        let within = own.all(|held| wanted.has(held) || by_nature(held));
        let shared = body.constraints.shared(&wanted).len();
        let key = (shared, usize::MAX - body.strong.len(), body.departure);
        within.then_some((std::cmp::Reverse(key), at))
    });
    fits.min().map_or(movement.root, |(_, at)| at)
}

/// Puts a constraint in; on an axis that holds one it takes the place of the other.
pub(super) fn put(pack: &Pack, graph: &Graph, held: &mut Bits, at: usize) {
    if let Some(other) = same_axis(pack, graph, held, at) {
        held.remove(other);
    }
    held.insert(at);
}

/// What stands on the axis of a constraint, where that holds one.
fn same_axis(pack: &Pack, graph: &Graph, held: &Bits, at: usize) -> Option<usize> {
    let (_, axis, _) = on_axis(pack, graph, at)?;
    let one = axis.holds == Holds::One;
    held.iter().find(|other| {
        let id = graph.constraints.get(*other);
        one && id.is_some_and(|id| axis.constraints.contains_key(id))
    })
}

impl Naming<'_> {
    /// The movements of a listed exercise, with how often each is done.
    pub(super) fn movements(&self, exercise: usize) -> Vec<(Movement, u8)> {
        let pieces = self.graph.exercises.get(exercise).map(|held| &held.pieces);
        let all = pieces.into_iter().flatten().map(|piece| {
            let movement = Movement {
                root: piece.body.root,
                constraints: piece.body.constraints.clone(),
            };
            (movement, u8::try_from(piece.reps).unwrap_or(1))
        });
        all.collect()
    }

    /// A listed exercise, done alone, with one constraint more; none where that cannot stand, is
    /// listed itself or changes nothing.
    pub(crate) fn varied(&self, exercise: usize, constraint: usize) -> Option<Movement> {
        body_of(self.graph, exercise).filter(|body| !body.constraints.has(constraint))?;
        let (own, _) = self.movements(exercise).pop()?;
        let made = self.with(&own, constraint).ok()?;
        self.stands(&made).ok()?;
        match self.listed_or_made(made) {
            Meant::Made(made) => Some(made),
            Meant::Listed(_) | Meant::Round(_) => None,
        }
    }

    /// What a listed exercise is with constraints that were said of it; some that it has may be said
    /// by its name. Said of a complex, they are said of each of its movements that they can be said of.
    ///
    /// # Errors
    ///
    /// Which two exclude each other, or which constraint the exercise has no place for.
    pub(super) fn settle(
        &self,
        exercise: usize,
        by_name: &[usize],
        said: &[usize],
    ) -> Result<Meant, Misread> {
        self.none_twice(&[by_name, said].concat())?;
        if said.is_empty() {
            return Ok(Meant::Listed(exercise));
        }
        let complex = body_of(self.graph, exercise).is_none();
        let mut round = Vec::new();
        let mut unplaced: Vec<usize> = said.to_vec();
        let mut elsewhere = None;
        for (movement, reps) in self.movements(exercise) {
            let mut now = movement;
            for at in said {
                match self.with(&now, *at) {
                    Ok(next) => {
                        now = next;
                        unplaced.retain(|left| left != at);
                    }
                    Err(wrong @ Misread::Elsewhere { .. }) if complex => elsewhere = Some(wrong),
                    Err(wrong) => return Err(wrong),
                }
            }
            self.stands(&now)?;
            round.push((now, reps));
        }
        match (round.pop(), elsewhere) {
            (_, Some(wrong)) if !unplaced.is_empty() => Err(wrong),
            (Some((only, _)), _) if !complex => Ok(self.listed_or_made(only)),
            (Some(last), _) => {
                round.push(last);
                Ok(self.round_of(round))
            }
            (None, _) => Ok(Meant::Listed(exercise)),
        }
    }

    /// Of one axis that holds one value only one may be said.
    fn none_twice(&self, said: &[usize]) -> Result<(), Misread> {
        for (place, second) in said.iter().enumerate() {
            let before: Bits = said.iter().take(place).copied().collect();
            let first = same_axis(self.pack, self.graph, &before, *second);
            if let Some(first) = first.filter(|first| first != second) {
                return Err(self.excludes(first, *second));
            }
        }
        Ok(())
    }

    fn excludes(&self, first: usize, second: usize) -> Misread {
        Misread::Excludes { first, second }
    }

    /// A movement with one more constraint.
    fn with(&self, movement: &Movement, at: usize) -> Result<Movement, Misread> {
        let beyond = beyond_root(self.graph, movement);
        let other = same_axis(self.pack, self.graph, &movement.constraints, at);
        if let Some(other) = other.filter(|other| *other != at && beyond.has(*other)) {
            let unset = on_axis(self.pack, self.graph, other)
                .and_then(|(_, axis, _)| axis.unset.as_ref())
                .and_then(|id| self.graph.constraints.find(id.as_str()));
            if unset != Some(other) {
                return Err(self.excludes(other, at));
            }
        }
        if let Some((_, _, held)) = on_axis(self.pack, self.graph, at) {
            let there = self.root_stages(movement.root);
            let during = self.stages(held.during.iter().map(|id| id.as_str()));
            if !during.is_empty() && !during.meets(&there) {
                return Err(Misread::Elsewhere {
                    constraint: at,
                    exercise: movement.root,
                });
            }
        }
        let mut constraints = movement.constraints.clone();
        put(self.pack, self.graph, &mut constraints, at);
        Ok(Movement {
            root: movement.root,
            constraints,
        })
    }

    /// Whether what a movement has beyond its root can stand together.
    pub(super) fn stands(&self, movement: &Movement) -> Result<(), Misread> {
        let beyond = beyond_root(self.graph, movement);
        for at in beyond.iter() {
            let Some((_, _, held)) = on_axis(self.pack, self.graph, at) else {
                continue;
            };
            let barred = held.not_with.iter();
            let barred = barred.filter_map(|id| self.graph.constraints.find(id.as_str()));
            for other in barred {
                if movement.constraints.has(other) {
                    return Err(self.excludes(at.min(other), at.max(other)));
                }
            }
            let during = self.stages(held.during.iter().map(|id| id.as_str()));
            let mut left = during.shared(&self.root_stages(movement.root));
            let happens = !left.is_empty();
            for other in movement.constraints.iter().filter(|other| *other != at) {
                let cuts = on_axis(self.pack, self.graph, other).map(|(_, _, held)| &held.cuts);
                let cuts = cuts.into_iter().flatten().map(|id| id.as_str());
                for stage in self.stages(cuts).iter() {
                    left.remove(stage);
                }
                if happens && left.is_empty() {
                    return Err(self.excludes(at.min(other), at.max(other)));
                }
            }
        }
        Ok(())
    }

    fn stages<'s>(&self, ids: impl Iterator<Item = &'s str>) -> Bits {
        ids.filter_map(|id| self.graph.stages.find(id)).collect()
    }

    /// The stages of a root's skills.
    fn root_stages(&self, root: usize) -> Bits {
        let skills = body_of(self.graph, root).map(|body| &body.skills);
        let all = skills.into_iter().flat_map(Bits::iter);
        all.filter_map(|skill| self.graph.skill_stages.get(skill))
            .flat_map(Bits::iter)
            .collect()
    }

    /// The listed exercise that is just this movement, or one that nobody listed.
    pub(super) fn listed_or_made(&self, movement: Movement) -> Meant {
        let at = nearest_listed(self.graph, &movement);
        let same =
            body_of(self.graph, at).is_some_and(|body| body.constraints == movement.constraints);
        if same {
            Meant::Listed(at)
        } else {
            Meant::Made(movement)
        }
    }

    /// The listed complex that is just these movements, or one that nobody listed.
    pub(super) fn round_of(&self, round: Vec<(Movement, u8)>) -> Meant {
        let all = 0..self.graph.exercises.len();
        let mut same = all.filter(|at| {
            let listed = self.graph.exercises.get(*at);
            listed.is_some_and(|held| held.is_complex()) && self.movements(*at) == round
        });
        same.next().map_or(Meant::Round(round), Meant::Listed)
    }
}
