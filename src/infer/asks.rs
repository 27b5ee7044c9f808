//! What an exercise asks of the case: equipment, skills, what the body allows.

use crate::base::{At, ConstraintId, ExerciseId};
use crate::graph::Exercise;
use crate::rules::vocab::Condition;

use super::Setting;

/// Who asks the case for something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Asks<'a> {
    /// An exercise, for itself and all that comes from it.
    Exercise(&'a At<ExerciseId>),
    /// A constraint that an exercise has.
    Constraint(&'a At<ConstraintId>),
}

impl<'a> Setting<'a> {
    /// Everything that an exercise asks of the case, with who asks: its components in turn, each with
    /// its ancestors and its constraints, then itself where it is a complex.
    fn conditions(&self, exercise: &Exercise) -> Vec<(Asks<'a>, &'a Condition)> {
        let mut all = Vec::new();
        for piece in &exercise.pieces {
            for id in piece
                .body
                .line
                .iter()
                .filter_map(|at| self.graph.ids.get(*at))
            {
                let root = self.pack.roots.get_key_value(id);
                let root = root.map(|(id, root)| (id, root.asks.as_ref()));
                let variation = self.pack.variations.get_key_value(id);
                let variation = variation.map(|(id, variation)| (id, variation.asks.as_ref()));
                if let Some((id, Some(asks))) = root.or(variation) {
                    all.push((Asks::Exercise(id), asks));
                }
            }
            for axis in self.pack.axes.values() {
                for (id, constraint) in &axis.constraints {
                    let held = self
                        .graph
                        .constraints
                        .find(id.as_str())
                        .is_some_and(|at| piece.body.constraints.has(at));
                    if let (true, Some(asks)) = (held, &constraint.asks) {
                        all.push((Asks::Constraint(id), asks));
                    }
                }
            }
        }
        if let Some((id, complex)) = self.pack.complexes.get_key_value(&exercise.id) {
            all.extend(complex.asks.as_ref().map(|asks| (Asks::Exercise(id), asks)));
        }
        all
    }

    /// Whether the case has all that an exercise asks for.
    pub(super) fn asks(&self, exercise: &Exercise) -> bool {
        self.conditions(exercise)
            .into_iter()
            .all(|(_, condition)| self.holds(condition) == Some(true))
    }

    /// Who asks the case for something that is not true in it, each once.
    pub(crate) fn asks_in_vain(&self, at: usize) -> Vec<Asks<'a>> {
        let Some(exercise) = self.graph.exercises.get(at) else {
            return Vec::new();
        };
        let mut all: Vec<Asks<'a>> = self
            .conditions(exercise)
            .into_iter()
            .filter(|(_, condition)| self.reading().holds(condition) != Some(true))
            .map(|(asks, _)| asks)
            .collect();
        all.sort();
        all.dedup();
        all
    }
}
