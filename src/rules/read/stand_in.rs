//! Values that stand in for wrong or missing ones, so that reading goes on and finds the other
//! problems of an item. What was read with a stand-in is never handed out.

use serde::de::value::StrDeserializer;
use serde::de::{DeserializeSeed, Deserializer, IntoDeserializer, MapAccess, SeqAccess, Visitor};

use super::problem::Problem;
use crate::base::at::AT_MARK;
use crate::base::decimal::DECIMAL_MARK;
use crate::base::id::ID_MARK;

/// Types inside types beyond this depth get no stand-in: some type may ask for itself without end.
const DEEPEST: u8 = 24;

/// Answers whatever is asked for with the plainest value of that type.
#[derive(Clone, Copy)]
pub(super) struct StandIn {
    depth: u8,
}

impl StandIn {
    pub(super) const fn new() -> Self {
        Self { depth: 0 }
    }

    const fn inner(self) -> Self {
        Self {
            depth: self.depth.saturating_add(1),
        }
    }
}

macro_rules! answers {
    ($($method:ident $visit:ident $value:expr;)+) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
            visitor.$visit($value)
        }
    )+};
}

impl<'de> Deserializer<'de> for StandIn {
    type Error = Problem;

    answers! {
        deserialize_any visit_str "1";
        deserialize_bool visit_bool false;
        deserialize_i8 visit_i8 1;
        deserialize_i16 visit_i16 1;
        deserialize_i32 visit_i32 1;
        deserialize_i64 visit_i64 1;
        deserialize_u8 visit_u8 1;
        deserialize_u16 visit_u16 1;
        deserialize_u32 visit_u32 1;
        deserialize_u64 visit_u64 1;
        deserialize_char visit_char 'x';
        deserialize_str visit_str "x";
        deserialize_string visit_str "x";
        deserialize_identifier visit_str "x";
        deserialize_seq visit_seq Nothing;
        deserialize_map visit_map Nothing;
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        visitor.visit_none()
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Problem> {
        visitor.visit_unit()
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Problem> {
        if self.depth > DEEPEST {
            return Err(Problem::consequence());
        }
        match name {
            ID_MARK => visitor.visit_str("x"),
            DECIMAL_MARK => visitor.visit_str("1"),
            AT_MARK => visitor.visit_newtype_struct(self.inner()),
            _ => visitor.visit_newtype_struct(self.inner()),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Problem> {
        if self.depth > DEEPEST {
            return Err(Problem::consequence());
        }
        visitor.visit_map(Fields {
            names: fields.iter(),
            value: self.inner(),
        })
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Problem> {
        let word = variants.first().copied().unwrap_or("x");
        let word: StrDeserializer<'_, Problem> = word.into_deserializer();
        visitor.visit_enum(word)
    }

    serde::forward_to_deserialize_any! {
        i128 u128 f32 f64 bytes byte_buf unit unit_struct tuple tuple_struct
    }
}

/// A list or map with nothing in it.
struct Nothing;

impl<'de> SeqAccess<'de> for Nothing {
    type Error = Problem;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        _: S,
    ) -> Result<Option<S::Value>, Problem> {
        Ok(None)
    }
}

impl<'de> MapAccess<'de> for Nothing {
    type Error = Problem;

    fn next_key_seed<S: DeserializeSeed<'de>>(
        &mut self,
        _: S,
    ) -> Result<Option<S::Value>, Problem> {
        Ok(None)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, _: S) -> Result<S::Value, Problem> {
        Err(Problem::consequence())
    }
}

/// A struct with a stand-in in every field.
struct Fields {
    names: std::slice::Iter<'static, &'static str>,
    value: StandIn,
}

impl<'de> MapAccess<'de> for Fields {
    type Error = Problem;

    fn next_key_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Problem> {
        let Some(name) = self.names.next() else {
            return Ok(None);
        };
        let name: StrDeserializer<'_, Problem> = name.into_deserializer();
        seed.deserialize(name).map(Some)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, Problem> {
        seed.deserialize(self.value)
    }
}
