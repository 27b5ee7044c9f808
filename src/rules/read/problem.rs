//! What goes wrong while an item is read from its tree, from where it arises to how it is told.

use std::fmt;

use serde::de;

use super::tree::shortened;
use crate::base::{Code, Diagnostic, Place, nearest};

/// One problem on its way up from the value in which it arose.
#[derive(Debug)]
pub(super) struct Problem {
    pub(super) kind: Kind,
    /// The address of the node or key that it is about, once that is known.
    pub(super) address: Option<usize>,
    place: Option<Place>,
    /// Keys and positions from the inside out.
    path: Vec<String>,
}

#[derive(Debug)]
pub(super) enum Kind {
    /// Another value belongs here; `must` goes on after the value's path.
    Value {
        code: Code,
        must: String,
        help: String,
    },
    /// A number that its type can't hold; the range that rules ask for is narrower mostly.
    Beyond(Box<TooFar>),
    /// A value's own type refuses it, in its own words.
    Refused {
        code: Code,
        what: String,
        help: String,
    },
    /// The same, from a type that knows no codes.
    Custom(String),
    /// A word that is none of those that may stand here.
    Word {
        word: String,
        wanted: &'static [&'static str],
    },
    /// A key that means nothing in the struct at the address `owner`.
    UnknownKey {
        key: String,
        owner: usize,
        allowed: &'static [&'static str],
    },
    /// A key that must be there and is not.
    MissingKey(&'static str),
    /// Follows from a problem that has been told already.
    Consequence,
}

/// What there is to say of a number that its type can't hold.
#[derive(Debug)]
pub(super) struct TooFar {
    /// Goes on after the value's path.
    pub(super) must: String,
    pub(super) help: String,
    /// The text as written.
    pub(super) text: String,
    /// A number that the type holds and that is out of any narrower range too, as it is shown.
    pub(super) stand_in: String,
}

impl Problem {
    pub(super) const fn new(kind: Kind) -> Self {
        Self {
            kind,
            address: None,
            place: None,
            path: Vec::new(),
        }
    }

    pub(super) fn value(code: Code, must: impl Into<String>, help: impl Into<String>) -> Self {
        Self::new(Kind::Value {
            code,
            must: must.into(),
            help: help.into(),
        })
    }

    /// Says what the problem is about, unless that is known already.
    pub(super) fn at(mut self, address: usize, place: &Place) -> Self {
        if self.address.is_none() {
            self.address = Some(address);
            self.place = Some(place.clone());
            self.path.clear();
        }
        self
    }

    /// Where it is, if that is known; else where the item is.
    pub(super) fn place<'p>(&'p self, item: &'p Place) -> &'p Place {
        self.place.as_ref().unwrap_or(item)
    }

    /// Adds a step outwards to the path.
    pub(super) fn within(mut self, step: impl Into<String>) -> Self {
        if self.address.is_some() {
            self.path.push(step.into());
        }
        self
    }

    /// The same problem as one that follows from another, about nothing in particular yet.
    pub(super) const fn consequence() -> Self {
        Self::new(Kind::Consequence)
    }

    /// The problem in words; `None` if it has been told already.
    pub(super) fn tell(&self, item: &str, item_place: &Place) -> Option<Diagnostic> {
        let mut path = item.to_owned();
        for step in self.path.iter().rev() {
            if !path.is_empty() && !step.starts_with('[') {
                path.push('.');
            }
            path.push_str(step);
        }
        let subject = if path.is_empty() {
            String::from("this")
        } else {
            format!("`{path}`")
        };
        let place = self.place(item_place).clone();
        let (code, what, help) = match &self.kind {
            Kind::Consequence => return None,
            Kind::Value { code, must, help } => (*code, format!("{subject} {must}"), help.clone()),
            Kind::Beyond(number) => (
                Code::OutOfRange,
                format!("{subject} {}", number.must),
                number.help.clone(),
            ),
            Kind::Refused { code, what, help } => (*code, what.clone(), help.clone()),
            Kind::Custom(what) => (
                Code::BadValue,
                what.clone(),
                format!("this is about {subject}; change it so that it holds"),
            ),
            Kind::Word { word, wanted } => (
                Code::UnknownWord,
                format!("{subject} can't be `{}`", shortened(word)),
                suggestion(word, wanted),
            ),
            Kind::UnknownKey { key, allowed, .. } => (
                Code::UnknownKey,
                format!("the key `{}` means nothing in {subject}", shortened(key)),
                suggestion(key, allowed),
            ),
            Kind::MissingKey(key) => (
                Code::MissingKey,
                format!("{subject} lacks the key `{key}`"),
                format!("add `{key}:` with its value"),
            ),
        };
        Some(Diagnostic::new(code, place, what, help))
    }
}

/// What somebody may have meant, and what else may stand there.
fn suggestion(word: &str, allowed: &[&str]) -> String {
    let list = listed(allowed);
    match nearest(word, allowed.iter().copied()) {
        Some(meant) => format!("did you mean `{meant}`? Allowed here: {list}"),
        None if allowed.is_empty() => "nothing may stand here; take it out".into(),
        None => format!("allowed here: {list}"),
    }
}

/// Words for a message, in the order given.
pub(super) fn listed(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    quoted.join(", ")
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.tell("", &Place::unknown()) {
            Some(told) => f.write_str(&told.what),
            None => f.write_str("this follows from another problem"),
        }
    }
}

impl std::error::Error for Problem {}

impl de::Error for Problem {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self::new(Kind::Custom(message.to_string()))
    }

    fn unknown_variant(word: &str, wanted: &'static [&'static str]) -> Self {
        Self::new(Kind::Word {
            word: word.to_owned(),
            wanted,
        })
    }

    fn missing_field(field: &'static str) -> Self {
        Self::new(Kind::MissingKey(field))
    }

    fn duplicate_field(field: &'static str) -> Self {
        Self::new(Kind::Custom(format!(
            "the key `{field}` is given twice, under two of its names"
        )))
    }
}
