//! Gathers the words of a pack.

use std::sync::Arc;

use crate::base::Place;
use crate::graph::Graph;
use crate::rules::check::sections::rule_sections;
use crate::rules::kinds::Rule;
use crate::rules::pack::{Items, Pack};
use crate::rules::vocab::{Names, ReadAs, Sourced};

use super::{Glossary, Item, Named, constraint_path, exercise_path};

fn first(names: &Names, id: &str) -> String {
    names
        .en
        .first()
        .map_or_else(|| id.replace('-', " "), |name| name.value.clone())
}

fn sources_of(sourced: &Sourced) -> Vec<(Arc<str>, String)> {
    sourced
        .iter()
        .map(|(id, where_in)| (Arc::from(id.as_str()), where_in.clone()))
        .collect()
}

fn read_as(read: ReadAs) -> &'static str {
    match read {
        ReadAs::Whole => "read as a whole",
        ReadAs::Abstract => "its abstract was read",
        ReadAs::Secondary => "read in another work",
        ReadAs::Memory => "from memory, not read again",
        ReadAs::Computed => "worked out from figures that were read",
    }
}

/// The path of an item of a section by its id.
fn under(section: &'static str) -> impl Fn(&str) -> String {
    move |id| format!("{section}.{id}")
}

macro_rules! cite_rules {
    ($($kind:literal $field:ident;)*) => {
        impl Glossary {
            fn rules(&mut self, pack: &Pack) {
                $(for (id, rule) in &pack.rules.$field {
                    let path = format!("rules.{}.{}", $kind, id.value);
                    self.item(path, &id.place, rule.because(), rule.source());
                })*
            }
        }
    };
}
rule_sections!(cite_rules);

impl Glossary {
    /// The words of a pack and its computed exercises.
    pub(crate) fn of(pack: &Pack, graph: &Graph) -> Self {
        let mut words = Self::default();
        words.names_of(Named::Skill, &pack.skills, |held| &held.names);
        words.names_of(Named::Fault, &pack.faults, |held| &held.names);
        words.names_of(Named::Observation, &pack.observations, |held| &held.names);
        words.names_of(Named::TrackEvent, &pack.track_events, |held| &held.names);
        words.names_of(Named::TrackMeasure, &pack.track_measures, |held| {
            &held.names
        });
        words.names_of(Named::Cause, &pack.movement_causes, |held| &held.names);
        words.names_of(Named::Cause, &pack.capacity_causes, |held| &held.names);
        words.names_of(Named::Quality, &pack.qualities, |held| &held.names);
        words.names_of(Named::Stress, &pack.stresses, |held| &held.names);
        words.names_of(Named::Role, &pack.roles, |held| &held.names);
        words.names_of(Named::Part, &pack.parts, |held| &held.names);
        words.names_of(Named::Effort, &pack.efforts, |held| &held.names);
        words.names_of(Named::Mark, &pack.marks, |held| &held.names);
        words.names_of(Named::Phase, &pack.phases, |held| &held.names);
        words.names_of(Named::Layout, &pack.layouts, |held| &held.names);
        words.names_of(Named::Reference, &pack.references, |held| &held.names);
        words.names_of(Named::Bar, &pack.bars, |held| &held.names);
        words.names_of(Named::CaseField, &pack.one_of, |held| &held.names);
        words.names_of(Named::CaseField, &pack.whole, |held| &held.names);
        words.names_of(Named::CaseField, &pack.some_of, |held| &held.names);
        words.names_of(Named::CaseField, &pack.dates, |held| &held.names);
        words.names_of(Named::TrainingBlock, &pack.training_blocks, |held| {
            &held.names
        });
        words.names_of(Named::WeekFigure, &pack.week_figures, |held| &held.names);
        for exercise in &graph.exercises {
            words.name_it(Named::Exercise, exercise.id.as_str(), exercise.name.clone());
        }
        words.exercises(pack);
        words.axes(pack);
        words.diagnosis(pack);
        words.frame(pack);
        words.sources_in(pack);
        words.rules(pack);
        words
    }

    fn name_it(&mut self, named: Named, id: &str, name: String) {
        self.names
            .entry(named)
            .or_default()
            .insert(id.to_owned(), name);
    }

    fn names_of<I: Ord + AsRef<str>, T>(
        &mut self,
        named: Named,
        items: &Items<I, T>,
        names: impl Fn(&T) -> &Names,
    ) {
        for (id, held) in items {
            let id = id.value.as_ref();
            self.name_it(named, id, first(names(held), id));
        }
    }

    fn item(&mut self, path: String, place: &Place, because: &str, source: &Sourced) {
        let item = Item {
            place: place.clone(),
            because: because.to_owned(),
            sources: sources_of(source),
        };
        self.items.insert(path, item);
    }

