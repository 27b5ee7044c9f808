//! Reading one item of a rule file into its type, with all that is wrong with it.

use std::collections::{HashMap, HashSet};
use std::marker::PhantomData;

use serde::de::DeserializeOwned;

use super::beyond::{Beyond, places_of};
use super::de::{De, Known, node_address};
use super::marked::{Marked, drop_misfits, places_again};
use super::parts;
use super::problem::{Kind, Problem};
use super::tree::{Key, Kind as Written, Node};
use crate::base::{Code, Diagnostic, Place, nearest};

/// After so many problems in one item nobody reads on.
const MOST_PROBLEMS: usize = 50;

/// Each problem costs one pass over the item, and those that follow from it a few more.
const MOST_PASSES: usize = 250;

/// So many passes decide whether an item fits a type at all.
const MOST_TRIES: usize = 8;

/// Reads the item at `node` into `T`; `path` is how messages name it, such as `rules.count.weekly`.
///
/// `None` if anything is wrong with it; then all its problems are added to `out`, sorted by place:
/// keys that mean nothing, keys that are missing, and values that do not fit, as far as one does
/// not follow from another. What is marked in the tree has been told.
pub fn read_item<T: DeserializeOwned>(
    node: &Node,
    path: &str,
    out: &mut Vec<Diagnostic>,
) -> Option<T> {
    let mut beyond = Vec::new();
    let reached = read_as_far(node, path, out, &mut beyond);
    if let (Reached::Whole(value), true) = (reached, beyond.is_empty()) {
        return Some(value);
    }
    out.extend(beyond.into_iter().map(|number| number.problem));
    out.sort();
    None
}

/// How far the reading of an item came.
pub enum Reached<T> {
    /// Nothing is wrong with it.
    Whole(T),
    /// Something is: what was not read is left out, or there is a stand-in for it. Good only for
    /// finding what else is wrong in the parts that were read.
    Salvaged(T),
    /// Not even that.
    Nothing,
}

/// The same, with what can be had of an item that something is wrong with. Numbers that their types
/// can't hold are read as others and noted in `beyond`.
pub fn read_as_far<T: DeserializeOwned>(
    node: &Node,
    path: &str,
    out: &mut Vec<Diagnostic>,
    beyond: &mut Vec<Beyond>,
) -> Reached<T> {
    if node.kind == Written::Refused {
        return Reached::Nothing;
    }
    let mut reading = Reading::new(node, path, 0);
    let value = reading.passes::<T>();
    let (rounds, marked) = (reading.rounds, reading.marked);
    let mut found = reading.found;
    let mut far = reading.beyond;
    for round in 1..rounds {
        let mut again = Reading::new(node, path, round);
        again.passes::<T>();
        add_again(node, again, &mut found, &mut far);
    }
    if rounds > 1 {
        drop_misfits(node, &mut found);
    }
    for (place, map, key) in reading.meant {
        let is_told =
            |told: &&mut Diagnostic| told.code == Code::DuplicateKey && told.place == place;
        if let Some(told) = out.iter_mut().find(is_told) {
            let note = format!("the key `{key}` is missing in this map: perhaps it was meant");
            told.also.push((map, note));
        }
    }
    beyond.append(&mut far);
    if found.is_empty() && !marked {
        if value.is_none() {
            out.push(Diagnostic::new(
                Code::BadValue,
                node.place.clone(),
                format!("`{path}` could not be read"),
                "compare it with an item of the same kind that is read",
            ));
        }
        return value.map_or(Reached::Nothing, Reached::Whole);
    }
    found.sort();
    out.append(&mut found);
    value.map_or(Reached::Nothing, Reached::Salvaged)
}

/// Adds what only a further round found: what is wrong in values whose key stands in its map before.
fn add_again(node: &Node, again: Reading<'_>, found: &mut Vec<Diagnostic>, far: &mut Vec<Beyond>) {
    let mut keys = HashSet::new();
    places_again(node, &mut keys);
    for problem in again.found {
        // That the key itself stands there has been told.
        if !keys.contains(&problem.place) && !found.contains(&problem) {
            found.push(problem);
        }
    }
    for number in again.beyond {
        if far.iter().all(|known| known.places != number.places) {
            far.push(number);
        }
    }
}

/// How well a node fits a type that it was perhaps meant for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fit {
    /// It can be read.
    Whole,
    /// Its keys are those of the type, and some of its values are wrong.
    Keys { wrong_values: usize },
    /// It has other keys, lacks some, or has very much wrong.
    Not,
}

/// How well a node fits `T`; what is wrong with it is told nowhere.
pub fn fit<T: DeserializeOwned>(node: &Node) -> Fit {
    if node.kind == Written::Refused {
        return Fit::Not;
    }
    let mut reading = Reading::new(node, "", 0);
    for _ in 0..MOST_TRIES {
        match reading.pass::<T>() {
            Ok(_) => {
                return match reading.found.len() + reading.beyond.len() {
                    0 => Fit::Whole,
                    wrong_values => Fit::Keys { wrong_values },
                };
            }
            Err(problem) if reading.is_of_own_keys(&problem) || !reading.take(&problem) => break,
            Err(_) => {}
        }
    }
    Fit::Not
}

