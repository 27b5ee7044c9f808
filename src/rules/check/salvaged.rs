//! What else is wrong with items that could not be read whole.
//!
//! Such an item is in no pack. What could be had of it is looked at once more, so that one problem
//! does not hide another; told is only what holds whatever the unread parts should have been.

use std::collections::BTreeSet;

use crate::base::{Code, Diagnostic, Place, nearest};
use crate::rules::pack::Pack;
use crate::rules::read::{Beyond, Key, Kind, Node, settle};

use super::declared::{Declared, Overlay};
use super::items::items;
use super::sections::Sort;
use super::{Checks, axes, bounds, dangling, lineage, numbers};

/// The places of what nobody knows for problems.
pub(crate) fn spoilt(problems: &[Diagnostic]) -> BTreeSet<Place> {
    let mut places: BTreeSet<Place> = problems.iter().map(|told| told.place.clone()).collect();
    // Which of the two is meant.
    let doubles = problems
        .iter()
        .filter(|told| told.code == Code::DuplicateKey);
    places.extend(doubles.flat_map(|told| told.also.first().map(|(place, _)| place.clone())));
    places
}

/// Items with gaps and stand-ins.
#[derive(Default)]
pub(crate) struct Salvaged {
    pub(crate) pack: Pack,
    /// Numbers of them that their types can't hold.
    pub(crate) beyond: Vec<Beyond>,
}

/// What an item is called whose own id is none.
pub(crate) const NO_ID: &str = "no-id-stands-here";

/// So many items of one id are looked at.
const MOST_DOUBLES: usize = 20;

/// Items whose id another has, or is none, each id once.
#[derive(Default)]
struct Double<'t> {
    pack: Pack,
    items: Overlay<'t>,
}

/// All of those.
#[derive(Default)]
pub(crate) struct Doubles<'t>(Vec<Double<'t>>);

impl<'t> Doubles<'t> {
    /// Where what could be had of one is put, if it is still looked at.
    pub(crate) fn add(
        &mut self,
        sort: Sort,
        id: &'t str,
        place: &'t Place,
        node: &'t Node,
    ) -> Option<&mut Pack> {
        let is_free = |double: &Double<'_>| !double.items.contains_key(&(sort, id));
        let at = self.0.iter().position(is_free).unwrap_or(self.0.len());
        if at == self.0.len() && at < MOST_DOUBLES {
            self.0.push(Double::default());
        }
        let double = self.0.get_mut(at)?;
        double.items.insert((sort, id), (place, node));
        Some(&mut double.pack)
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
    for Double { pack, items } in doubles.0 {
        declared.lay_over(items);
        let (found, back) = of_values(&pack, Vec::new(), spoilt, declared);
        declared = back;
        out.extend(found.into_iter().filter(|told| !told.what.contains(NO_ID)));
    }
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
pub(crate) fn keys_are_sure(node: &Node, keys: &[&str], spoilt: &BTreeSet<Place>) -> bool {
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

/// Whether a node has both ends of a range among what is sound, whatever else stands in it.
fn has_both_ends(node: &Node, sound: &BTreeSet<Place>) -> bool {
    ["from", "to"].iter().all(|end| {
        let end = node.entry(end);
        end.is_some_and(|(key, value)| sound.contains(&key.place) && sound.contains(&value.place))
    })
}

/// Notes the places of all sound nodes of a node, and of the keys before such; whether it is sound itself.
pub(crate) fn note_sound(
    node: &Node,
    spoilt: &BTreeSet<Place>,
    sound: &mut BTreeSet<Place>,
) -> bool {
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
    if whole || has_both_ends(node, sound) {
        sound.insert(node.place.clone());
    }
    whole
}
