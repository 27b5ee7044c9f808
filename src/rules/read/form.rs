//! Texts that were read and checked beforehand, as bytes: their trees with every place, without anything to be parsed.
//!
//! A fingerprint of the texts stands first, so that a form of other texts is never taken for theirs. Numbers are written seven
//! bits a byte, the lowest first; a text stands once, in a table, and is named by its number there. What a form holds is known
//! to be sound, so that whatever does not fit makes it none.

use std::sync::Arc;

use serde::de::{self, Deserialize, DeserializeOwned, DeserializeSeed, Deserializer, Visitor};

use super::problem::Problem;
use super::scalar::{PlaceThen, Text};
use super::tree::Style;
use crate::base::at::AT_MARK;
use crate::base::decimal::DECIMAL_MARK;
use crate::base::id::ID_MARK;
use crate::base::{At, Place};

/// What a node begins with.
pub(super) const TEXT: u64 = 0;
pub(super) const LIST: u64 = 1;
pub(super) const MAP: u64 = 2;

/// The texts of a form.
pub(crate) struct Form<'f> {
    /// Of the texts that it was made of.
    pub(crate) fingerprint: &'f str,
    words: Vec<&'f str>,
    files: u64,
    bytes: &'f [u8],
}

impl<'f> Form<'f> {
    /// The form that these bytes are; none where they are none.
    pub(crate) fn of(bytes: &'f [u8]) -> Option<Self> {
        let mut bytes = bytes;
        let mut words = Vec::new();
        let fingerprint = text(&mut bytes)?;
        for _ in 0..number(&mut bytes)? {
            words.push(text(&mut bytes)?);
        }
        let files = number(&mut bytes)?;
        Some(Self {
            fingerprint,
            words,
            files,
            bytes,
        })
    }

    /// Reads each file's tree with `read`, which must read all of it; none where something does not fit.
    pub(crate) fn files(
        &self,
        mut read: impl FnMut(&mut Stream<'_, 'f>) -> Option<()>,
    ) -> Option<()> {
        let mut bytes = self.bytes;
        for _ in 0..self.files {
            let file = self.words.get(place(number(&mut bytes)?)?)?;
            let mut stream = Stream {
                words: &self.words,
                bytes,
                file: Arc::from(*file),
                line: 0,
                head: None,
            };
            read(&mut stream)?;
            bytes = stream.bytes;
        }
        bytes.is_empty().then_some(())
    }
}

fn number(bytes: &mut &[u8]) -> Option<u64> {
    let (mut number, mut shift) = (0u64, 0u32);
    loop {
        let (first, rest) = bytes.split_first()?;
        *bytes = rest;
        number |= u64::from(first & 0x7f).checked_shl(shift)?;
        if first & 0x80 == 0 {
            return Some(number);
        }
        shift += 7;
    }
}

fn text<'f>(bytes: &mut &'f [u8]) -> Option<&'f str> {
    let length = place(number(bytes)?)?;
    let (text, rest) = bytes.split_at_checked(length)?;
    *bytes = rest;
    std::str::from_utf8(text).ok()
}

fn place(number: u64) -> Option<usize> {
    usize::try_from(number).ok()
}

/// What stands before the parts of a node.
struct Head {
    kind: u64,
    place: Place,
}

/// The rest of a file's tree.
pub(crate) struct Stream<'s, 'f> {
    words: &'s [&'f str],
    bytes: &'f [u8],
    file: Arc<str>,
    line: u32,
    /// Of the node whose parts come next, where it was read already.
    head: Option<Head>,
}

