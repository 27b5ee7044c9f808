//! Exercises that were written down and that no rule file lists, put beside those that are.

use std::collections::BTreeMap;

use crate::base::ExerciseId;
use crate::graph::naming::{Meant, free_id, name_of, put};
use crate::rules::pack::Pack;

use super::{Case, Error, ErrorKind, KnowledgeBase};

impl KnowledgeBase {
    /// The rules with what is meant and not listed, under ids that begin with a word; the case as one of them; and the exercise
    /// of each.
    pub(super) fn with_unlisted<'m>(
        &self,
        case: &Case,
        word: &str,
        all: impl Iterator<Item = &'m Meant>,
    ) -> Result<(Self, Case, Vec<ExerciseId>), Error> {
        let (pack, graph) = (self.pack(), self.graph());
        let mut grown: Option<Pack> = None;
        let mut made: BTreeMap<String, ExerciseId> = BTreeMap::new();
        let mut exercise_of = |meant: &Meant| -> Option<ExerciseId> {
            if let Meant::Listed(at) = meant {
                return graph.ids.get(*at).cloned();
            }
            let name = name_of(pack, graph, meant);
            if let Some(id) = made.get(&name) {
                return Some(id.clone());
            }
            let id = free_id(graph, word, made.len())?;
            let grown = grown.get_or_insert_with(|| pack.clone());
            put((pack, graph), meant, id.clone(), grown)?;
            grown.composed.insert(id.clone());
            made.insert(name, id.clone());
            Some(id)
        };
        let ids: Option<Vec<ExerciseId>> = all.map(&mut exercise_of).collect();
        let ids = ids.ok_or_else(|| {
            let what = "what was written was read and could not be worked out";
            Error::new(ErrorKind::Internal, what)
        })?;
        let Some(grown) = grown else {
            return Ok((self.clone(), case.clone(), ids));
        };
        let names: Vec<&str> = made.keys().map(String::as_str).collect();
        let (base, case) = self.grown(grown, (word, &names.join(" | ")), case.checked.clone())?;
        Ok((base, case, ids))
    }
}
