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

    /// An exercise and all that vary it, by id; complexes that begin with one of these are not
    /// among them. It is named as [`KnowledgeBase::read_name`] reads it; what is not listed has no
    /// variations, and the listed exercise nearest to it stands for it.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Name`] for a name that means no one exercise.
    pub fn exercises_under(&self, exercise: &str) -> Result<Vec<ExerciseEntry>, Error> {
        let read = self.read_name(exercise);
        let read = read.map_err(|wrong| self.name_error(exercise, &wrong))?;
        let above = self.graph().ids.find(read.exercise.nearest.id.as_str());
        let graph = self.graph();
        let mut all = self.exercises();
        all.retain(|entry| {
            let at = graph.ids.find(entry.id.as_str());
            let held = at.and_then(|at| graph.exercises.get(at));
            let piece = held.and_then(|held| held.pieces.first());
            let line = piece
                .filter(|_| !entry.complex)
                .map(|piece| &piece.body.line);
            at == above || line.is_some_and(|line| above.is_some_and(|above| line.contains(&above)))
        });
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
    /// away last. A complex has no ladder. The drill is named as [`KnowledgeBase::read_name`] reads
    /// it, and need not be listed.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Name`] for a name that means no one exercise, [`ErrorKind::Unknown`] for a cause
    /// that the rules do not have, and for a complex.
    pub fn ladder(&self, exercise: &str, cause: Option<&str>) -> Result<Vec<Rung>, Error> {
        let with_it = self.with_named(exercise)?;
        let (graph, at) = (with_it.graph(), with_it.exercise);
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
        let rungs = ladder(with_it.pack(), graph, self.glossary(), at, cause);
        let mut rungs = rungs.ok_or_else(|| {
            Error::new(
                ErrorKind::Unknown,
                format!("`{exercise}` is a complex and has no ladder"),
            )
        })?;
        // What was only read is not listed: it goes by the name at the ladder's end, as others do.
        let end = rungs.last().map(|last| last.name.clone());
        let known = &self.graph().ids;
        for rung in &mut rungs {
            let read = rung
                .exercise
                .take_if(|id| known.find(id.as_str()).is_none());
            if let (Some(_), Some(end)) = (read, &end) {
                rung.name.clone_from(end);
            }
        }
        Ok(rungs)
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
