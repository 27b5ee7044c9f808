//! What the rules list: faults and exercises.

use crate::base::{CauseId, ExerciseId, FaultId, GradeId, RoleId, SkillId};
use crate::graph::Graph;
use crate::rules::pack::Pack;

use super::glossary::{Glossary, Named};

/// An id with its canonical name.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub struct Called<I> {
    /// The id.
    pub id: I,
    /// The name.
    pub name: String,
}

impl<I: AsRef<str> + Clone> Called<I> {
    pub(crate) fn new(glossary: &Glossary, named: Named, id: &I) -> Self {
        Self {
            name: glossary.name(named, id.as_ref()).to_owned(),
            id: id.clone(),
        }
    }
}

/// A fault that the rules know.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct FaultEntry {
    /// The fault.
    pub id: FaultId,
    /// Its canonical name.
    pub name: String,
    /// Skills in which it is seen.
    pub skills: Vec<SkillId>,
    /// Grades, mildest first.
    pub grades: Vec<GradeEntry>,
    /// Causes with their shares in percent, the largest first.
    pub causes: Vec<(Called<CauseId>, u8)>,
    /// Faults that look alike, each with the look that separates them.
    pub not_to_confuse: Vec<(FaultId, String)>,
    /// Why it matters.
    pub because: String,
}

/// One grade of a fault.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct GradeEntry {
    /// The grade.
    pub id: GradeId,
    /// 1 (mild) to 3 (the attempt is lost).
    pub severity: u8,
    /// What it looks like.
    pub says: String,
}

/// An exercise that the rules list.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct ExerciseEntry {
    /// The exercise.
    pub id: ExerciseId,
    /// Its canonical name.
    pub name: String,
    /// Skills that it trains.
    pub skills: Vec<SkillId>,
    /// Roles that it may take.
    pub roles: Vec<RoleId>,
    /// What it is used for.
    pub used_for: String,
    /// The parent of a variation; the exercise itself for a root and a complex.
    pub parent: ExerciseId,
    /// Whether it is a complex.
    pub complex: bool,
    /// Sum of what its constraints cost in likeness to the full form.
    pub departure: i64,
}

/// All faults, by id.
pub(crate) fn faults(pack: &Pack, glossary: &Glossary) -> Vec<FaultEntry> {
    let all = pack.faults.iter().map(|(id, fault)| {
        let mut causes: Vec<(Called<CauseId>, u8)> = fault
            .causes
            .iter()
            .map(|(cause, share)| {
                (
                    Called::new(glossary, Named::Cause, &cause.value),
                    share.percent.value,
                )
            })
            .collect();
        causes.sort_by(|one, other| (other.1, &one.0).cmp(&(one.1, &other.0)));
        let grades = fault.grades.iter().map(|(id, grade)| GradeEntry {
            id: id.value.clone(),
            severity: grade.severity.value,
            says: grade.says.clone(),
        });
        FaultEntry {
            id: id.value.clone(),
            name: glossary.name(Named::Fault, id.as_str()).to_owned(),
            skills: fault
                .skills
                .iter()
                .map(|skill| skill.value.clone())
                .collect(),
            grades: grades.collect(),
            causes,
            not_to_confuse: fault
                .not_to_confuse
                .iter()
                .map(|(id, look)| (id.value.clone(), look.clone()))
                .collect(),
            because: fault.because.clone(),
        }
    });
    all.collect()
}

/// All exercises, by id.
pub(crate) fn exercises(graph: &Graph, glossary: &Glossary) -> Vec<ExerciseEntry> {
    let all = graph.exercises.iter().map(|exercise| ExerciseEntry {
        id: exercise.id.clone(),
        name: exercise.name.clone(),
        skills: exercise
            .skills
            .iter()
            .filter_map(|skill| graph.skills.get(skill).cloned())
            .collect(),
        roles: exercise.roles.clone(),
        used_for: glossary.used_for(exercise.id.as_str()).to_owned(),
        parent: match graph.ids.get(exercise.stands_under) {
            Some(parent) if !exercise.is_complex() => parent.clone(),
            _ => exercise.id.clone(),
        },
        complex: exercise.is_complex(),
        departure: exercise.departure,
    });
    all.collect()
}
