//! What the rules have: faults, exercises, what helps, ladders.

use std::collections::BTreeSet;

use crate::base::{Code, Diagnostic, FaultId, Place, RuleId, nearest};
use crate::explain::{ExerciseEntry, FaultEntry, Ranked, Rung, exercises, faults, ladder, ranked};
use crate::infer::Setting;
use crate::rules::check::unread::unread;

use super::{Case, Error, ErrorKind, KnowledgeBase};

impl KnowledgeBase {
    /// What the rules say and nothing reads, such as a case field that no rule asks for: nothing is
    /// wrong with it, but a file may be missing. By place; none where all is read.
    #[must_use]
    pub fn remarks(&self) -> Vec<Diagnostic> {
        unread(self.pack())
    }

    /// All faults, by id.
    #[must_use]
    pub fn faults(&self) -> Vec<FaultEntry> {
        faults(self.pack(), self.glossary())
    }

    /// All exercises, by id.
    #[must_use]
    pub fn exercises(&self) -> Vec<ExerciseEntry> {
        exercises(self.graph(), self.glossary())
    }

    /// The exercises that train a skill, by id.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Unknown`] for a skill that the rules do not have.
    pub fn exercises_of(&self, skill: &str) -> Result<Vec<ExerciseEntry>, Error> {
        let skills = &self.pack().skills;
        if !skills.keys().any(|id| id.value.as_str() == skill) {
            let known = skills.keys().map(|id| id.value.as_str());
            return Err(unknown("skill", skill, known));
        }
        let mut all = self.exercises();
        all.retain(|exercise| exercise.skills.iter().any(|id| id.as_str() == skill));
        Ok(all)
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
        let faults = &self.pack().faults;
        let held = fault.parse::<FaultId>().ok().and_then(|id| faults.get(&id));
        let held = held.ok_or_else(|| {
            let known = faults.keys().map(|id| id.value.as_str());
            unknown("fault", fault, known)
        })?;
        let grade = held.grades.keys().last().map_or("", |grade| grade.as_str());
        let phase = self
            .pack()
            .phases
            .keys()
            .next()
            .map_or("", |phase| phase.as_str());
        let builder = self.case().phase(phase);
        let case = match skill {
            Some(skill) => builder.fault_of(fault, skill, grade),
            None => builder.fault(fault, grade),
        };
        let case = case.build()?;
        let focus: BTreeSet<(&'static str, RuleId)> = self
            .pack()
            .rules
            .focus
            .iter()
            .map(|(id, _)| ("focus", id.value.clone()))
            .collect();
        let setting = Setting::without(self.pack(), self.graph(), &case.checked, focus);
        self.ranking(&setting)
    }

    fn ranking(&self, setting: &Setting<'_>) -> Result<Vec<Ranked>, Error> {
        ranked(setting, self.glossary()).map_err(|error| {
            Error::new(
                ErrorKind::Internal,
                format!("the facts could not be kept: {error}"),
            )
        })
    }

    /// From a drill to the full form: what does not bear on the cause is freed first, what takes it
    /// away last. A complex has no ladder.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Unknown`] for an exercise or cause that the rules do not have, and for a complex.
    pub fn ladder(&self, exercise: &str, cause: Option<&str>) -> Result<Vec<Rung>, Error> {
        let graph = self.graph();
        let at = graph.ids.find(exercise).ok_or_else(|| {
            let known = graph.ids.iter().map(|(_, id)| id.as_str());
            unknown("exercise", exercise, known)
        })?;
        let cause = match cause {
            None => None,
            Some(text) => {
                let found = graph.causes.find(text).and_then(|at| graph.causes.get(at));
                Some(found.ok_or_else(|| {
                    let known = graph.causes.iter().map(|(_, id)| id.as_str());
                    unknown("cause", text, known)
                })?)
            }
        };
        ladder(self.pack(), self.graph(), self.glossary(), at, cause).ok_or_else(|| {
            Error::new(
                ErrorKind::Unknown,
                format!("`{exercise}` is a complex and has no ladder"),
            )
        })
    }
}

/// What was asked about and is not in the rules, with the nearest that is.
pub(super) fn unknown<'a>(what: &str, id: &str, known: impl Iterator<Item = &'a str>) -> Error {
    let help = match nearest(id, known) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("write the id of a {what} of the rules"),
    };
    let what = format!("the rules have no {what} `{id}`");
    let problem = Diagnostic::new(Code::DanglingId, Place::unknown(), what, help);
    Error::found(ErrorKind::Unknown, vec![problem], Vec::new())
}
