//! From a reading by index to one with ids, names and numbers.

use std::collections::BTreeMap;

use crate::base::{ConstraintId, ExerciseId, SkillId, StageId};
use crate::explain::entries::Called;
use crate::explain::glossary::{Glossary, Named};
use crate::graph::naming::{
    As, Heard, Meant, Misread as Wrong, Movement, Reading, added, beyond_root, name_of,
    nearest_listed,
};
use crate::graph::{Body, Exercise, Graph};
use crate::infer::{Pair, of_exercise};
use crate::plan::Basis;
use crate::rules::pack::Pack;

use super::{
    CauseEffect, HalfPoints, LoadLimit, MayBe, Misread, NamePiece, NameReading, NamedExercise,
    NamedPart, ReadAs, Repetitions, TextSpan, WrittenWord,
};

struct Told<'a> {
    pack: &'a Pack,
    graph: &'a Graph,
    glossary: &'a Glossary,
}

/// A reading with names and numbers; none where what was read could not be put beside the listed
/// exercises, which is a mistake of this library.
pub(crate) fn name_reading(
    pack: &Pack,
    graph: &Graph,
    glossary: &Glossary,
    text: &str,
    reading: &Reading,
) -> Option<NameReading> {
    let added = added(pack, graph, &reading.meant)?;
    let (grown, exercise) = (added.graph(), added.exercise);
    let told = Told {
        pack: added.pack(),
        graph: grown,
        glossary,
    };
    let listed = match &reading.meant {
        Meant::Listed(at) => graph.ids.get(*at).cloned(),
        _ => None,
    };
    let held = grown.exercises.get(exercise)?;
    let nearest = match &listed {
        Some(id) => Called::new(glossary, Named::Exercise, id),
        None => told.nearest(graph, held)?,
    };
    let names = Told {
        pack,
        graph,
        glossary,
    };
    Some(NameReading {
        text: text.to_owned(),
        pieces: names.pieces(text, &reading.heard),
        exercise: NamedExercise {
            name: held.name.clone(),
            nearest,
            skills: told.skills(held),
            parts: told.parts(&names, held, listed.as_ref()),
            effects: told.effects(held),
            departure: held.departure,
            load: told.load(held),
            listed,
        },
    })
}

/// Why a name was not read, in ids and names.
pub(crate) fn misread(pack: &Pack, graph: &Graph, glossary: &Glossary, wrong: &Wrong) -> Misread {
    let told = Told {
        pack,
        graph,
        glossary,
    };
    let exercises = |all: &[usize]| all.iter().filter_map(|at| told.exercise(*at)).collect();
    let word = |text: &str, from: usize| WrittenWord {
        text: text.to_owned(),
        from,
    };
    match wrong {
        Wrong::Empty => Misread::Empty,
        Wrong::TooLong => Misread::TooLong,
        Wrong::Unknown {
            word: text,
            from,
            nearest,
        } => Misread::UnknownWord {
            word: word(text, *from),
            nearest: nearest.clone(),
        },
        Wrong::LeftOver { word: text, from } => Misread::LeftOver {
            word: word(text, *from),
        },
        Wrong::NoExercise(all) => Misread::NoExercise {
            could_be: exercises(all),
        },
        Wrong::Several(all) => Misread::Several {
            exercises: exercises(all),
        },
        Wrong::Between(all) => {
            let mut between: Vec<MayBe> = all.iter().map(|meant| told.may_be(meant)).collect();
            between.sort();
            Misread::Ambiguous { between }
        }
        Wrong::Excludes { first, second } => {
            match (told.constraint(*first), told.constraint(*second)) {
                (Some(first), Some(second)) => Misread::Excluded { first, second },
                _ => Misread::Empty,
            }
        }
        Wrong::Elsewhere {
            constraint,
            exercise,
        } => match (told.constraint(*constraint), told.exercise(*exercise)) {
            (Some(constraint), Some(exercise)) => Misread::Elsewhere {
                constraint,
                exercise,
            },
            _ => Misread::Empty,
        },
        Wrong::Count { word: text, from } => Misread::Count {
            word: word(text, *from),
        },
    }
}

