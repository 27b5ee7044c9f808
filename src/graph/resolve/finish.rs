//! Exercises laid out for the layers above: single ones, and complexes from their components.

use super::*;

impl Builder<'_> {
    pub(super) fn finish(mut self) -> Result<Graph, Vec<Diagnostic>> {
        let mut made = Vec::new();
        for at in 0..self.graph.ids.len() {
            let Some(id) = self.graph.ids.get(at).cloned() else {
                continue;
            };
            let place = self.place_of(at);
            let exercise = if let Some(root) = self.pack.roots.get(&id) {
                let competition = root.form == Form::Competition;
                self.single(at, id, place, &root.names, Kind::Root { competition })
            } else if let Some(variation) = self.pack.variations.get(&id) {
                self.single(at, id, place, &variation.names, Kind::Variation)
            } else if let Some(complex) = self.pack.complexes.get(&id) {
                self.complex(at, id, place, complex)
            } else {
                None
            };
            made.extend(exercise);
        }
        if made.len() != self.graph.ids.len() && self.wrong.is_empty() {
            self.refuse(&Place::unknown(), "an exercise leads to no root".to_owned());
        }
        if !self.wrong.is_empty() {
            return Err(self.wrong);
        }
        let pieces = made.iter_mut().flat_map(|exercise| &mut exercise.pieces);
        for (number, piece) in pieces.enumerate() {
            piece.body.number = number;
        }
        self.graph.exercises = made;
        Ok(self.graph)
    }

    fn roles_of(&self, line: &[usize]) -> Vec<crate::base::RoleId> {
        let stated = line.iter().find_map(|at| {
            let id = self.graph.ids.get(*at)?;
            match self.pack.roots.get(id) {
                Some(root) => Some(&root.roles),
                None => self
                    .pack
                    .variations
                    .get(id)
                    .and_then(|variation| variation.roles.as_ref()),
            }
        });
        sorted_roles(stated.map_or(&[], Vec::as_slice))
    }

    fn single(
        &self,
        at: usize,
        id: ExerciseId,
        place: Place,
        names: &Names,
        kind: Kind,
    ) -> Option<Exercise> {
        let state = self.states.get(&at)?;
        let body = self.computed(state);
        Some(Exercise {
            name: name_of(names, &id),
            id,
            place,
            kind,
            roles: self.roles_of(&body.line),
            trains: body.trains.clone(),
            stress: body.stress.clone(),
            departure: body.departure,
            skills: body.skills.clone(),
            stands_under: body.line.get(1).copied().unwrap_or(at),
            pieces: vec![Piece { body, reps: 1 }],
        })
    }

    fn complex(
        &mut self,
        at: usize,
        id: ExerciseId,
        place: Place,
        complex: &Complex,
    ) -> Option<Exercise> {
        let mut pieces = Vec::new();
        for component in &complex.components {
            let state = self
                .graph
                .ids
                .find(component.exercise.as_str())
                .and_then(|at| self.states.get(&at))
                .cloned();
            let Some(mut state) = state else {
                self.refuse(
                    &component.place,
                    format!("`{}` can't be a component", component.exercise.value),
                );
                return None;
            };
            if !component.with.is_empty() {
                let mut constraints = std::mem::take(&mut state.body.constraints);
                let before = constraints.clone();
                self.add(&mut constraints, &component.with, &component.place);
                // What changes nothing leaves the exercise as it is listed, with what it states.
                if constraints != before {
                    state.stated = None;
                }
                state.body.constraints = constraints;
            }
            pieces.push(Piece {
                body: self.computed(&state),
                reps: i64::from(component.reps.value),
            });
        }
        let most = |of: fn(&Body) -> &Vec<i64>, len: usize| -> Vec<i64> {
            (0..len)
                .map(|slot| {
                    pieces
                        .iter()
                        .filter_map(|piece| of(&piece.body).get(slot).copied())
                        .max()
                        .unwrap_or(0)
                })
                .collect()
        };
        let trains = match &complex.trains {
            Some(stated) => self.points(
                &self.graph.qualities,
                stated.iter().map(|(id, n)| (id.as_str(), (*n).max(0))),
            ),
            None => most(|body| &body.trains, self.graph.qualities.len()),
        };
        let stress = match &complex.stress {
            Some(stated) => self.points(
                &self.graph.stresses,
                stated.iter().map(|(id, n)| (id.as_str(), (*n).max(0))),
            ),
            None => most(|body| &body.stress, self.graph.stresses.len()),
        };
        let reps: i64 = pieces.iter().map(|piece| piece.reps).sum();
        let departure = pieces
            .iter()
            .map(|piece| piece.body.departure * piece.reps)
            .sum::<i64>()
            / reps.max(1);
        let skills = pieces
            .iter()
            .flat_map(|piece| piece.body.skills.iter().collect::<Vec<_>>())
            .collect();
        Some(Exercise {
            name: name_of(&complex.names, &id),
            id,
            place,
            kind: Kind::Complex,
            roles: sorted_roles(&complex.roles),
            trains,
            stress,
            departure,
            skills,
            stands_under: pieces.first().map_or(at, |piece| piece.body.exercise),
            pieces,
        })
    }
}
