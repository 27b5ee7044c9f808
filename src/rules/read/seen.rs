//! What the second YAML reader sees, as far as it is compared with the first. Numbers of any size
//! are just numbers here: what may stand where is for the types of items to say.

use std::collections::HashSet;
use std::fmt;

use serde::de::{
    Deserialize, Deserializer, EnumAccess, Error, IgnoredAny, MapAccess, SeqAccess, Visitor,
};

/// A value of the second reader.
#[derive(Debug)]
pub(super) enum Seen {
    Nothing,
    Truth(bool),
    Number(String),
    Text(String),
    List(Vec<Seen>),
    Map(Vec<(Seen, Seen)>),
    Tagged,
}

struct AnyValue;

macro_rules! numbers {
    ($($visit:ident $type:ty;)+) => {$(
        fn $visit<E>(self, number: $type) -> Result<Seen, E> {
            Ok(Seen::Number(number.to_string()))
        }
    )+};
}

impl<'de> Visitor<'de> for AnyValue {
    type Value = Seen;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("any value")
    }

    fn visit_bool<E>(self, truth: bool) -> Result<Seen, E> {
        Ok(Seen::Truth(truth))
    }

    numbers! {
        visit_i64 i64;
        visit_u64 u64;
        visit_i128 i128;
        visit_u128 u128;
        visit_f64 f64;
    }

    fn visit_str<E>(self, text: &str) -> Result<Seen, E> {
        Ok(Seen::Text(text.to_owned()))
    }

    fn visit_unit<E>(self) -> Result<Seen, E> {
        Ok(Seen::Nothing)
    }

    fn visit_none<E>(self) -> Result<Seen, E> {
        Ok(Seen::Nothing)
    }

    fn visit_some<D: Deserializer<'de>>(self, inner: D) -> Result<Seen, D::Error> {
        Seen::deserialize(inner)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Seen, A::Error> {
        let mut all = Vec::new();
        while let Some(item) = items.next_element()? {
            all.push(item);
        }
        Ok(Seen::List(all))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Seen, A::Error> {
        let mut all = Vec::new();
        let mut taken = HashSet::new();
        while let Some((key, value)) = entries.next_entry()? {
            // Texts that stand twice have been told; these are two texts for the first reader.
            let word = match &key {
                Seen::Truth(truth) => Some(truth.to_string()),
                Seen::Number(number) => Some(number.clone()),
                _ => None,
            };
            if let Some(word) = word
                && let Some(twice) = taken.replace(word)
            {
                return Err(A::Error::custom(format_args!(
                    "the key {twice} stands twice"
                )));
            }
            all.push((key, value));
        }
        Ok(Seen::Map(all))
    }

    fn visit_enum<A: EnumAccess<'de>>(self, tagged: A) -> Result<Seen, A::Error> {
        let (_, inner): (IgnoredAny, _) = tagged.variant()?;
        serde::de::VariantAccess::newtype_variant::<IgnoredAny>(inner)?;
        Ok(Seen::Tagged)
    }
}

impl<'de> Deserialize<'de> for Seen {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(AnyValue)
    }
}
