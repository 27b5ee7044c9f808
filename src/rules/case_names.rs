//! Exercises as cases name them: by id, or as somebody writes them down.

use std::collections::BTreeSet;

use crate::base::{At, Diagnostic, ExerciseId, Place};

use super::case_read::Checking;
use super::check::declared::dangling;
use super::check::sections::Sort;
use super::pack::Pack;

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
        let names = self.names;
        let mut all = BTreeSet::new();
        for text in written {
            match names.exercise(text) {
                Ok(id) => all.extend(id),
                Err(wrong) => self.out.push(Diagnostic {
                    place: text.place.clone(),
                    ..*wrong
                }),
            }
        }
        all
    }
}
