//! Which ids there are, where, and which of them could not be read.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Code, Diagnostic, Place, nearest};
use crate::rules::read::{Beyond, Key, Kind, Node, id_meant};

use super::sections::Sort;

/// After so many dangling ids the nearest is no longer looked for, so that no input takes long.
const MOST_NEAREST: usize = 200;

/// One id that there is.
#[derive(Debug, Clone, Copy)]
struct Entry<'t> {
    place: &'t Place,
    node: Option<&'t Node>,
    /// It is there, but something about it could not be read.
    broken: bool,
}

/// Items by sort and id, with the places of their keys.
pub(crate) type Overlay<'t> = BTreeMap<(Sort, &'t str), (&'t Place, &'t Node)>;

/// All ids that files declare, read or not.
#[derive(Debug, Default)]
pub(crate) struct Declared<'t> {
    ids: BTreeMap<Sort, BTreeMap<&'t str, Entry<'t>>>,
    /// Words of files and sections that could not be read: anything of them may be an id.
    words: BTreeSet<String>,
    /// Sorts of which one has an id that is none, so that nobody knows how others name it.
    unnamed: BTreeSet<Sort>,
    /// There are files of which nobody knows what they hold.
    unread: bool,
    /// What files hold: kinds, and kinds of rules, as sorts say where they are listed.
    held: BTreeSet<String>,
    /// Where an id stands that stands in its file before, so that another was perhaps meant.
    doubled: BTreeMap<Sort, Vec<&'t Place>>,
    /// Items that are looked at in place of those with their ids.
    overlay: Overlay<'t>,
    /// Ids that were perhaps meant there, with the places of the double and of what names them.
    lost: Vec<(Place, String, Place)>,
    /// Numbers that their types can't hold, of items that were read.
    pub(crate) beyond: Vec<Beyond>,
    asked: usize,
}

