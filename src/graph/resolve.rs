//! From a checked pack to computed exercises.
//!
//! Variations are taken in the order of the graph, parents first. The reader
//! has refused circles and dangling ids before; what it would have let through
//! is still an error here, never a guess.

use std::collections::BTreeMap;

use petgraph::algo::toposort;
use petgraph::graphmap::DiGraphMap;

use crate::base::{
    At, CauseId, Code, ConstraintId, Diagnostic, ExerciseId, Place, QualityId, SkillId, StageId,
    StressId,
};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Complex, Constraint, Form, Holds, Names, Root, Variation};

use super::body::{Body, Exercise, Kind, Piece, sorted_roles};
use super::{Bits, Index};

/// All exercises of a pack with the indices that their numbers are kept by.
#[derive(Debug, Clone)]
pub(crate) struct Graph {
    pub(crate) skills: Index<SkillId>,
    pub(crate) stages: Index<StageId>,
    pub(crate) constraints: Index<ConstraintId>,
    pub(crate) causes: Index<CauseId>,
    pub(crate) qualities: Index<QualityId>,
    pub(crate) stresses: Index<StressId>,
    pub(crate) ids: Index<ExerciseId>,
    /// By index of `ids`.
    pub(crate) exercises: Vec<Exercise>,
    /// Stages of each skill.
    pub(crate) skill_stages: Vec<Bits>,
}

/// A constraint with its axis, by index.
struct Value<'a> {
    constraint: &'a Constraint,
    axis: usize,
    one: bool,
    unset: Option<usize>,
}

/// A constraint with its axis, before there are indices: the axis' number, whether it holds one value,
/// and the value where none is set.
type OnAxis<'a> = (usize, bool, Option<&'a At<ConstraintId>>, &'a Constraint);

/// What is known of an exercise on the way down from its root.
#[derive(Clone)]
struct State<'a> {
    body: Body,
    root: &'a Root,
    /// Constraints of the nearest that states quality points, and what it states.
    trains_from: (Bits, Vec<i64>),
    stress_from: (Bits, Vec<i64>),
    /// Own effects of the exercise and its ancestors.
    own: Vec<(usize, i64)>,
    root_constraints: Bits,
    stated: Option<i64>,
}

struct Builder<'a> {
    pack: &'a Pack,
    graph: Graph,
    values: Vec<Value<'a>>,
    states: BTreeMap<usize, State<'a>>,
    /// For each root, stated highest loads with the departing constraints they hold for.
    stated: Vec<(usize, Bits, i64)>,
    wrong: Vec<Diagnostic>,
}

/// Computes every exercise of a pack.
///
/// # Errors
///
/// What the checks of reading would have refused: circles, dangling ids, dropping what is not inherited.
pub(crate) fn build(pack: &Pack) -> Result<Graph, Vec<Diagnostic>> {
    let mut builder = Builder::new(pack);
    builder.roots();
    builder.variations();
    builder.collect_stated();
    builder.finish()
}

fn name_of(names: &Names, id: &ExerciseId) -> String {
    names
        .en
        .first()
        .map_or_else(|| id.as_str().replace('-', " "), |name| name.value.clone())
}

impl<'a> Builder<'a> {
    fn new(pack: &'a Pack) -> Self {
        let constraint_map: BTreeMap<&ConstraintId, OnAxis<'a>> = pack
            .axes
            .values()
            .enumerate()
            .flat_map(|(axis, held)| {
                held.constraints.iter().map(move |(id, constraint)| {
                    (
                        &id.value,
                        (
                            axis,
                            held.holds == Holds::One,
                            held.unset.as_ref(),
                            constraint,
                        ),
                    )
                })
            })
            .collect();
        let constraints = Index::new(constraint_map.keys().map(|id| (*id).clone()));
        let values = constraint_map
            .values()
            .map(|(axis, one, unset, constraint)| Value {
                constraint,
                axis: *axis,
                one: *one,
                unset: unset.and_then(|id| constraints.find(id.as_str())),
            })
            .collect();
        let ids = Index::new(
            pack.roots
                .keys()
                .chain(pack.variations.keys())
                .chain(pack.complexes.keys())
                .map(|id| id.value.clone()),
        );
        let skills = Index::new(pack.skills.keys().map(|id| id.value.clone()));
        let stages = Index::new(
            pack.skills
                .values()
                .flat_map(|skill| skill.stages.iter().map(|stage| stage.value.clone())),
        );
        let skill_stages = pack
            .skills
            .values()
            .map(|skill| {
                skill
                    .stages
                    .iter()
                    .filter_map(|stage| stages.find(stage.as_str()))
                    .collect()
            })
            .collect();
        let graph = Graph {
            skills,
            stages,
            constraints,
            causes: Index::new(
                pack.movement_causes
                    .keys()
                    .chain(pack.capacity_causes.keys())
                    .map(|id| id.value.clone()),
            ),
            qualities: Index::new(pack.qualities.keys().map(|id| id.value.clone())),
            stresses: Index::new(pack.stresses.keys().map(|id| id.value.clone())),
            ids,
            exercises: Vec::new(),
            skill_stages,
        };
        Self {
            pack,
            graph,
            values,
            states: BTreeMap::new(),
            stated: Vec::new(),
            wrong: Vec::new(),
        }
    }

