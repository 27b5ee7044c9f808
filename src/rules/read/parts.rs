//! Walking over the items of a list and the entries of a map while they are read.

use serde::de::value::StrDeserializer;
use serde::de::{DeserializeSeed, IntoDeserializer, MapAccess, SeqAccess};

use super::de::{De, Known, key_address, node_address};
use super::problem::{Kind as Wrong, Problem};
use super::scalar::Text;
use super::stand_in::StandIn;
use super::tree::{Key, Kind, Node};
use crate::base::Place;

/// The items of a list.
pub(super) struct Items<'a> {
    items: std::slice::Iter<'a, Node>,
    done: usize,
    /// Whether each place in the list counts, as in a tuple; else broken items are passed over.
    all: bool,
    known: &'a Known,
}

impl<'a> Items<'a> {
    pub(super) fn new(items: &'a [Node], known: &'a Known) -> Self {
        Self {
            items: items.iter(),
            done: 0,
            all: false,
            known,
        }
    }

    pub(super) fn len(&self) -> usize {
        self.items.len()
    }

    /// The same, with each place in the list counting.
    pub(super) fn all(mut self) -> Self {
        self.all = true;
        self
    }
}

impl<'de> SeqAccess<'de> for Items<'_> {
    type Error = Problem;

    fn next_element_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Problem> {
        let node = loop {
            let Some(node) = self.items.next() else {
                return Ok(None);
            };
            self.done += 1;
            if self.all || !self.known.broken.contains(&node_address(node)) {
                break node;
            }
        };
        let position = format!("[{}]", self.done);
        read(seed, node, self.known)
            .map(Some)
            .map_err(|problem| problem.within(position))
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.items.len())
    }
}

/// The entries of a map, or of a struct if its fields are given.
pub(super) struct Entries<'a> {
    entries: std::slice::Iter<'a, (Key, Node)>,
    value: Option<Pending<'a>>,
    fields: Option<&'static [&'static str]>,
    absent: std::slice::Iter<'a, &'static str>,
    owner: De<'a>,
}

enum Pending<'a> {
    Read(&'a Key, &'a Node),
    StandIn,
}

impl<'a> Entries<'a> {
    pub(super) fn new(
        entries: &'a [(Key, Node)],
        fields: Option<&'static [&'static str]>,
        owner: De<'a>,
    ) -> Self {
        let absent = owner.known.absent.get(&owner.address());
        Self {
            entries: entries.iter(),
            value: None,
            fields,
            absent: absent.map_or(&[][..], Vec::as_slice).iter(),
            owner,
        }
    }
}

impl<'de> MapAccess<'de> for Entries<'_> {
    type Error = Problem;

    fn next_key_seed<S: DeserializeSeed<'de>>(
        &mut self,
        seed: S,
    ) -> Result<Option<S::Value>, Problem> {
        let known = self.owner.known;
        // Only a struct misses an entry that is passed over because of its value.
        let is_struct = self.fields.is_some();
        // What a comma within a number leaves behind, which has been told.
        let is_left_over = |key: &Key, node: &Node| {
            let unknown = |fields: &[&str]| !fields.contains(&key.text.as_str());
            node.kind == Kind::Refused
                && key.text.bytes().all(|byte| byte.is_ascii_digit())
                && self.fields.is_some_and(unknown)
        };
        let passed_over = |key: &Key, node: &Node| {
            known.broken.contains(&key_address(key))
                || is_left_over(key, node)
                || (!is_struct && known.broken.contains(&node_address(node)))
        };
        let Some((key, node)) = self.entries.find(|(key, node)| !passed_over(key, node)) else {
            let Some(name) = self.absent.next() else {
                return Ok(None);
            };
            self.value = Some(Pending::StandIn);
            let name: StrDeserializer<'_, Problem> = name.into_deserializer();
            return seed.deserialize(name).map(Some);
        };
        self.value = Some(Pending::Read(key, node));
        let address = key_address(key);
        if let Some(fields) = self.fields
            && !fields.contains(&key.text.as_str())
        {
            let unknown = Problem::new(Wrong::UnknownKey {
                key: key.text.clone(),
                owner: self.owner.address(),
                allowed: fields,
            });
            return Err(unknown.at(address, &key.place));
        }
        read_key(seed, key).map(Some)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, Problem> {
        match self.value.take() {
            Some(Pending::Read(key, node)) => read(seed, node, self.owner.known)
                .map_err(|problem| problem.within(key.text.clone())),
            _ => stand_in(seed),
        }
    }
}

/// Reads a key.
pub(super) fn read_key<'de, S: DeserializeSeed<'de>>(
    seed: S,
    key: &Key,
) -> Result<S::Value, Problem> {
    let place: &Place = &key.place;
    let text = Text {
        text: &key.text,
        style: key.style,
        place,
        beyond: false,
    };
    seed.deserialize(text)
        .map_err(|problem| problem.at(key_address(key), place).within(key.text.clone()))
}

fn read<'de, S: DeserializeSeed<'de>>(
    seed: S,
    node: &Node,
    known: &Known,
) -> Result<S::Value, Problem> {
    let de = De { node, known };
    if de.is_broken() {
        stand_in(seed)
    } else {
        // A type may refuse what it has read only after its reading is over.
        de.here(seed.deserialize(de))
    }
}

fn stand_in<'de, S: DeserializeSeed<'de>>(seed: S) -> Result<S::Value, Problem> {
    seed.deserialize(StandIn::new())
        .map_err(|_| Problem::consequence())
}
