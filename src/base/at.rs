//! A value that remembers where it was read.

use std::borrow::Borrow;
use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::marker::PhantomData;
use std::ops::Deref;
use std::sync::Arc;

use serde::de::{self, Deserialize, Deserializer, SeqAccess, Visitor};
use serde::ser::{Serialize, Serializer};

use super::place::Place;

/// The name under which an [`At`] asks the located reader for its place. That reader then hands
/// out a sequence of file, line, column and value; any other reader hands out the value.
pub(crate) const AT_MARK: &str = "$drillwright::At";

/// A value with the place where it was read.
///
/// It compares, sorts, hashes and is written as the value alone. Read from a rule file it has the
/// value's place, read by anything else [`Place::unknown`].
#[derive(Clone)]
pub struct At<T> {
    /// The value.
    pub value: T,
    /// Where it was read.
    pub place: Place,
}

impl<T> At<T> {
    /// `value` as read at `place`.
    #[must_use]
    pub const fn new(value: T, place: Place) -> Self {
        Self { value, place }
    }

    /// `value` with no known place.
    #[must_use]
    pub fn nowhere(value: T) -> Self {
        Self::new(value, Place::unknown())
    }

    /// The value alone.
    #[must_use]
    pub fn into_value(self) -> T {
        self.value
    }
}

impl<T> Deref for At<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.value
    }
}

impl<T> AsRef<T> for At<T> {
    fn as_ref(&self) -> &T {
        &self.value
    }
}

impl<T> Borrow<T> for At<T> {
    fn borrow(&self) -> &T {
        &self.value
    }
}

impl<T: fmt::Debug> fmt::Debug for At<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?} @ {}", self.value, self.place)
    }
}

impl<T: fmt::Display> fmt::Display for At<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.value.fmt(f)
    }
}

impl<T: PartialEq> PartialEq for At<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl<T: Eq> Eq for At<T> {}

impl<T: PartialOrd> PartialOrd for At<T> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        self.value.partial_cmp(&other.value)
    }
}

impl<T: Ord> Ord for At<T> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.value.cmp(&other.value)
    }
}

impl<T: Hash> Hash for At<T> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.value.hash(state);
    }
}

impl<T: Serialize> Serialize for At<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.value.serialize(serializer)
    }
}

/// The name of a file, made of the reader's text at once.
struct FileName(Arc<str>);

impl<'de> Deserialize<'de> for FileName {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Name;
        impl Visitor<'_> for Name {
            type Value = FileName;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the name of a file")
            }

            fn visit_str<E>(self, text: &str) -> Result<FileName, E> {
                Ok(FileName(Arc::from(text)))
            }
        }
        deserializer.deserialize_str(Name)
    }
}

struct AtVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for AtVisitor<T> {
    type Value = At<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }

    fn visit_newtype_struct<D: Deserializer<'de>>(self, inner: D) -> Result<At<T>, D::Error> {
        T::deserialize(inner).map(At::nowhere)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<At<T>, A::Error> {
        fn some<V, E: de::Error>(part: Option<V>) -> Result<V, E> {
            part.ok_or_else(|| E::custom("a value with its place has four parts"))
        }
        let FileName(file) = some(seq.next_element()?)?;
        let line = some(seq.next_element()?)?;
        let column = some(seq.next_element()?)?;
        let value = some(seq.next_element()?)?;
        let place = Place { file, line, column };
        Ok(At::new(value, place))
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for At<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_newtype_struct(AT_MARK, AtVisitor(PhantomData))
    }
}

#[cfg(feature = "schema")]
impl<T: schemars::JsonSchema> schemars::JsonSchema for At<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        T::schema_name()
    }

    fn schema_id() -> std::borrow::Cow<'static, str> {
        T::schema_id()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        T::json_schema(generator)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::base::id::SkillId;

    #[test]
    fn compares_sorts_and_shows_as_the_value() {
        let file: Arc<str> = Arc::from("a.yaml");
        let one = At::new(1, Place::new(&file, 9, 9));
        let same = At::nowhere(1);
        let two = At::new(2, Place::new(&file, 1, 1));
        assert_eq!(one, same);
        assert!(one < two);
        assert_eq!(one.to_string(), "1");
        assert_eq!(format!("{one:?}"), "1 @ a.yaml:9:9");
        assert_eq!(two.into_value(), 2);
    }

    #[test]
    fn goes_through_other_readers_without_a_place() {
        let map: BTreeMap<At<SkillId>, At<Vec<u8>>> =
            serde_json::from_str(r#"{"snatch":[1,2,3,4,5]}"#).unwrap();
        let (key, value) = map.iter().next().unwrap();
        assert_eq!(key.as_str(), "snatch");
        assert_eq!(value.value, [1, 2, 3, 4, 5]);
        assert!(key.place.is_unknown() && value.place.is_unknown());
        let json = serde_json::to_string(&map).unwrap();
        assert_eq!(json, r#"{"snatch":[1,2,3,4,5]}"#);
        let map: BTreeMap<At<SkillId>, At<u8>> = serde_yaml::from_str("jerk: 4").unwrap();
        assert_eq!(**map.values().next().unwrap(), 4);
        let id = SkillId::new("jerk").unwrap();
        assert!(map.contains_key(&id));
    }

    #[cfg(feature = "schema")]
    #[test]
    fn has_the_schema_of_the_value() {
        let with = schemars::schema_for!(At<SkillId>);
        let without = schemars::schema_for!(SkillId);
        assert_eq!(with, without);
    }
}
