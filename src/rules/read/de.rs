//! Reading values from their tree, leaving out what has been found wrong already.

use std::collections::{HashMap, HashSet};

use serde::de::{Deserializer, Visitor};

use super::parts::{Entries, Items};
use super::problem::{Kind as Wrong, Problem, listed};
use super::scalar::{PlaceThen, Text};
use super::tree::{Key, Kind, Node};
use crate::base::Code;
use crate::base::at::AT_MARK;

/// What earlier passes over an item have found wrong. Nodes and keys are told apart by their
/// address: the tree stays where it is as long as an item is read.
#[derive(Default)]
pub(super) struct Known {
    /// Nodes for which a stand-in is read, and keys that are passed over.
    pub(super) broken: HashSet<usize>,
    /// Nodes whose number its type can't hold, for which another is read.
    pub(super) beyond: HashSet<usize>,
    /// Keys that are missing in the map at an address, for which a stand-in is read as well.
    pub(super) absent: HashMap<usize, Vec<&'static str>>,
}

impl Known {
    /// Whether something in this node is known to be wrong.
    fn touches(&self, node: &Node) -> bool {
        if self.broken.is_empty() && self.absent.is_empty() {
            return false;
        }
        let address = node_address(node);
        self.broken.contains(&address)
            || self.absent.contains_key(&address)
            || match &node.kind {
                Kind::Scalar(_) | Kind::Refused => false,
                Kind::List(items) => items.iter().any(|item| self.touches(item)),
                Kind::Map(entries) => entries.iter().any(|(key, value)| {
                    self.broken.contains(&key_address(key)) || self.touches(value)
                }),
            }
    }
}

pub(super) fn node_address(node: &Node) -> usize {
    std::ptr::from_ref(node).addr()
}

pub(super) fn key_address(key: &Key) -> usize {
    std::ptr::from_ref(key).addr()
}

/// Reads a node.
#[derive(Clone, Copy)]
pub(super) struct De<'a> {
    pub(super) node: &'a Node,
    pub(super) known: &'a Known,
}

impl<'a> De<'a> {
    pub(super) fn address(self) -> usize {
        node_address(self.node)
    }

    pub(super) fn is_broken(self) -> bool {
        self.known.broken.contains(&self.address())
    }

    /// Gives a problem that arose right here its place.
    pub(super) fn here<T>(self, result: Result<T, Problem>) -> Result<T, Problem> {
        result.map_err(|problem| {
            // A type that looks at several values may only be at odds with the stand-ins.
            let of_the_whole =
                problem.address.is_none() && matches!(problem.kind, Wrong::Custom(_));
            let problem = if of_the_whole && self.known.touches(self.node) {
                Problem::consequence()
            } else {
                problem
            };
            problem.at(self.address(), &self.node.place)
        })
    }

    fn wrong_type(self, wanted: &str, help: &str) -> Problem {
        if self.node.kind == Kind::Refused {
            return Problem::consequence();
        }
        let what = format!("must be {wanted}, not {}", self.node.in_words());
        Problem::value(Code::WrongType, what, help)
    }

    fn text(self, wanted: &str) -> Result<Text<'a>, Problem> {
        match &self.node.kind {
            Kind::Scalar(scalar) => Ok(Text {
                text: &scalar.text,
                style: scalar.style,
                place: &self.node.place,
                beyond: self.known.beyond.contains(&self.address()),
            }),
            _ => Err(self.wrong_type(wanted, "write a single word, number or text here")),
        }
    }

    fn list(self, wanted: &str) -> Result<Items<'a>, Problem> {
        let Kind::List(items) = &self.node.kind else {
            let help = "write a list, such as `[one, two]`, or lines that start with `- `";
            return Err(self.wrong_type(wanted, help));
        };
        Ok(Items::new(items, self.known))
    }

    fn map(self, fields: Option<&'static [&'static str]>) -> Result<Entries<'a>, Problem> {
        let Kind::Map(entries) = &self.node.kind else {
            let (wanted, help) = match fields {
                Some(fields) if !fields.is_empty() => (
                    format!("a map with the keys {}", listed(fields)),
                    "write `key: value` for each, on lines of their own or in `{}`",
                ),
                _ => (
                    String::from("a map"),
                    "write `key: value`, on lines of their own or in `{}`; an empty map is `{}`",
                ),
            };
            return Err(self.wrong_type(&wanted, help));
        };
        Ok(Entries::new(entries, fields, self))
    }
}

macro_rules! texts {
    ($($method:ident $wanted:literal,)+) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
            self.here(self.text($wanted).and_then(|text| text.$method(visitor)))
        }
    )+};
}

impl<'de> Deserializer<'de> for De<'_> {
    type Error = Problem;

    texts! {
        deserialize_bool "true or false",
        deserialize_i8 "a whole number",
        deserialize_i16 "a whole number",
        deserialize_i32 "a whole number",
        deserialize_i64 "a whole number",
        deserialize_u8 "a whole number",
        deserialize_u16 "a whole number",
        deserialize_u32 "a whole number",
        deserialize_u64 "a whole number",
        deserialize_f32 "a number",
        deserialize_f64 "a number",
        deserialize_char "a single letter",
        deserialize_str "a text",
        deserialize_string "a text",
        deserialize_bytes "a text",
        deserialize_byte_buf "a text",
        deserialize_identifier "a word",
    }

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        match &self.node.kind {
            Kind::Scalar(_) => self.deserialize_str(visitor),
            Kind::List(_) => self.deserialize_seq(visitor),
            Kind::Map(_) => self.deserialize_map(visitor),
            Kind::Refused => self.here(Err(Problem::consequence())),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        self.here(visitor.visit_some(self))
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Problem> {
        use crate::base::{decimal::DECIMAL_MARK, id::ID_MARK};
        use crate::rules::case::BEST_MARK;
        self.here(match name {
            AT_MARK => visitor.visit_seq(PlaceThen::new(&self.node.place, self)),
            ID_MARK => self
                .text("an id")
                .and_then(|text| text.deserialize_newtype_struct(name, visitor)),
            DECIMAL_MARK => self
                .text("a number")
                .and_then(|text| text.deserialize_newtype_struct(name, visitor)),
            BEST_MARK if self.node.as_map().is_some() => visitor.visit_some(self),
            _ => visitor.visit_newtype_struct(self),
        })
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        self.here(
            self.list("a list")
                .and_then(|items| visitor.visit_seq(items)),
        )
    }

    fn deserialize_tuple<V: Visitor<'de>>(
        self,
        len: usize,
        visitor: V,
    ) -> Result<V::Value, Problem> {
        let wanted = format!("a list of {len}");
        self.here(self.list(&wanted).and_then(|items| {
            let found = items.len();
            if found != len {
                return Err(Problem::value(
                    Code::WrongType,
                    format!("must be {wanted}, not of {found}"),
                    format!("write exactly {len} values"),
                ));
            }
            visitor.visit_seq(items.all())
        }))
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        len: usize,
        visitor: V,
    ) -> Result<V::Value, Problem> {
        self.deserialize_tuple(len, visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        self.here(
            self.map(None)
                .and_then(|entries| visitor.visit_map(entries)),
        )
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Problem> {
        self.here(
            self.map(Some(fields))
                .and_then(|entries| visitor.visit_map(entries)),
        )
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Problem> {
        let wanted = format!("one of {}", listed(variants));
        self.here(
            self.text(&wanted)
                .and_then(|text| text.deserialize_enum(name, variants, visitor)),
        )
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        visitor.visit_unit()
    }

    serde::forward_to_deserialize_any! { i128 u128 unit unit_struct }
}
