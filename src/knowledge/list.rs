//! What the rules have: faults, exercises, what helps, ladders.

use std::collections::BTreeSet;

use crate::base::{CauseId, ExerciseId, FaultId, GradeId, RoleId, RuleId, SkillId};
use crate::explain::{Named, Ranked, Rung, ladder, ranked};
use crate::infer::Setting;

use super::{Case, Error, ErrorKind, KnowledgeBase};

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
    /// Causes with their names and shares in percent, the largest first.
    pub causes: Vec<(CauseId, String, u8)>,
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

impl KnowledgeBase {
    /// All faults, by id.
    #[must_use]
    pub fn faults(&self) -> Vec<FaultEntry> {
        let words = self.glossary();
        self.pack()
            .faults
            .iter()
            .map(|(id, fault)| {
                let mut causes: Vec<(CauseId, String, u8)> = fault
                    .causes
                    .iter()
                    .map(|(cause, share)| {
                        let name = words.name(Named::Cause, cause.as_str()).to_owned();
                        (cause.value.clone(), name, share.percent.value)
                    })
                    .collect();
                causes.sort_by(|one, other| (other.2, &one.0).cmp(&(one.2, &other.0)));
                FaultEntry {
                    id: id.value.clone(),
                    name: words.name(Named::Fault, id.as_str()).to_owned(),
                    skills: fault.skills.iter().map(|skill| skill.value.clone()).collect(),
                    grades: fault
                        .grades
                        .iter()
                        .map(|(id, grade)| GradeEntry {
                            id: id.value.clone(),
                            severity: grade.severity.value,
                            says: grade.says.clone(),
                        })
                        .collect(),
                    causes,
                    not_to_confuse: fault.not_to_confuse.iter().map(|(id, look)| (id.value.clone(), look.clone())).collect(),
                    because: fault.because.clone(),
                }
            })
            .collect()
    }

    /// All exercises, by id.
    #[must_use]
    pub fn exercises(&self) -> Vec<ExerciseEntry> {
        let graph = self.graph();
        graph
            .exercises
            .iter()
            .map(|exercise| ExerciseEntry {
                id: exercise.id.clone(),
                name: exercise.name.clone(),
                skills: exercise.skills.iter().filter_map(|skill| graph.skills.get(skill).cloned()).collect(),
                roles: exercise.roles.clone(),
                used_for: self.glossary().used_for(exercise.id.as_str()).to_owned(),
                parent: match graph.ids.get(exercise.stands_under) {
                    Some(parent) if !exercise.is_complex() => parent.clone(),
                    _ => exercise.id.clone(),
                },
                complex: exercise.is_complex(),
                departure: exercise.departure,
            })
            .collect()
    }

    /// All exercises by what they do for the causes that a case has in focus, the best first.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a case of other rules.
    pub fn ranked(&self, case: &Case) -> Result<Vec<Ranked>, Error> {
        let setting = self.setting(case)?;
        self.ranking(&setting)
    }

    /// All exercises by what they do for all the causes of one fault, whatever the method works on
    /// at once; `skill` must be given where the fault is seen in several.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Unknown`] for a fault that the rules do not have, [`ErrorKind::Case`] where the
    /// skill is missing or not one of the fault's.
    pub fn ranked_for_fault(&self, fault: &str, skill: Option<&str>) -> Result<Vec<Ranked>, Error> {
        let id = fault.parse::<FaultId>().map_err(|_| unknown("fault", fault))?;
        let held = self.pack().faults.get(&id).ok_or_else(|| unknown("fault", fault))?;
        let grade = held.grades.keys().last().map_or("", |grade| grade.as_str());
        let phase = self.pack().phases.keys().next().map_or("", |phase| phase.as_str());
        let builder = self.case().phase(phase);
        let case = match skill {
            Some(skill) => builder.fault_of(fault, skill, grade),
            None => builder.fault(fault, grade),
        };
        let case = case.build()?;
        let focus: BTreeSet<(&'static str, RuleId)> =
            self.pack().rules.focus.iter().map(|(id, _)| ("focus", id.value.clone())).collect();
        let setting = Setting::without(self.pack(), self.graph(), &case.checked, focus);
        self.ranking(&setting)
    }

    fn ranking(&self, setting: &Setting<'_>) -> Result<Vec<Ranked>, Error> {
        ranked(setting, self.glossary())
            .map_err(|error| Error::new(ErrorKind::Internal, format!("the facts could not be kept: {error}")))
    }

    /// From a drill to the full form: what does not bear on the cause is freed first, what takes it
    /// away last. A complex has no ladder.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Unknown`] for an exercise or cause that the rules do not have, and for a complex.
    pub fn ladder(&self, exercise: &str, cause: Option<&str>) -> Result<Vec<Rung>, Error> {
        let at = self.graph().ids.find(exercise).ok_or_else(|| unknown("exercise", exercise))?;
        let cause = match cause {
            None => None,
            Some(text) => {
                let found = self.graph().causes.find(text).and_then(|at| self.graph().causes.get(at));
                Some(found.ok_or_else(|| unknown("cause", text))?)
            }
        };
        ladder(self.pack(), self.graph(), at, cause)
            .ok_or_else(|| Error::new(ErrorKind::Unknown, format!("`{exercise}` is a complex and has no ladder")))
    }

    /// The name of a cause, a skill, an exercise or a constraint in words; the id where it has none.
    #[must_use]
    pub fn name<'a>(&'a self, id: &'a str) -> &'a str {
        [Named::Exercise, Named::Cause, Named::Constraint, Named::Fault, Named::Skill, Named::Role, Named::Quality]
            .into_iter()
            .map(|named| self.glossary().name(named, id))
            .find(|name| *name != id)
            .unwrap_or(id)
    }
}

fn unknown(what: &str, id: &str) -> Error {
    Error::new(ErrorKind::Unknown, format!("the rules have no {what} `{id}`"))
}