    fn refuse(&mut self, place: &Place, what: String) {
        self.wrong.push(Diagnostic::new(
            Code::Contradiction,
            place.clone(),
            what,
            "mend the exercise; the checks of the rule files say more",
        ));
    }

    fn roots(&mut self) {
        for (id, root) in &self.pack.roots {
            let Some(at) = self.graph.ids.find(id.as_str()) else {
                continue;
            };
            let mut constraints: Bits = self
                .values
                .iter()
                .enumerate()
                .filter(|(here, value)| value.unset == Some(*here))
                .map(|(here, _)| here)
                .collect();
            self.add(&mut constraints, &root.with, &id.place);
            let skills: Bits = root
                .skills
                .iter()
                .filter_map(|skill| self.graph.skills.find(skill.as_str()))
                .collect();
            let reference = root
                .reference
                .as_ref()
                .map(|id| id.value.clone())
                .or_else(|| {
                    root.skills
                        .first()
                        .and_then(|skill| self.pack.skills.get(&skill.value))
                        .and_then(|skill| skill.reference.as_ref())
                        .map(|id| id.value.clone())
                });
            let trains = self.points(
                &self.graph.qualities,
                root.trains.iter().map(|(id, n)| (id.as_str(), *n)),
            );
            let stress = self.points(
                &self.graph.stresses,
                root.stress.iter().map(|(id, n)| (id.as_str(), *n)),
            );
            let own = self.effects_of(root.effect.iter().map(|(id, n)| (id.as_str(), n.value)));
            // Only a stated figure is no estimate, and only one caps what varies the root.
            let stated = root
                .highest
                .as_ref()
                .map(|stated| i64::from(stated.percent.value));
            let body = Body {
                exercise: at,
                root: at,
                line: vec![at],
                skills,
                constraints: constraints.clone(),
                departing: Bits::default(),
                strong: Bits::default(),
                stages: Bits::default(),
                departure: 0,
                trains: Vec::new(),
                stress: Vec::new(),
                highest: 0,
                estimate: false,
                reference,
                effects: Vec::new(),
            };
            let state = State {
                body,
                root,
                trains_from: (constraints.clone(), trains),
                stress_from: (constraints.clone(), stress),
                own,
                root_constraints: constraints,
                stated,
            };
            self.states.insert(at, state);
        }
    }

    fn variations(&mut self) {
        let mut edges = DiGraphMap::<usize, ()>::new();
        for (id, variation) in &self.pack.variations {
            if let Some(at) = self.graph.ids.find(id.as_str()) {
                edges.add_node(at);
                if let Some(parent) = self.graph.ids.find(variation.from.as_str()) {
                    edges.add_edge(parent, at, ());
                }
            }
        }
        let order = match toposort(&edges, None) {
            Ok(order) => order,
            Err(circle) => {
                let place = self.place_of(circle.node_id());
                self.refuse(&place, "the exercise is its own ancestor".to_owned());
                return;
            }
        };
        for at in order {
            let Some(id) = self.graph.ids.get(at).cloned() else {
                continue;
            };
            let Some((key, variation)) = self.pack.variations.get_key_value(&id) else {
                continue;
            };
            self.variation(at, &key.place, variation);
        }
    }

