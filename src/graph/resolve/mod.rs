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

mod finish;
mod numbers;

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
                number: 0,
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
}
