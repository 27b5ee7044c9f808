//! Exercises as cases name them: by id, or as somebody writes them down.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{At, Diagnostic, ExerciseId, Place};

use super::case::{DoneBefore, Tried};
use super::case_check::Before;
use super::case_read::Checking;
use super::check::declared::dangling;
use super::check::sections::Sort;
use super::pack::Pack;
use super::vocab::Came;

/// Who knows which exercise a text names. Names are read with what is computed of the rules, which
/// lies above this layer.
pub(crate) trait Exercises {
    /// The exercise that a text names; none where that is left open for now.
    ///
    /// # Errors
    ///
    /// Why it names none, at no place.
    fn exercise(&self, text: &str) -> Result<Option<ExerciseId>, Box<Diagnostic>>;
}

/// Leaves every name open.
pub(super) struct Later;

impl Exercises for Later {
    fn exercise(&self, _: &str) -> Result<Option<ExerciseId>, Box<Diagnostic>> {
        Ok(None)
    }
}

/// Ids alone.
impl Exercises for Pack {
    fn exercise(&self, text: &str) -> Result<Option<ExerciseId>, Box<Diagnostic>> {
        let known = || {
            let roots = self.roots.keys().chain(self.variations.keys());
            roots.chain(self.complexes.keys())
        };
        if let Some(id) = known().find(|id| id.as_str() == text) {
            return Ok(Some(id.value.clone()));
        }
        let all: Vec<&str> = known().map(|id| id.as_str()).collect();
        let problem = dangling(Sort::Exercise, text, &Place::unknown(), &all);
        Err(Box::new(problem))
    }
}

impl Checking<'_> {
    /// The exercises that texts name.
    pub(super) fn exercises(&mut self, written: &[At<String>]) -> BTreeSet<ExerciseId> {
        written
            .iter()
            .filter_map(|text| self.exercise(text))
            .collect()
    }

    /// The exercise that a text names, where it names one and that is not left open for now.
    fn exercise(&mut self, text: &At<String>) -> Option<ExerciseId> {
        match self.names.exercise(text) {
            Ok(id) => id,
            Err(wrong) => {
                self.out.push(Diagnostic {
                    place: text.place.clone(),
                    ..*wrong
                });
                None
            }
        }
    }

    /// What stood in the week before, sorted.
    pub(super) fn week_before(&mut self, written: &[At<DoneBefore>]) -> Vec<Before> {
        let mut all = Vec::new();
        for held in written {
            let pack = self.pack;
            let exercise = self.exercise(&held.exercise);
            let role = self.item(Sort::Role, &pack.roles, &held.role);
            self.within(&held.sets, "sets", 1, 100);
            self.within(&held.reps, "reps", 1, 100);
            for (number, key, most) in
                [(&held.percent, "percent", 200), (&held.weeks, "weeks", 100)]
            {
                if let Some(number) = number {
                    self.within(number, key, 1, most);
                }
            }
            let number = |number: &At<u16>| i64::from(number.value);
            all.extend(exercise.zip(role).map(|(exercise, role)| Before {
                exercise,
                role,
                sets: number(&held.sets),
                reps: number(&held.reps),
                percent: held.percent.as_ref().map(number),
                weeks: held.weeks.as_ref().map_or(1, number),
            }));
        }
        all.sort();
        all
    }

    /// What came of each exercise that was tried.
    pub(super) fn tried(&mut self, written: &[At<Tried>]) -> BTreeMap<ExerciseId, Came> {
        let mut all: BTreeMap<ExerciseId, (Came, Place)> = BTreeMap::new();
        for tried in written {
            let place = &tried.exercise.place;
            let Some(id) = self.exercise(&tried.exercise) else {
                continue;
            };
            if let Some((_, first)) = all.get(&id) {
                let first = first.clone();
                self.twice(&format!("`{id}`"), place, &first);
            } else {
                all.insert(id, (tried.came, place.clone()));
            }
        }
        all.into_iter().map(|(id, (came, _))| (id, came)).collect()
    }
}