    fn variation(&mut self, at: usize, place: &Place, variation: &'a Variation) {
        let parent = self
            .graph
            .ids
            .find(variation.from.as_str())
            .and_then(|parent| self.states.get(&parent))
            .cloned();
        let Some(mut state) = parent else {
            self.refuse(
                place,
                format!("`{}` leads to no root", variation.from.value),
            );
            return;
        };
        state.body.exercise = at;
        state.body.line.insert(0, at);
        for id in &variation.drops {
            self.drop(&mut state.body.constraints, id);
        }
        let mut constraints = std::mem::take(&mut state.body.constraints);
        self.add(&mut constraints, &variation.with, place);
        state.body.constraints = constraints;
        if let Some(reference) = &variation.reference {
            state.body.reference = Some(reference.value.clone());
        }
        if let Some(trains) = &variation.trains {
            let points = self.points(
                &self.graph.qualities,
                trains.iter().map(|(id, n)| (id.as_str(), *n)),
            );
            state.trains_from = (state.body.constraints.clone(), points);
        }
        if let Some(stress) = &variation.stress {
            let points = self.points(
                &self.graph.stresses,
                stress.iter().map(|(id, n)| (id.as_str(), *n)),
            );
            state.stress_from = (state.body.constraints.clone(), points);
        }
        state.own.extend(
            self.effects_of(
                variation
                    .effect
                    .iter()
                    .map(|(id, n)| (id.as_str(), n.value)),
            ),
        );
        state.stated = variation
            .highest
            .as_ref()
            .map(|stated| i64::from(stated.percent.value));
        self.states.insert(at, state);
    }

    fn points<'b, I: Ord + AsRef<str>>(
        &self,
        index: &Index<I>,
        stated: impl Iterator<Item = (&'b str, i8)>,
    ) -> Vec<i64> {
        let mut points = vec![0; index.len()];
        for (id, n) in stated {
            if let Some(slot) = index.find(id).and_then(|at| points.get_mut(at)) {
                *slot = i64::from(n);
            }
        }
        points
    }

