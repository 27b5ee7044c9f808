//! Words: one function puts one claim into words. Nothing in here decides anything.

pub(crate) mod audited;
mod claim;
mod clash;
pub(crate) mod coursed;
mod expectation;
pub(crate) mod finding;
mod loads;
mod naming;
mod phrase;
mod proof;
pub(crate) mod reviewed;
pub(crate) mod tracking;

use crate::base::{ConstraintId, Fact};
use crate::explain::{Claim, Composed, Glossary, Item, Missing, Named, Ruling, WaitsFor};

pub(crate) use expectation::{instead, stood, stood_in_words};
pub(crate) use loads::{bar_in_words, best_in_words, lighter_bar_in_words};
pub(crate) use naming::{misread, misread_help};
pub(crate) use phrase::{capital, half_points, many, spaced, texts, weekday};
pub(crate) use proof::{not_found, proof, when};

/// Puts claims into the words of one pack.
pub(crate) struct Words<'a> {
    glossary: &'a Glossary,
}

impl<'a> Words<'a> {
    pub(crate) const fn new(glossary: &'a Glossary) -> Self {
        Self { glossary }
    }

    pub(crate) fn name<'b>(&'b self, named: Named, id: &'b str) -> &'b str {
        self.glossary.name(named, id)
    }

    fn because(&self, path: &str) -> &str {
        self.glossary
            .cited(path)
            .map_or("", |item| item.because.as_str())
    }

    fn constraints(&self, by: &[ConstraintId]) -> String {
        let names: Vec<&str> = by
            .iter()
            .map(|id| self.name(Named::Constraint, id.as_str()))
            .collect();
        names.join(" and ")
    }

    /// A skill in words: its id, for its name says what it is.
    pub(crate) fn skill(&self, id: &str) -> String {
        spaced(id)
    }

    pub(crate) fn cause<'b>(&'b self, id: &'b str) -> &'b str {
        self.name(Named::Cause, id)
    }

    /// Whose bound it is, in words.
    pub(crate) fn ruling(&self, ruling: &Ruling) -> String {
        match ruling {
            Ruling::Part(part) => format!(
                "the part “{}” of the day",
                self.name(Named::Part, part.as_str())
            ),
            Ruling::Rule { id, .. } => format!("the rule “{}”", spaced(id.as_str())),
        }
    }

    /// What a bound is there for, in one sentence; nothing where its file says nothing.
    pub(crate) fn purpose(&self, ruling: &Ruling) -> String {
        phrase::first_sentence(self.because(&ruling.to_string())).to_owned()
    }

    /// What a cause waits for.
    pub(crate) fn waits_for(&self, why: &WaitsFor) -> String {
        match why {
            WaitsFor::MoreDemand => String::from("too little speaks for it so far."),
            WaitsFor::RoomInSkill => String::from("next, once a cause named above is mended."),
            WaitsFor::RoomInAll => String::from("until one of those above is mended."),
            WaitsFor::Opposite { cause, look, sure } => {
                let other = self.cause(cause.as_str());
                let than = if *sure {
                    "of which the coach is sure"
                } else {
                    "for which more speaks"
                };
                let asks = format!("it asks for the opposite of “{other}”, {than}.");
                let look = look
                    .as_ref()
                    .map(|look| self.glossary.look(look.as_str()))
                    .filter(|look| !look.is_empty());
                look.map_or(asks.clone(), |look| {
                    format!("{asks} What tells them apart: {look}")
                })
            }
        }
    }

    /// The items that a fact rests on: path, place and sources of each.
    pub(crate) fn cites(&self, fact: &Fact<Claim>) -> Vec<String> {
        let mut all: Vec<(String, Vec<&str>)> = Vec::new();
        for cited in fact.cites() {
            let of = format!("{}, {}:{}", cited.rule, cited.place.file, cited.place.line);
            match all.last_mut().filter(|(held, _)| *held == of) {
                Some((_, sources)) => sources.push(&cited.source),
                None => all.push((of, vec![&cited.source])),
            }
        }
        all.into_iter()
            .map(|(of, sources)| format!("{of}: {}", sources.join(", ")))
            .collect()
    }

    /// A source in words.
    pub(crate) fn source(&self, id: &str) -> String {
        self.glossary.source(id).to_owned()
    }

    /// What an item is in the week for.
    pub(crate) fn role(&self, item: &Item) -> String {
        match &item.in_place_of {
            Some(form) => {
                let form = self.name(Named::Exercise, form.as_str());
                format!("in place of the {form}")
            }
            None => self.name(Named::Role, item.role.as_str()).to_owned(),
        }
    }

    /// What is no listed exercise.
    pub(crate) fn composed(&self, made: &Composed) -> String {
        let from = self.name(Named::Exercise, made.from.as_str());
        format!(
            "“{}” was put together from the {from}; no rule file lists it.",
            made.name
        )
    }

    /// What the case leaves open.
    pub(crate) fn missing(&self, missing: &Missing) -> String {
        match missing {
            Missing::Field(field) => {
                format!(
                    "{}: the rules ask for it, and the case does not say",
                    self.name(Named::CaseField, field.as_str())
                )
            }
            Missing::Best {
                reference,
                estimated_from: Some((from, percent)),
            } => format!(
                "{}: estimated as {percent} % of the {}",
                self.name(Named::Reference, reference.as_str()),
                self.name(Named::Reference, from.as_str())
            ),
            Missing::Best {
                reference,
                estimated_from: None,
            } => {
                format!(
                    "{}: without it no load is named",
                    self.name(Named::Reference, reference.as_str())
                )
            }
        }
    }
}

/// What in the week works on a cause, by its names, the most first.
pub(crate) fn against_it(names: &[&str]) -> String {
    if names.is_empty() {
        String::from("Nothing in this week works on it.")
    } else {
        format!("Against it: {}.", names.join(", "))
    }
}

/// In how many attempts a fault was seen and from which load on, a sentence each; nothing where the case does not say.
pub(crate) fn seen_when(times: Option<(u16, u16)>, from_percent: Option<u8>) -> String {
    let often = times.map_or_else(String::new, |(seen, of)| {
        format!(
            " Seen in {seen} of {}.",
            many(of.into(), "attempt", "attempts")
        )
    });
    let from = from_percent.map_or_else(String::new, |percent| {
        format!(" It starts at {percent} % of the best.")
    });
    format!("{often}{from}")
}
