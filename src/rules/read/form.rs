//! Texts that were read and checked beforehand, as bytes: their trees with every place, without anything to be parsed.
//!
//! A fingerprint of the texts stands first, so that a form of other texts is never taken for theirs. Numbers are written seven
//! bits a byte, the lowest first; a text stands once, in a table, and is named by its number there. What a form holds is known
//! to be sound, so that whatever does not fit makes it none.

use std::sync::Arc;

use serde::de::{self, DeserializeSeed, Deserializer, Visitor};

use super::form_text::{Spoilt, Written, spoilt};
use super::scalar::PlaceThen;
use crate::base::Place;
use crate::base::at::AT_MARK;
use crate::base::decimal::DECIMAL_MARK;
use crate::base::id::ID_MARK;

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
#[derive(Clone)]
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
    fn number(&mut self) -> Result<u64, Spoilt> {
        number(&mut self.bytes).ok_or(Spoilt)
    }

    fn here(&mut self) -> Result<Place, Spoilt> {
        let further = u32::try_from(self.number()?).map_err(spoilt)?;
        let column = u32::try_from(self.number()?).map_err(spoilt)?;
        self.line = self.line.checked_add(further).ok_or(Spoilt)?;
        Ok(Place::new(&self.file, self.line, column))
    }

    fn word(&mut self) -> Result<&'f str, Spoilt> {
        let at = place(self.number()?).ok_or(Spoilt)?;
        self.words.get(at).copied().ok_or(Spoilt)
    }

    fn head(&mut self) -> Result<Head, Spoilt> {
        if let Some(head) = self.head.take() {
            return Ok(head);
        }
        let kind = self.number()?;
        let place = self.here()?;
        Ok(Head { kind, place })
    }

    fn written(&mut self) -> Result<Written<'f>, Spoilt> {
        let head = self.head()?;
        if head.kind != TEXT {
            return Err(Spoilt);
        }
        let text = self.word()?;
        Ok(Written {
            text,
            place: head.place,
        })
    }

    fn parts(&mut self, kind: u64) -> Result<u64, Spoilt> {
        if self.head()?.kind == kind {
            self.number()
        } else {
            Err(Spoilt)
        }
    }

    fn key(&mut self) -> Result<Written<'f>, Spoilt> {
        let place = self.here()?;
        let text = self.word()?;
        Ok(Written { text, place })
    }

    /// Each entry of a map in its order; `read` must read all of each value.
    pub(crate) fn entries(
        &mut self,
        mut read: impl FnMut(&mut Self, Written<'f>) -> Option<()>,
    ) -> Option<()> {
        for _ in 0..self.parts(MAP).ok()? {
            let key = self.key().ok()?;
            read(self, key)?;
        }
        Some(())
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

macro_rules! texts {
    ($($method:ident)+) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Spoilt> {
            self.written()?.$method(visitor)
        }
    )+};
}

impl<'de> Deserializer<'de> for &mut Stream<'_, '_> {
    type Error = Spoilt;

    texts! {
        deserialize_bool deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_u8 deserialize_u16
        deserialize_u32 deserialize_u64 deserialize_char deserialize_str deserialize_string deserialize_identifier
    }

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Spoilt> {
        let head = self.head()?;
        let kind = head.kind;
        self.head = Some(head);
        match kind {
            TEXT => self.deserialize_str(visitor),
            LIST => self.deserialize_seq(visitor),
            _ => self.deserialize_map(visitor),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Spoilt> {
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Spoilt> {
        match name {
            AT_MARK => {
                let head = self.head()?;
                let place = head.place.clone();
                self.head = Some(head);
                visitor.visit_seq(PlaceThen::new(&place, self))
            }
            ID_MARK | DECIMAL_MARK => self.deserialize_str(visitor),
            _ => visitor.visit_newtype_struct(self),
        }
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Spoilt> {
        let left = self.parts(LIST)?;
        visitor.visit_seq(Parts { stream: self, left })
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Spoilt> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Spoilt> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Spoilt> {
        let left = self.parts(MAP)?;
        visitor.visit_map(Parts { stream: self, left })
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Spoilt> {
        self.deserialize_map(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Spoilt> {
        self.written()?.deserialize_enum(name, variants, visitor)
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Spoilt> {
        self.skip().ok_or(Spoilt)?;
        visitor.visit_unit()
    }

    serde::forward_to_deserialize_any! { i128 u128 f32 f64 bytes byte_buf unit unit_struct }
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
    type Error = Spoilt;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Spoilt> {
        if !self.more() {
            return Ok(None);
        }
        seed.deserialize(&mut *self.stream).map(Some)
    }
}

impl<'de> de::MapAccess<'de> for Parts<'_, '_, '_> {
    type Error = Spoilt;

    fn next_key_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Spoilt> {
        if !self.more() {
            return Ok(None);
        }
        let key = self.stream.key()?;
        seed.deserialize(key).map(Some)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, Spoilt> {
        seed.deserialize(&mut *self.stream)
    }
}