/// Reads a key into `T`, such as an id; `path` is how messages name the map it is in.
///
/// `None` if the key does not fit; the problem is then added to `out`.
pub fn read_key<T: DeserializeOwned>(
    key: &Key,
    path: &str,
    out: &mut Vec<Diagnostic>,
) -> Option<T> {
    match parts::read_key(PhantomData::<T>, key) {
        Ok(value) => Some(value),
        Err(problem) => {
            out.extend(problem.tell(path, &key.place));
            None
        }
    }
}

/// The state of reading one item, over several passes.
struct Reading<'a> {
    node: &'a Node,
    path: &'a str,
    known: Known,
    /// Keys whose lack is explained by an unknown key that was probably meant for them.
    excused: HashSet<(usize, &'static str)>,
    /// Maps with a key that was refused, so that nobody knows what they lack.
    open: HashSet<usize>,
    /// Maps with keys that stand again, each of which may be one that the map lacks.
    again: HashMap<usize, Vec<Place>>,
    /// Keys that were perhaps meant so: where the other stands, the map, and the key.
    meant: Vec<(Place, Place, &'static str)>,
    /// In how many rounds each of the keys that stand several times is read once.
    rounds: usize,
    /// Whether the tree says that something is wrong.
    marked: bool,
    beyond: Vec<Beyond>,
    found: Vec<Diagnostic>,
}

impl<'a> Reading<'a> {
    fn new(node: &'a Node, path: &'a str, round: usize) -> Self {
        let Marked {
            broken,
            open,
            again,
            rounds,
        } = Marked::of(node, round);
        Self {
            node,
            path,
            marked: !broken.is_empty(),
            known: Known {
                broken,
                ..Known::default()
            },
            excused: HashSet::new(),
            open,
            again,
            meant: Vec::new(),
            rounds,
            beyond: Vec::new(),
            found: Vec::new(),
        }
    }

    /// Reads as often as something new is found to be wrong; what was read with all that left out.
    fn passes<T: DeserializeOwned>(&mut self) -> Option<T> {
        for _ in 0..MOST_PASSES {
            match self.pass::<T>() {
                Ok(read) => return Some(read),
                Err(problem) if self.take(&problem) => {}
                Err(_) => break,
            }
        }
        None
    }

    /// Reads once, with what is known to be wrong left out.
    fn pass<T: DeserializeOwned>(&self) -> Result<T, Problem> {
        let de = De {
            node: self.node,
            known: &self.known,
        };
        de.here(T::deserialize(de))
    }

    /// Whether a problem is a key that the item itself has or lacks.
    fn is_of_own_keys(&self, problem: &Problem) -> bool {
        let root = node_address(self.node);
        match &problem.kind {
            Kind::UnknownKey { owner, .. } => *owner == root,
            Kind::MissingKey(_) => problem.address.is_none_or(|address| address == root),
            _ => false,
        }
    }

    /// Takes what stopped a pass, and says whether another pass can get further.
    fn take(&mut self, problem: &Problem) -> bool {
        let root = node_address(self.node);
        let address = problem.address.unwrap_or(root);
        let (told, further) = match &problem.kind {
            Kind::MissingKey(key) => {
                let absent = self.known.absent.entry(address).or_default();
                if absent.contains(key) {
                    (false, self.leave_out(address))
                } else {
                    absent.push(key);
                    let excused = self.excused.contains(&(address, *key));
                    let told = !excused && !self.open.contains(&address);
                    (told && !self.is_meant(address, key, problem), true)
                }
            }
            Kind::UnknownKey {
                key,
                owner,
                allowed,
            } => {
                let meant = nearest(key, allowed.iter().copied());
                let meant = meant.and_then(|m| allowed.iter().find(|a| **a == m));
                self.excused.extend(meant.map(|meant| (*owner, *meant)));
                (true, self.leave_out(address))
            }
            Kind::Beyond(number) if self.known.beyond.insert(address) => {
                if let (Some(places), Some(problem)) = (
                    places_of(self.node, address),
                    problem.tell(self.path, &self.node.place),
                ) {
                    self.beyond.push(Beyond {
                        places,
                        text: number.text.clone(),
                        stand_in: number.stand_in.clone(),
                        problem,
                    });
                    (false, true)
                } else {
                    (true, self.leave_out(address))
                }
            }
            Kind::Consequence => (false, self.leave_out(address)),
            _ => (true, self.leave_out(address)),
        };
        if told {
            self.found.extend(problem.tell(self.path, &self.node.place));
        }
        if self.found.len() >= MOST_PROBLEMS {
            self.found.push(Diagnostic::new(
                Code::TooManyProblems,
                self.node.place.clone(),
                format!("`{}` has more problems than are listed", self.path),
                "put these right first",
            ));
            return false;
        }
        further
    }

    /// Whether a key that a map lacks was perhaps meant where another stands again.
    fn is_meant(&mut self, address: usize, key: &'static str, problem: &Problem) -> bool {
        let place = self.again.get_mut(&address).and_then(Vec::pop);
        let Some(place) = place else { return false };
        let map = problem.place(&self.node.place).clone();
        self.meant.push((place, map, key));
        true
    }

    /// Leaves a value or key out of the next pass; without the item itself there is none.
    fn leave_out(&mut self, address: usize) -> bool {
        self.known.broken.insert(address) && address != node_address(self.node)
    }
}