impl<'t> Declared<'t> {
    /// Notes an id; the place of the first of that name where it is not the first.
    pub(crate) fn add(
        &mut self,
        sort: Sort,
        id: &'t str,
        place: &'t Place,
        node: Option<&'t Node>,
    ) -> Option<&'t Place> {
        let held = self.ids.entry(sort).or_default();
        if let Some(first) = held.get(id) {
            return Some(first.place);
        }
        held.insert(
            id,
            Entry {
                place,
                node,
                broken: false,
            },
        );
        None
    }

    /// Notes that an id's item could not be read.
    pub(crate) fn broken(&mut self, sort: Sort, id: &str) {
        if let Some(entry) = self.ids.get_mut(&sort).and_then(|held| held.get_mut(id)) {
            entry.broken = true;
        }
    }

    /// Notes a word that stands where an id is declared and is none: others may name it as it
    /// should be written, or any way at all where that can't be told.
    pub(crate) fn bad_id(&mut self, sort: Sort, word: &str) {
        // A part of it may be what others name.
        self.words_of_text(word);
        match id_meant(word) {
            Some(id) => drop(self.words.insert(id)),
            None => self.unnamed(sort),
        }
    }

    /// Notes that there is something of a sort, and nobody knows its id.
    pub(crate) fn unnamed(&mut self, sort: Sort) {
        self.unnamed.insert(sort);
    }

    /// Notes that a file holds a kind, or a kind of rules.
    pub(crate) fn holds(&mut self, kind: &str, variant: &str) {
        self.held.insert(kind.to_owned());
        self.held.insert(format!("{kind}: {variant}"));
    }

    /// Whether no file has anything of a sort, nor any place for it.
    pub(crate) fn has_none(&self, sort: Sort) -> bool {
        let (_, _, listed) = sort.words();
        self.ids(sort).next().is_none() && !self.held.contains(listed)
    }

    /// Notes an id that stands before, if that is in the same file.
    pub(crate) fn doubled(&mut self, sort: Sort, key: &'t Key, first: &Place) {
        if key.place.file == first.file {
            self.doubled.entry(sort).or_default().push(&key.place);
        }
    }

    /// How many ids of a sort stand before and have no other that was perhaps meant.
    pub(crate) fn doubles(&self, sort: Sort) -> usize {
        self.doubled.get(&sort).map_or(0, Vec::len)
    }

    /// Notes that an id which is named at a place was perhaps meant where another stands twice.
    pub(crate) fn lose(&mut self, sort: Sort, id: &str, named: Place) {
        self.words.insert(id.to_owned());
        if let Some(place) = self.doubled.get_mut(&sort).and_then(Vec::pop) {
            self.lost.push((place.clone(), id.to_owned(), named));
        }
    }

    /// Adds ids that were perhaps meant to the problems of those that stand twice.
    pub(crate) fn tell_lost(&self, out: &mut [Diagnostic]) {
        for (place, id, named) in &self.lost {
            let is_double =
                |told: &Diagnostic| matches!(told.code, Code::DuplicateKey | Code::DuplicateId);
            for told in out.iter_mut() {
                if told.place == *place && is_double(told) {
                    let note = format!("`{id}` is named here and is nowhere: perhaps it was meant");
                    told.also.push((named.clone(), note));
                }
            }
        }
    }

    /// Takes other items, by sort and id, for what ids mean.
    pub(crate) fn lay_over(&mut self, items: Overlay<'t>) {
        self.overlay = items;
    }

    /// Notes that there is a file of which nobody knows what it holds.
    pub(crate) fn anything(&mut self) {
        self.unread = true;
    }

    /// Notes every word of a text that could not be read.
    pub(crate) fn words_of_text(&mut self, text: &str) {
        let words =
            text.split(|c: char| !(c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'));
        self.words.extend(
            words
                .filter(|word| !word.is_empty() && word.len() <= crate::base::id::LONGEST_ID)
                .map(str::to_owned),
        );
    }

    /// Notes every word of a value that could not be placed.
    pub(crate) fn words_of_node(&mut self, node: &Node) {
        match &node.kind {
            Kind::Scalar(scalar) => {
                self.words.insert(scalar.text.clone());
            }
            Kind::Refused => {}
            Kind::List(items) => items.iter().for_each(|item| self.words_of_node(item)),
            Kind::Map(entries) => {
                for (key, value) in entries {
                    self.words.insert(key.text.clone());
                    self.words_of_node(value);
                }
            }
        }
    }

    /// Whether an id is there or may be.
    pub(crate) fn may_be(&self, sort: Sort, id: &str) -> bool {
        self.unread || self.has(sort, id) || self.words.contains(id) || self.unnamed.contains(&sort)
    }

    /// Whether there is or may be a rule of any kind with this id, read or not.
    pub(crate) fn may_be_rule(&self, id: &str) -> bool {
        let unnamed = |sort: &Sort| matches!(sort, Sort::Rule(_));
        self.unread
            || self.words.contains(id)
            || self.unnamed.iter().any(unnamed)
            || self.rule_ids().any(|(_, known)| known == id)
    }

    /// The ids of all rules, read or not, kind by kind.
    pub(crate) fn rule_ids(&self) -> impl Iterator<Item = (Sort, &'t str)> {
        let rules = self
            .ids
            .iter()
            .filter(|(sort, _)| matches!(sort, Sort::Rule(_)));
        rules.flat_map(|(sort, held)| held.keys().map(|id| (*sort, *id)))
    }

    /// Whether all of a sort was read.
    pub(crate) fn is_whole(&self, sort: Sort) -> bool {
        let mut ids = self.ids.get(&sort).into_iter().flat_map(BTreeMap::values);
        !self.unread
            && self.words.is_empty()
            && !self.unnamed.contains(&sort)
            && self.doubles(sort) == 0
            && ids.all(|entry| !entry.broken)
    }

    /// Whether an id is there, read or not.
    pub(crate) fn has(&self, sort: Sort, id: &str) -> bool {
        self.ids
            .get(&sort)
            .is_some_and(|held| held.contains_key(id))
    }

    /// Whether the id's item was read.
    pub(crate) fn is_read(&self, sort: Sort, id: &str) -> bool {
        self.ids
            .get(&sort)
            .and_then(|held| held.get(id))
            .is_some_and(|entry| !entry.broken)
    }

    /// Where an id is declared.
    pub(crate) fn place(&self, sort: Sort, id: &str) -> Option<&'t Place> {
        if let Some((place, _)) = self.overlay.get(&(sort, id)) {
            return Some(place);
        }
        self.ids
            .get(&sort)
            .and_then(|held| held.get(id))
            .map(|entry| entry.place)
    }

    /// The item as written.
    pub(crate) fn node(&self, sort: Sort, id: &str) -> Option<&'t Node> {
        if let Some((_, node)) = self.overlay.get(&(sort, id)) {
            return Some(node);
        }
        self.ids
            .get(&sort)
            .and_then(|held| held.get(id))
            .and_then(|entry| entry.node)
    }

    /// The ids of one sort, in order.
    pub(crate) fn ids(&self, sort: Sort) -> impl Iterator<Item = &'t str> {
        self.ids
            .get(&sort)
            .into_iter()
            .flat_map(|held| held.keys().copied())
    }

    /// Whether the nearest name may still be looked for.
    pub(crate) fn may_ask(&mut self) -> bool {
        self.asked = self.asked.saturating_add(1);
        self.asked <= MOST_NEAREST
    }

    /// Says that an id names nothing.
    pub(crate) fn dangling(&mut self, sort: Sort, id: &str, place: &Place) -> Diagnostic {
        let known: Vec<&str> = if self.may_ask() {
            self.ids(sort).collect()
        } else {
            Vec::new()
        };
        let found = dangling(sort, id, place, &known);
        let other = self
            .ids
            .iter()
            .filter(|(held, _)| **held != sort && !matches!(held, Sort::Rule(_)))
            .find_map(|(held, ids)| ids.get(id).map(|entry| (*held, entry.place)));
        match other {
            Some((held, place)) => {
                let (one, _, _) = held.words();
                found.with_also(place.clone(), format!("the {one} `{id}` stands here"))
            }
            None => found,
        }
    }
}

/// Says that an id names nothing of a sort, given the ids of that sort.
pub(crate) fn dangling(sort: Sort, id: &str, place: &Place, known: &[&str]) -> Diagnostic {
    let (one, many, listed) = sort.words();
    let what = format!("`{id}` is no {one}");
    Diagnostic::new(
        Code::DanglingId,
        place.clone(),
        what,
        meant(id, known, many, &format!("listed in `{listed}`")),
    )
}

/// What an id may have meant: the nearest, or all where there are few.
pub(crate) fn meant(id: &str, known: &[&str], many: &str, where_from: &str) -> String {
    const FEW: usize = 8;
    if let Some(near) = nearest(id, known.iter().copied()) {
        return format!("did you mean `{near}`? {many} are {where_from}");
    }
    if (1..=FEW).contains(&known.len()) {
        return format!("{many} are {where_from}: {}", list(known));
    }
    format!("{many} are {where_from}; write one of them, or add this one there")
}

/// Words for a message, in the order given.
pub(crate) fn list(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    quoted.join(", ")
}
