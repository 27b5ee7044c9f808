//! What else is wrong with items that could not be read whole.
//!
//! Such an item is in no pack. What could be had of it is looked at once more, so that one problem
//! does not hide another; told is only what holds whatever the unread parts should have been.

use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Code, Diagnostic, Place, nearest};
use crate::rules::pack::Pack;
use crate::rules::read::{Beyond, Key, Kind, Node, settle};

use super::declared::Declared;
use super::items::items;
use super::sections::Sort;
use super::{Checks, axes, bounds, dangling, lineage, numbers};

/// Items with gaps and stand-ins.
#[derive(Default)]
pub(crate) struct Salvaged {
    pub(crate) pack: Pack,
    /// Numbers of them that their types can't hold.
    pub(crate) beyond: Vec<Beyond>,
}

/// Items whose id another has.
#[derive(Default)]
pub(crate) struct Doubles<'t> {
    /// What could be had of them.
    pub(crate) pack: Pack,
    items: BTreeMap<(Sort, &'t str), (&'t Place, &'t Node)>,
}

impl<'t> Doubles<'t> {
    /// Notes one; whether it is the first that has the id of another.
    pub(crate) fn add(&mut self, sort: Sort, key: &'t Key, node: &'t Node) -> bool {
        let entry = self.items.entry((sort, key.text.as_str()));
        let is_first = matches!(entry, Entry::Vacant(_));
        entry.or_insert((&key.place, node));
        is_first
    }
}

/// Problems in the parts that were read, and those that such parts show elsewhere. `spoilt` are the
/// places of what could not be read; `pack` ends up with salvaged items in it, and so is of no other use.
pub(crate) fn check_salvaged(
    pack: &mut Pack,
    salvaged: Salvaged,
    doubles: Doubles<'_>,
    spoilt: &BTreeSet<Place>,
    declared: Declared<'_>,
    told: &mut [Diagnostic],
) -> Vec<Diagnostic> {
    let (mut out, declared) = of_values(&salvaged.pack, salvaged.beyond, spoilt, declared);
    let (found, mut declared) = of_constraints(pack, salvaged.pack, spoilt, declared);
    out.extend(found);
    for ((sort, id), (place, node)) in doubles.items {
        declared.replace(sort, id, place, node);
    }
    let (found, declared) = of_values(&doubles.pack, Vec::new(), spoilt, declared);
    out.extend(found);
    declared.tell_lost(told);
    out
}

/// What is wrong with single values of items, where those were read.
fn of_values<'t>(
    pack: &Pack,
    beyond: Vec<Beyond>,
    spoilt: &BTreeSet<Place>,
    declared: Declared<'t>,
) -> (Vec<Diagnostic>, Declared<'t>) {
    let mut checks = Checks {
        pack,
        declared,
        out: Vec::new(),
    };
    // Each of these looks at one value at a time, or at which ids there are.
    for subject in [dangling::check, numbers::check, bounds::check] {
        subject(&mut checks);
    }
    let Checks {
        declared, mut out, ..
    } = checks;
    settle(beyond, &mut out);
    let mut sound = BTreeSet::new();
    for item in items(pack) {
        if let Some(node) = declared.node(item.sort, item.id) {
            note_sound(node, spoilt, &mut sound);
        }
    }
    let of_one_value = [Code::DanglingId, Code::OutOfRange, Code::EmptyMap];
    out.retain(|problem| of_one_value.contains(&problem.code) && sound.contains(&problem.place));
    (out, declared)
}

/// What the constraints of salvaged axes and exercises show to be wrong, where those are sure.
fn of_constraints<'t>(
    pack: &mut Pack,
    salvaged: Pack,
    spoilt: &BTreeSet<Place>,
    declared: Declared<'t>,
) -> (Vec<Diagnostic>, Declared<'t>) {
    let sure = |sort: Sort, id: &str, keys: &[&str]| {
        let node = declared.node(sort, id);
        node.is_some_and(|node| keys_are_sure(node, keys, spoilt))
    };
    for (id, axis) in salvaged.axes {
        if sure(Sort::Axis, id.as_str(), &["holds", "unset"]) {
            pack.axes.insert(id, axis);
        }
    }
    for (id, root) in salvaged.roots {
        if sure(Sort::Exercise, id.as_str(), &["with"]) {
            pack.roots.insert(id, root);
        }
    }
    for (id, variation) in salvaged.variations {
        if sure(Sort::Exercise, id.as_str(), &["from", "with", "drops"]) {
            pack.variations.insert(id, variation);
        }
    }
    for (id, complex) in salvaged.complexes {
        if sure(Sort::Exercise, id.as_str(), &["components"]) {
            pack.complexes.insert(id, complex);
        }
    }
    let mut checks = Checks {
        pack,
        declared,
        out: Vec::new(),
    };
    axes::check(&mut checks);
    lineage::check(&mut checks);
    let Checks {
        declared, mut out, ..
    } = checks;
    out.retain(|problem| matches!(problem.code, Code::TwoValuesOnAxis | Code::DropsNothing));
    (out, declared)
}

/// Whether what an item says under these keys was read, or it says nothing there and no unknown key
/// of it was probably meant for one of them.
fn keys_are_sure(node: &Node, keys: &[&str], spoilt: &BTreeSet<Place>) -> bool {
    let stands = |key: &str| node.entry(key).is_some();
    let lacks: Vec<&str> = keys.iter().copied().filter(|key| !stands(key)).collect();
    let meant = |key: &Key| nearest(&key.text, lacks.iter().copied()).is_some();
    node.as_map().is_some_and(|entries| {
        entries.iter().all(|(key, value)| {
            if keys.contains(&key.text.as_str()) {
                !spoilt.contains(&key.place) && is_sound(value, spoilt)
            } else {
                !spoilt.contains(&key.place) || !meant(key)
            }
        })
    })
}

/// Whether nothing of a node is spoilt.
fn is_sound(node: &Node, spoilt: &BTreeSet<Place>) -> bool {
    note_sound(node, spoilt, &mut BTreeSet::new())
}

/// Notes the places of all sound nodes of a node, and of the keys before such; whether it is sound itself.
fn note_sound(node: &Node, spoilt: &BTreeSet<Place>, sound: &mut BTreeSet<Place>) -> bool {
    let mut whole = !spoilt.contains(&node.place) && node.kind != Kind::Refused;
    match &node.kind {
        Kind::Scalar(_) | Kind::Refused => {}
        Kind::List(items) => {
            for item in items {
                whole &= note_sound(item, spoilt, sound);
            }
        }
        Kind::Map(entries) => {
            for (key, value) in entries {
                let both = note_sound(value, spoilt, sound) && !spoilt.contains(&key.place);
                if both {
                    sound.insert(key.place.clone());
                }
                whole &= both;
            }
        }
    }
    if whole {
        sound.insert(node.place.clone());
    }
    whole
}