impl<'f> Stream<'_, 'f> {
    fn number(&mut self) -> Result<u64, Problem> {
        number(&mut self.bytes).ok_or_else(spoilt)
    }

    fn here(&mut self) -> Result<Place, Problem> {
        let further = u32::try_from(self.number()?).map_err(|_| spoilt())?;
        let column = u32::try_from(self.number()?).map_err(|_| spoilt())?;
        self.line = self.line.checked_add(further).ok_or_else(spoilt)?;
        Ok(Place::new(&self.file, self.line, column))
    }

    fn word(&mut self) -> Result<&'f str, Problem> {
        let at = place(self.number()?).ok_or_else(spoilt)?;
        self.words.get(at).copied().ok_or_else(spoilt)
    }

    fn head(&mut self) -> Result<Head, Problem> {
        if let Some(head) = self.head.take() {
            return Ok(head);
        }
        let kind = self.number()?;
        let place = self.here()?;
        Ok(Head { kind, place })
    }

    fn written(&mut self) -> Result<Written<'f>, Problem> {
        let head = self.head()?;
        if head.kind != TEXT {
            return Err(spoilt());
        }
        let text = self.word()?;
        Ok(Written {
            text,
            place: head.place,
        })
    }

    fn key(&mut self) -> Result<Written<'f>, Problem> {
        let place = self.here()?;
        let text = self.word()?;
        Ok(Written { text, place })
    }

    /// Each entry of a map in its order; `read` must read all of each value.
    pub(crate) fn entries(
        &mut self,
        mut read: impl FnMut(&mut Self, Written<'f>) -> Option<()>,
    ) -> Option<()> {
        if self.head().ok()?.kind != MAP {
            return None;
        }
        for _ in 0..self.number().ok()? {
            let key = self.key().ok()?;
            read(self, key)?;
        }
        Some(())
    }

    /// An item under its key.
    pub(crate) fn item<I: DeserializeOwned, T: DeserializeOwned>(
        &mut self,
        key: &Written<'_>,
    ) -> Option<(At<I>, T)> {
        let id = At::deserialize(key.as_text()).ok()?;
        Some((id, T::deserialize(De(self)).ok()?))
    }

    /// Passes over a node.
    pub(crate) fn skip(&mut self) -> Option<()> {
        match self.head().ok()?.kind {
            TEXT => self.word().ok().map(|_| ()),
            LIST => {
                for _ in 0..self.number().ok()? {
                    self.skip()?;
                }
                Some(())
            }
            MAP => {
                for _ in 0..self.number().ok()? {
                    self.key().ok()?;
                    self.skip()?;
                }
                Some(())
            }
            _ => None,
        }
    }
}

fn spoilt() -> Problem {
    de::Error::custom("the form is spoilt")
}

/// A text with its place: a value or a key.
pub(crate) struct Written<'f> {
    pub(crate) text: &'f str,
    place: Place,
}

impl Written<'_> {
    /// How it was written has been looked at.
    fn as_text(&self) -> Text<'_> {
        Text {
            text: self.text,
            style: Style::Plain,
            place: &self.place,
            beyond: false,
        }
    }
}

/// Reads the next node.
struct De<'d, 's, 'f>(&'d mut Stream<'s, 'f>);

macro_rules! texts {
    ($($method:ident)+) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
            self.0.written()?.as_text().$method(visitor)
        }
    )+};
}

impl<'de> Deserializer<'de> for De<'_, '_, '_> {
    type Error = Problem;

    texts! {
        deserialize_bool deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_u8 deserialize_u16
        deserialize_u32 deserialize_u64
    }

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        let (kind, stream) = (self.0.head()?.kind, self.0);
        if kind == TEXT {
            return visitor.visit_str(stream.word()?);
        }
        let left = stream.number()?;
        match kind {
            LIST => visitor.visit_seq(Parts { stream, left }),
            MAP => visitor.visit_map(Parts { stream, left }),
            _ => Err(spoilt()),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Problem> {
        match name {
            AT_MARK => {
                let head = self.0.head()?;
                let place = head.place.clone();
                self.0.head = Some(head);
                visitor.visit_seq(PlaceThen::new(&place, self))
            }
            ID_MARK | DECIMAL_MARK => self.deserialize_any(visitor),
            _ => visitor.visit_newtype_struct(self),
        }
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Problem> {
        let word = self.0.written()?;
        word.as_text().deserialize_enum(name, variants, visitor)
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        self.0.skip().ok_or_else(spoilt)?;
        visitor.visit_unit()
    }

    serde::forward_to_deserialize_any! {
        i128 u128 f32 f64 char str string bytes byte_buf unit unit_struct seq tuple tuple_struct map struct identifier
    }
}

/// What is left of a list or a map.
struct Parts<'p, 's, 'f> {
    stream: &'p mut Stream<'s, 'f>,
    left: u64,
}

impl Parts<'_, '_, '_> {
    fn more(&mut self) -> bool {
        let more = self.left > 0;
        self.left = self.left.saturating_sub(1);
        more
    }
}

impl<'de> de::SeqAccess<'de> for Parts<'_, '_, '_> {
    type Error = Problem;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Problem> {
        if !self.more() {
            return Ok(None);
        }
        seed.deserialize(De(&mut *self.stream)).map(Some)
    }
}

impl<'de> de::MapAccess<'de> for Parts<'_, '_, '_> {
    type Error = Problem;

    fn next_key_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Problem> {
        if !self.more() {
            return Ok(None);
        }
        let key = self.stream.key()?;
        seed.deserialize(key.as_text()).map(Some)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, Problem> {
        seed.deserialize(De(&mut *self.stream))
    }
}
