//! What the tree itself says to be wrong with an item before it is read.

use std::collections::{HashMap, HashSet};

use super::de::{key_address, node_address};
use super::tree::{Key, Kind, Node, Standing};
use crate::base::{Code, Diagnostic, Place};

/// Of keys that stand more often than this in one map, those behind are not read.
const MOST_ROUNDS: usize = 8;

/// What is marked in a node, by address.
#[derive(Default)]
pub(super) struct Marked {
    /// Values that were refused, and keys that are passed over.
    pub(super) broken: HashSet<usize>,
    /// Maps with a key that was refused: it may be any that they lack.
    pub(super) open: HashSet<usize>,
    /// Maps with keys that stand again, and where those stand: each may be one that the map lacks.
    pub(super) again: HashMap<usize, Vec<Place>>,
    /// How often a key stands in its map, at the most; once where none stands again.
    pub(super) rounds: usize,
}

impl Marked {
    /// The marks for one of the rounds in which a node is read: of keys that stand several times
    /// each round takes another.
    pub(super) fn of(node: &Node, round: usize) -> Self {
        let mut marked = Self {
            rounds: 1,
            ..Self::default()
        };
        marked.note(node, round);
        marked.rounds = marked.rounds.min(MOST_ROUNDS);
        marked
    }

    fn note(&mut self, node: &Node, round: usize) {
        match &node.kind {
            Kind::Scalar(_) => {}
            Kind::Refused => drop(self.broken.insert(node_address(node))),
            Kind::List(items) => items.iter().for_each(|item| self.note(item, round)),
            Kind::Map(entries) => {
                for (key, value) in entries {
                    if key.standing == Standing::Refused {
                        self.broken.insert(key_address(key));
                        self.open.insert(node_address(node));
                    }
                    self.note(value, round);
                }
                let again = entries.iter().map(|(key, _)| key);
                let again = again.filter(|key| key.standing == Standing::Again);
                let again: Vec<Place> = again.map(|key| key.place.clone()).collect();
                if !again.is_empty() {
                    self.again.insert(node_address(node), again);
                    let mut stand: HashMap<&str, Vec<usize>> = HashMap::new();
                    for (key, _) in entries {
                        stand.entry(&key.text).or_default().push(key_address(key));
                    }
                    for all in stand.into_values() {
                        let taken = round.min(all.len().saturating_sub(1));
                        self.rounds = self.rounds.max(all.len());
                        let others = all.into_iter().enumerate().filter(|(at, _)| *at != taken);
                        self.broken.extend(others.map(|(_, address)| address));
                    }
                }
            }
        }
    }
}

/// Where keys stand that their map has before.
pub(super) fn places_again(node: &Node, out: &mut HashSet<Place>) {
    match &node.kind {
        Kind::Scalar(_) | Kind::Refused => {}
        Kind::List(items) => items.iter().for_each(|item| places_again(item, out)),
        Kind::Map(entries) => {
            for (key, value) in entries {
                if key.standing == Standing::Again {
                    out.insert(key.place.clone());
                }
                places_again(value, out);
            }
        }
    }
}

/// Takes back what is wrong with values that do not fit their key at all, where the key stands in its
/// map with another value that fits: then another key was meant, and that has been told.
pub(super) fn drop_misfits(node: &Node, found: &mut Vec<Diagnostic>) {
    match &node.kind {
        Kind::Scalar(_) | Kind::Refused => {}
        Kind::List(items) => items.iter().for_each(|item| drop_misfits(item, found)),
        Kind::Map(entries) => {
            for (key, value) in entries {
                drop_misfits(value, found);
                if key.standing == Standing::Again {
                    let same = |(other, _): &&(Key, Node)| other.text == key.text;
                    let values = entries.iter().filter(same).map(|(_, value)| value);
                    let (no, fit): (Vec<&Node>, Vec<&Node>) =
                        values.partition(|value| found.iter().any(|told| is_misfit(value, told)));
                    if !fit.is_empty() {
                        found.retain(|told| !no.iter().any(|value| is_misfit(value, told)));
                    }
                }
            }
        }
    }
}

/// Whether a problem is that something of another sort than a value belongs there.
fn is_misfit(value: &Node, told: &Diagnostic) -> bool {
    let is_number =
        |text: &str| text.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c));
    let is_key = |(key, _): &(Key, Node)| key.place == told.place;
    match told.code {
        Code::WrongType | Code::UnknownWord | Code::BadId | Code::MissingKey => {
            told.place == value.place
        }
        Code::BadNumber => told.place == value.place && !value.as_text().is_some_and(is_number),
        Code::UnknownKey => value
            .as_map()
            .is_some_and(|entries| entries.iter().any(is_key)),
        _ => false,
    }
}