impl Told<'_> {
    fn exercise(&self, at: usize) -> Option<Called<ExerciseId>> {
        let id = self.graph.ids.get(at)?;
        Some(Called::new(self.glossary, Named::Exercise, id))
    }

    fn constraint(&self, at: usize) -> Option<Called<ConstraintId>> {
        let id = self.graph.constraints.get(at)?;
        Some(Called::new(self.glossary, Named::Constraint, id))
    }

    fn may_be(&self, meant: &Meant) -> MayBe {
        let listed = match meant {
            Meant::Listed(at) => self.graph.ids.get(*at).cloned(),
            _ => None,
        };
        MayBe {
            name: name_of(self.pack, self.graph, meant),
            listed,
        }
    }

    /// The listed exercise nearest to the first movement of one that is not listed.
    fn nearest(&self, listed: &Graph, held: &Exercise) -> Option<Called<ExerciseId>> {
        let body = held.pieces.first().map(|piece| &piece.body)?;
        let root = self.graph.ids.get(body.root)?;
        let movement = Movement {
            root: listed.ids.find(root.as_str())?,
            constraints: body.constraints.clone(),
        };
        let id = listed.ids.get(nearest_listed(listed, &movement))?;
        Some(Called::new(self.glossary, Named::Exercise, id))
    }

    fn pieces(&self, text: &str, heard: &[Heard]) -> Vec<NamePiece> {
        let letters: Vec<char> = text.chars().collect();
        let written = |(from, to): &(usize, usize)| -> String {
            letters.get(*from..*to).unwrap_or_default().iter().collect()
        };
        let all = heard.iter().filter_map(|heard| {
            let words: Vec<String> = heard.spans.iter().map(written).collect();
            Some(NamePiece {
                text: words.join(" "),
                spans: heard
                    .spans
                    .iter()
                    .map(|(from, to)| TextSpan {
                        from: *from,
                        to: *to,
                    })
                    .collect(),
                read_as: match heard.read_as {
                    As::Exercise(at) => ReadAs::Exercise(self.exercise(at)?),
                    As::Constraint(at) => ReadAs::Constraint(self.constraint(at)?),
                    As::Count(number) => ReadAs::Count(Repetitions(number)),
                    As::Joins => ReadAs::Joins,
                    As::Nothing => ReadAs::Nothing,
                },
            })
        });
        all.collect()
    }

    fn skills(&self, held: &Exercise) -> Vec<SkillId> {
        let all = held.skills.iter();
        all.filter_map(|at| self.graph.skills.get(at).cloned())
            .collect()
    }

    /// The movements of an exercise; `names` knows the listed ones alone.
    fn parts(
        &self,
        names: &Told<'_>,
        held: &Exercise,
        listed: Option<&ExerciseId>,
    ) -> Vec<NamedPart> {
        let all = held.pieces.iter().filter_map(|piece| {
            let body = &piece.body;
            let root = self.graph.ids.get(body.root)?;
            let movement = Movement {
                root: names.graph.ids.find(root.as_str())?,
                constraints: body.constraints.clone(),
            };
            let at = nearest_listed(names.graph, &movement);
            let near = names.graph.exercises.get(at)?;
            let same = near
                .pieces
                .first()
                .is_some_and(|own| own.body.constraints == body.constraints);
            let id = match listed {
                Some(id) if !held.is_complex() => Some(id.clone()),
                _ => same.then(|| near.id.clone()),
            };
            let beyond = beyond_root(names.graph, &movement);
            let load = body.reference.as_ref().map(|of| LoadLimit {
                percent: body.highest,
                of: Called::new(self.glossary, Named::Reference, of),
                estimate: body.estimate,
            });
            let meant = if same {
                Meant::Listed(at)
            } else {
                Meant::Made(movement)
            };
            Some(NamedPart {
                name: name_of(names.pack, names.graph, &meant),
                listed: id,
                root: names.exercise(names.graph.ids.find(root.as_str())?)?,
                reps: Repetitions(u8::try_from(piece.reps).unwrap_or(u8::MAX)),
                constraints: beyond.iter().filter_map(|at| self.constraint(at)).collect(),
                stages: self.stages(body),
                departure: body.departure,
                load,
            })
        });
        all.collect()
    }

    /// Stages that are left, by skill and in order of time.
    fn stages(&self, body: &Body) -> Vec<StageId> {
        let mut all: Vec<StageId> = Vec::new();
        let skills = body
            .skills
            .iter()
            .filter_map(|at| self.graph.skills.get(at));
        let skills = skills.filter_map(|id| self.pack.skills.get(id));
        for stage in skills.flat_map(|skill| &skill.stages) {
            let left = self.graph.stages.find(stage.as_str());
            let left = left.is_some_and(|at| body.stages.has(at));
            if left && !all.contains(&stage.value) {
                all.push(stage.value.clone());
            }
        }
        all
    }

    fn effects(&self, held: &Exercise) -> Vec<CauseEffect> {
        let pairs = held.skills.iter().flat_map(|skill| {
            let all = self.graph.causes.iter();
            all.map(move |(cause, id)| (skill, cause, id))
        });
        let movement = pairs.filter(|(_, _, id)| self.pack.movement_causes.contains_key(*id));
        let all = movement.filter_map(|(skill, cause, id)| {
            let pair = Pair {
                skill,
                cause,
                demand: 0,
                movement: true,
                sure: false,
            };
            let effect = of_exercise(self.pack, self.graph, &[], held, &pair);
            (effect != 0).then_some(())?;
            Some(CauseEffect {
                skill: self.graph.skills.get(skill)?.clone(),
                cause: Called::new(self.glossary, Named::Cause, id),
                half_points: HalfPoints(effect),
            })
        });
        all.collect()
    }

    fn load(&self, held: &Exercise) -> Option<LoadLimit> {
        let basis = Basis::with_bests(self.pack, &BTreeMap::new(), held);
        Some(LoadLimit {
            percent: basis.highest,
            of: Called::new(self.glossary, Named::Reference, &basis.reference?),
            estimate: basis.estimate,
        })
    }
}