    /// Keeps what items of a kind are for and where they come from, each under the path of its id.
    fn cite_all<I: Ord + AsRef<str>, T>(
        &mut self,
        path: impl Fn(&str) -> String,
        items: &Items<I, T>,
        cited: impl Fn(&T) -> (&str, &Sourced),
    ) {
        for (id, held) in items {
            let (because, source) = cited(held);
            self.item(path(id.value.as_ref()), &id.place, because, source);
        }
    }

    fn exercises(&mut self, pack: &Pack) {
        let path = |section: &'static str| move |id: &str| exercise_path(section, id);
        self.cite_all(path("roots"), &pack.roots, |held| {
            (&held.used_for, &held.source)
        });
        self.cite_all(path("variations"), &pack.variations, |held| {
            (&held.used_for, &held.source)
        });
        self.cite_all(path("complexes"), &pack.complexes, |held| {
            (&held.used_for, &held.source)
        });
        let roots = pack.roots.iter().map(|(id, held)| (id, &held.used_for));
        let variations = pack.variations.iter();
        let variations = variations.map(|(id, held)| (id, &held.used_for));
        let complexes = pack.complexes.iter();
        let complexes = complexes.map(|(id, held)| (id, &held.used_for));
        for (id, used_for) in roots.chain(variations).chain(complexes) {
            self.uses.insert(id.to_string(), used_for.clone());
        }
    }

    fn axes(&mut self, pack: &Pack) {
        for axis in pack.axes.values() {
            for (id, held) in &axis.constraints {
                let id_text = id.as_str();
                self.name_it(Named::Constraint, id_text, first(&held.names, id_text));
                self.item(
                    constraint_path(id_text),
                    &id.place,
                    &held.because,
                    &held.source,
                );
            }
        }
    }

    fn diagnosis(&mut self, pack: &Pack) {
        self.cite_all(under("faults"), &pack.faults, |held| {
            (&held.because, &held.source)
        });
        self.cite_all(under("causes"), &pack.movement_causes, |held| {
            (&held.because, &held.source)
        });
        self.cite_all(under("causes"), &pack.capacity_causes, |held| {
            (&held.because, &held.source)
        });
        self.cite_all(under("observations"), &pack.observations, |held| {
            (&held.look, &held.source)
        });
        self.cite_all(under("qualities"), &pack.qualities, |held| {
            (&held.means, &held.source)
        });
        for (id, held) in &pack.faults {
            for (grade, says) in &held.grades {
                self.grades
                    .insert((id.to_string(), grade.to_string()), says.says.clone());
            }
        }
        let movement = pack.movement_causes.iter();
        let movement = movement.map(|(id, held)| (id, &held.look_for));
        let capacity = pack.capacity_causes.iter();
        let capacity = capacity.map(|(id, held)| (id, &held.look_for));
        for (id, look_for) in movement.chain(capacity) {
            self.look_for.insert(id.to_string(), look_for.clone());
        }
        for (id, held) in &pack.observations {
            self.looks.insert(id.to_string(), held.look.clone());
        }
        for (id, held) in &pack.rules.fullest {
            self.says
                .insert(format!("rules.fullest.{id}"), held.say.en.clone());
        }
        for (id, held) in &pack.rules.how_often {
            self.says
                .insert(format!("rules.how-often.{id}"), held.say.en.clone());
        }
        for (id, held) in &pack.rules.caution {
            self.says
                .insert(format!("rules.caution.{id}"), held.say.en.clone());
        }
    }

    fn frame(&mut self, pack: &Pack) {
        self.cite_all(under("doses"), &pack.doses, |held| {
            (&held.because, &held.source)
        });
        self.cite_all(under("layouts"), &pack.layouts, |held| {
            (&held.because, &held.source)
        });
        self.cite_all(under("references"), &pack.references, |held| {
            ("", &held.source)
        });
        for (id, held) in &pack.doses {
            self.feels.insert(id.to_string(), held.feel.clone());
        }
        let one = pack.one_of.iter().map(|(id, held)| (id, &held.values));
        let some = pack.some_of.iter().map(|(id, held)| (id, &held.values));
        for (id, values) in one.chain(some) {
            for (value, names) in values {
                self.values.insert(
                    (id.to_string(), value.to_string()),
                    first(names, value.as_str()),
                );
            }
        }
    }

    fn sources_in(&mut self, pack: &Pack) {
        for (id, held) in &pack.published {
            let words = format!("published: {} ({})", held.cite, read_as(held.read));
            self.sources.insert(id.to_string(), words);
        }
        for (id, held) in &pack.common_practice {
            self.sources
                .insert(id.to_string(), format!("common practice: {}", held.note));
        }
        for (id, held) in &pack.expert_set {
            let note = held
                .note
                .as_ref()
                .map_or_else(String::new, |note| format!(": {note}"));
            self.sources.insert(
                id.to_string(),
                format!("expert-set by {}, {}{note}", held.by, held.date),
            );
        }
    }
}