    fn effects_of<'b>(&self, stated: impl Iterator<Item = (&'b str, i8)>) -> Vec<(usize, i64)> {
        stated
            .filter_map(|(id, n)| self.graph.causes.find(id).map(|at| (at, i64::from(n))))
            .collect()
    }

    fn add(&mut self, constraints: &mut Bits, with: &[At<ConstraintId>], place: &Place) {
        for id in with {
            let Some(at) = self.graph.constraints.find(id.as_str()) else {
                self.refuse(place, format!("`{}` is no constraint", id.value));
                continue;
            };
            let Some(value) = self.values.get(at) else {
                continue;
            };
            if value.one {
                let same: Vec<usize> = constraints
                    .iter()
                    .filter(|held| {
                        self.values
                            .get(*held)
                            .is_some_and(|other| other.axis == value.axis)
                    })
                    .collect();
                for held in same {
                    constraints.remove(held);
                }
            }
            constraints.insert(at);
        }
    }

    fn drop(&mut self, constraints: &mut Bits, id: &At<ConstraintId>) {
        let at = self.graph.constraints.find(id.as_str());
        let Some(at) = at.filter(|at| constraints.has(*at)) else {
            self.refuse(&id.place, format!("`{}` is not inherited", id.value));
            return;
        };
        constraints.remove(at);
        if let Some(unset) = self.values.get(at).and_then(|value| value.unset) {
            constraints.insert(unset);
        }
    }

    fn collect_stated(&mut self) {
        let mut stated = Vec::new();
        for state in self.states.values() {
            if let Some(percent) = state.stated {
                stated.push((
                    state.body.root,
                    self.departing(&state.body.constraints),
                    percent,
                ));
            }
        }
        self.stated = stated;
    }

    fn departing(&self, constraints: &Bits) -> Bits {
        constraints
            .iter()
            .filter(|at| {
                self.values
                    .get(*at)
                    .is_some_and(|v| v.constraint.departs > 0)
            })
            .collect()
    }

    /// Computes the numbers of a body from its constraints.
    fn computed(&self, state: &State<'_>) -> Body {
        let mut body = state.body.clone();
        body.departing = self.departing(&body.constraints);
        let held = || {
            body.constraints
                .iter()
                .filter_map(|at| self.values.get(at).map(|value| (at, value.constraint)))
        };
        body.strong = held().filter(|(_, c)| c.strong).map(|(at, _)| at).collect();
        body.departure = held().map(|(_, c)| i64::from(c.departs)).sum();
        let mut stages = Bits::default();
        for skill in body.skills.iter() {
            for stage in self
                .graph
                .skill_stages
                .get(skill)
                .into_iter()
                .flat_map(Bits::iter)
            {
                stages.insert(stage);
            }
        }
        for (_, constraint) in held() {
            for stage in &constraint.cuts {
                if let Some(at) = self.graph.stages.find(stage.as_str()) {
                    stages.remove(at);
                }
            }
        }
        body.trains = self.with_deltas(&state.trains_from, &body.constraints, |c| {
            self.points(
                &self.graph.qualities,
                c.trains.iter().map(|(id, n)| (id.as_str(), *n)),
            )
        });
        body.stress = self.with_deltas(&state.stress_from, &body.constraints, |c| {
            self.points(
                &self.graph.stresses,
                c.stress.iter().map(|(id, n)| (id.as_str(), *n)),
            )
        });
        body.effects = self.combined(&body.constraints, &state.own);
        match state.stated {
            Some(percent) => {
                body.highest = percent;
                body.estimate = false;
            }
            None => {
                body.highest = self.estimate(state, &body.departing);
                body.estimate = true;
            }
        }
        body.stages = stages;
        body
    }

    fn with_deltas(
        &self,
        from: &(Bits, Vec<i64>),
        now: &Bits,
        deltas: impl Fn(&Constraint) -> Vec<i64>,
    ) -> Vec<i64> {
        let mut points = from.1.clone();
        for (at, value) in self.values.iter().enumerate() {
            let sign = i64::from(now.has(at)) - i64::from(from.0.has(at));
            if sign != 0 {
                for (slot, delta) in points.iter_mut().zip(deltas(value.constraint)) {
                    *slot += sign * delta;
                }
            }
        }
        points.into_iter().map(|n| n.max(0)).collect()
    }

    /// Strongest help whole, second half, the rest nothing; all harm whole; in half points.
    fn combined(&self, constraints: &Bits, own: &[(usize, i64)]) -> Vec<i64> {
        let mut by_cause: Vec<Vec<i64>> = vec![Vec::new(); self.graph.causes.len()];
        let mut give = |cause: Option<usize>, n: i64| {
            if let Some(list) = cause.and_then(|at| by_cause.get_mut(at)) {
                list.push(n);
            }
        };
        for at in constraints.iter() {
            for (id, n) in self
                .values
                .get(at)
                .into_iter()
                .flat_map(|value| &value.constraint.effect)
            {
                give(self.graph.causes.find(id.as_str()), i64::from(n.value));
            }
        }
        for (cause, n) in own {
            give(Some(*cause), *n);
        }
        by_cause
            .into_iter()
            .map(|mut list| {
                list.sort_unstable_by(|a, b| b.cmp(a));
                let mut helps = list.iter().copied().filter(|n| *n > 0);
                let help = 2 * helps.next().unwrap_or(0) + helps.next().unwrap_or(0);
                let harm: i64 = list.iter().copied().filter(|n| *n < 0).sum();
                help + 2 * harm
            })
            .collect()
    }

    fn estimate(&self, state: &State<'_>, departing: &Bits) -> i64 {
        let root = state
            .root
            .highest
            .as_ref()
            .map_or(100, |stated| i128::from(stated.percent.value));
        let (mut product, mut divisor) = (root, 1i128);
        for at in state
            .body
            .constraints
            .iter()
            .filter(|at| !state.root_constraints.has(*at))
        {
            if let Some(percent) = self
                .values
                .get(at)
                .and_then(|value| value.constraint.load_percent.as_ref())
            {
                product = product.saturating_mul(i128::from(percent.value));
                divisor = divisor.saturating_mul(100);
            }
        }
        let computed = i64::try_from(product / divisor).unwrap_or(i64::MAX).max(1);
        self.stated
            .iter()
            .filter(|(root, held, _)| *root == state.body.root && held.within(departing))
            .map(|(_, _, percent)| *percent)
            .fold(computed, i64::min)
    }

    fn place_of(&self, at: usize) -> Place {
        let id = self.graph.ids.get(at);
        let key = id.and_then(|id| {
            self.pack
                .roots
                .get_key_value(id)
                .map(|(key, _)| key)
                .or_else(|| self.pack.variations.get_key_value(id).map(|(key, _)| key))
                .or_else(|| self.pack.complexes.get_key_value(id).map(|(key, _)| key))
        });
        key.map_or_else(Place::unknown, |key| key.place.clone())
    }

    fn finish(mut self) -> Result<Graph, Vec<Diagnostic>> {
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
