//! What clashes, and what could be changed about it.

use crate::explain::{Clashing, Named, SaidList, rule_path};

use super::Words;
use super::phrase::{first_sentence, listed};

/// A list of a case, in words.
const fn said(list: SaidList) -> &'static str {
    match list {
        SaidList::Faults => "faults that were seen",
        SaidList::Observed => "what else was seen",
        SaidList::SureOf => "causes of which the coach is sure",
        SaidList::Bests => "bests",
        SaidList::New => "new exercises",
        SaidList::Disliked => "disliked exercises",
        SaidList::Tried => "what was tried and what came of it",
        SaidList::DidLastWeek => "exercises of the week before",
        SaidList::WeekBefore => "what stood in the week before",
    }
}

impl Words<'_> {
    /// A part of a clash.
    pub(crate) fn clashing(&self, what: &Clashing) -> String {
        match what {
            Clashing::Rule { kind, id, place } => {
                let path = rule_path(kind, id.as_str());
                format!("{path} ({place}): {}", first_sentence(self.because(&path)))
            }
            Clashing::Field {
                field,
                skill,
                day,
                says,
            } => {
                let of_skill = skill.as_ref().map(|skill| self.skill(skill.as_str()));
                let of_skill = of_skill.map(|skill| format!(" of the {skill}"));
                let of_day = day.map(|day| format!(" on {}", day.name()));
                let of = of_skill.or(of_day).unwrap_or_default();
                let name = self.name(Named::CaseField, field.as_str());
                // A field whose value bears its name says it once.
                let says = if says == name {
                    String::new()
                } else {
                    format!(": {says}")
                };
                format!("the case says: {name}{of}{says}")
            }
            Clashing::Days(says) => format!("the case says: training on {says}"),
            Clashing::Layout(layout) => {
                format!(
                    "the case says: the layout “{}”",
                    self.name(Named::Layout, layout.as_str())
                )
            }
            Clashing::Phase { phase, .. } => format!(
                "the case says: the phase “{}”",
                self.name(Named::Phase, phase.as_str())
            ),
            Clashing::Bar { bar, .. } => {
                let name = self.name(Named::Bar, bar.as_str());
                format!("the case says: the bar “{name}”")
            }
            Clashing::Pieces => String::from("the case says: the pieces that the gym has"),
            Clashing::List { list, says } => format!("the case says: {}: {says}", said(*list)),
        }
    }

    /// A part of a clash by its name alone.
    pub(crate) fn clashing_part(&self, what: &Clashing) -> String {
        match what {
            Clashing::Rule { kind, id, .. } => rule_path(kind, id.as_str()),
            Clashing::Field { field, .. } => {
                format!("“{}”", self.name(Named::CaseField, field.as_str()))
            }
            Clashing::Days(says) => format!("“training on {says}”"),
            Clashing::Layout(id) => format!("“{}”", self.name(Named::Layout, id.as_str())),
            Clashing::Phase { phase, .. } => {
                format!("“{}”", self.name(Named::Phase, phase.as_str()))
            }
            Clashing::Bar { bar, .. } => format!("“{}”", self.name(Named::Bar, bar.as_str())),
            Clashing::Pieces => String::from("“the pieces that the gym has”"),
            Clashing::List { list, .. } => format!("“{}”", said(*list)),
        }
    }

    fn either<'b>(&self, named: Named, ids: impl Iterator<Item = &'b str>) -> String {
        let names: Vec<&str> = ids.map(|id| self.glossary.name(named, id)).collect();
        listed(&names, "or")
    }

    /// What could be changed about a part of a clash.
    pub(crate) fn relax(&self, what: &Clashing) -> String {
        match what {
            Clashing::Rule { kind, id, .. } => format!(
                "loosen {}, if its reason does not hold here",
                rule_path(kind, id.as_str())
            ),
            Clashing::Field { field, .. } => {
                format!(
                    "say something else for “{}”, if it is not so",
                    self.name(Named::CaseField, field.as_str())
                )
            }
            Clashing::Days(_) => String::from("train on other days, or let the rules choose them"),
            Clashing::Layout(_) => String::from("let the rules choose the layout"),
            Clashing::Phase { others, .. } => {
                let ids = others.iter().map(|id| id.as_str());
                format!("another phase: {}", self.either(Named::Phase, ids))
            }
            Clashing::Bar { others, .. } => {
                let ids = others.iter().map(|id| id.as_str());
                format!("another bar: {}", self.either(Named::Bar, ids))
            }
            Clashing::Pieces => String::from("more pieces for the bar"),
            Clashing::List { list, .. } => {
                format!("look again at what the case says as “{}”", said(*list))
            }
        }
    }
}
