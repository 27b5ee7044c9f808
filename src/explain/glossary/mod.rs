//! The words of a pack: names, reasons and sources by id, kept apart so that an answer can be put
//! into words without the rules it came from.

mod gather;

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::base::{Cited, Place};

/// What a name belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Named {
    Skill,
    Exercise,
    Constraint,
    Fault,
    Observation,
    TrackEvent,
    TrackMeasure,
    Cause,
    Quality,
    Stress,
    Role,
    Part,
    Effort,
    Mark,
    Phase,
    Layout,
    Reference,
    Bar,
    CaseField,
    TrainingBlock,
    WeekFigure,
}

/// An item of a pack that answers cite.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Item {
    pub(crate) place: Place,
    pub(crate) because: String,
    /// Source id and where in it.
    pub(crate) sources: Vec<(Arc<str>, String)>,
}

/// The words of a pack.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Glossary {
    names: BTreeMap<Named, BTreeMap<String, String>>,
    /// Items by path, such as `rules.count.ID`.
    items: BTreeMap<String, Item>,
    /// Words of a grade, by fault and grade.
    grades: BTreeMap<(String, String), String>,
    /// Names of a value, by case field and value.
    values: BTreeMap<(String, String), String>,
    /// What to look at, by observation.
    looks: BTreeMap<String, String>,
    /// What to look for, by cause.
    look_for: BTreeMap<String, String>,
    /// How it should feel, by dose.
    feels: BTreeMap<String, String>,
    /// What it is used for, by exercise.
    uses: BTreeMap<String, String>,
    /// What is said aloud, by path of the rule.
    says: BTreeMap<String, String>,
    /// A source's words, by id.
    sources: BTreeMap<String, String>,
}

impl Glossary {
    /// The canonical name of something; its id where it has none.
    pub(crate) fn name<'a>(&'a self, named: Named, id: &'a str) -> &'a str {
        self.names
            .get(&named)
            .and_then(|names| names.get(id))
            .map_or(id, String::as_str)
    }

    /// What a grade looks like; its id where nothing is said.
    pub(crate) fn grade<'a>(&'a self, fault: &str, grade: &'a str) -> &'a str {
        self.grades
            .get(&(fault.to_owned(), grade.to_owned()))
            .map_or(grade, String::as_str)
    }

    /// The name of a case field's value.
    pub(crate) fn value<'a>(&'a self, field: &str, value: &'a str) -> &'a str {
        self.values
            .get(&(field.to_owned(), value.to_owned()))
            .map_or(value, String::as_str)
    }

    /// What to look at.
    pub(crate) fn look(&self, observation: &str) -> &str {
        self.looks.get(observation).map_or("", String::as_str)
    }

    /// What to look for.
    pub(crate) fn look_for(&self, cause: &str) -> &str {
        self.look_for.get(cause).map_or("", String::as_str)
    }

    /// How something should feel that is dosed so.
    pub(crate) fn feel(&self, dose: &str) -> &str {
        self.feels.get(dose).map_or("", String::as_str)
    }

    /// What an exercise is used for.
    pub(crate) fn used_for(&self, exercise: &str) -> &str {
        self.uses.get(exercise).map_or("", String::as_str)
    }

    /// What a rule says aloud.
    pub(crate) fn says(&self, path: &str) -> &str {
        self.says.get(path).map_or("", String::as_str)
    }

    /// A source's words; its id where there are none.
    pub(crate) fn source<'a>(&'a self, id: &'a str) -> &'a str {
        self.sources.get(id).map_or(id, String::as_str)
    }

    /// An item by its path.
    pub(crate) fn cited(&self, path: &str) -> Option<&Item> {
        self.items.get(path)
    }

    /// An item as facts cite it: once for each of its sources, once with `-` where it has none.
    pub(crate) fn cite(&self, path: &str) -> Vec<Cited> {
        let Some(item) = self.items.get(path) else {
            return Vec::new();
        };
        let rule: Arc<str> = Arc::from(path);
        let cited = |source: &Arc<str>| Cited {
            rule: rule.clone(),
            place: item.place.clone(),
            source: source.clone(),
        };
        if item.sources.is_empty() {
            return vec![cited(&Arc::from("-"))];
        }
        item.sources
            .iter()
            .map(|(source, _)| cited(source))
            .collect()
    }

    /// The path of a listed exercise.
    pub(crate) fn exercise_path(&self, id: &str) -> String {
        ["roots", "variations", "complexes"]
            .iter()
            .map(|section| exercise_path(section, id))
            .find(|path| self.items.contains_key(path))
            .unwrap_or_else(|| exercise_path("roots", id))
    }
}

fn exercise_path(section: &str, id: &str) -> String {
    format!("exercises.{section}.{id}")
}

/// The path of a constraint.
pub(crate) fn constraint_path(id: &str) -> String {
    format!("axes.constraints.{id}")
}

/// The path of a rule, or of the layout's own bounds.
pub(crate) fn rule_path(kind: &str, id: &str) -> String {
    if kind == super::LAYOUT_BOUNDS {
        format!("{kind}.{id}")
    } else {
        format!("rules.{kind}.{id}")
    }
}
