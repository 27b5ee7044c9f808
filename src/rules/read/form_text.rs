//! Single texts of a form, be they values or keys: what they say is known to fit.

use std::fmt;

use serde::de::value::StrDeserializer;
use serde::de::{self, Deserializer, IntoDeserializer, Visitor};

use super::scalar::PlaceThen;
use crate::base::Place;
use crate::base::at::AT_MARK;
use crate::base::decimal::DECIMAL_MARK;
use crate::base::id::ID_MARK;

/// Why a form can't be read: it is none.
#[derive(Debug)]
pub(crate) struct Spoilt;

impl fmt::Display for Spoilt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the form is spoilt")
    }
}

impl std::error::Error for Spoilt {}

impl de::Error for Spoilt {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self
    }
}

pub(super) fn spoilt<E>(_: E) -> Spoilt {
    Spoilt
}

/// A text with its place: a value or a key.
pub(crate) struct Written<'f> {
    pub(crate) text: &'f str,
    pub(super) place: Place,
}

macro_rules! integers {
    ($($method:ident $visit:ident $type:ty;)+) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Spoilt> {
            visitor.$visit(self.text.parse::<$type>().map_err(spoilt)?)
        }
    )+};
}

impl<'de> Deserializer<'de> for Written<'_> {
    type Error = Spoilt;

    integers! {
        deserialize_i8 visit_i8 i8;
        deserialize_i16 visit_i16 i16;
        deserialize_i32 visit_i32 i32;
        deserialize_i64 visit_i64 i64;
        deserialize_u8 visit_u8 u8;
        deserialize_u16 visit_u16 u16;
        deserialize_u32 visit_u32 u32;
        deserialize_u64 visit_u64 u64;
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Spoilt> {
        visitor.visit_bool(self.text == "true")
    }

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Spoilt> {
        visitor.visit_str(self.text)
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
            ID_MARK | DECIMAL_MARK => visitor.visit_str(self.text),
            AT_MARK => visitor.visit_seq(PlaceThen::new(&self.place.clone(), self)),
            _ => visitor.visit_newtype_struct(self),
        }
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Spoilt> {
        let word: StrDeserializer<'_, Spoilt> = self.text.into_deserializer();
        visitor.visit_enum(word)
    }

    serde::forward_to_deserialize_any! {
        i128 u128 f32 f64 char str string bytes byte_buf unit unit_struct seq tuple tuple_struct
        map struct identifier ignored_any
    }
}
