//! Where an item can stand within its session.
//!
//! Parts come one after the other. Inside a part the order is free; places are told apart only
//! where a rule can tell two orders apart.

use crate::graph::Bits;
use crate::plan::model::{DayModel, Follow, Need, Order, OrderKind};

use super::build::{Flat, Way};
use super::open::{Sense, Terms};

/// A place that holds one item at most.
pub(super) struct Cell {
    pub(super) slot: usize,
    /// The place within the part, where it is told apart.
    pub(super) place: Option<usize>,
    /// Candidates with the columns that put them here.
    pub(super) held: Vec<(usize, usize)>,
}

/// The places of a day, part by part.
pub(super) struct Cells {
    pub(super) all: Vec<Cell>,
}

impl Cell {
    /// Whether what stands here stands before what stands there.
    pub(super) fn before(&self, other: &Self) -> bool {
        self.slot < other.slot || (self.slot == other.slot && self.just_before(other, true))
    }

    /// The same within one part; `far` for any distance.
    fn just_before(&self, other: &Self, far: bool) -> bool {
        match (self.place, other.place) {
            (Some(one), Some(two)) => one + 1 == two || (far && one < two),
            _ => false,
        }
    }

    /// 1 where one of these candidates stands here.
    pub(super) fn has(&self, which: impl Fn(usize) -> bool) -> Terms {
        self.held
            .iter()
            .filter(|(at, _)| which(*at))
            .map(|(_, column)| (*column, 1))
            .collect()
    }
}

impl Cells {
    /// The place of the same part directly after or before one.
    pub(super) fn beside(&self, cell: &Cell, after: bool) -> Option<&Cell> {
        self.all.iter().find(|other| {
            other.slot == cell.slot
                && if after {
                    cell.just_before(other, false)
                } else {
                    other.just_before(cell, false)
                }
        })
    }

    /// The places of a part.
    pub(super) fn of(&self, slot: usize) -> impl Iterator<Item = &Cell> {
        self.all.iter().filter(move |cell| cell.slot == slot)
    }

    /// Whether the places of a part are told apart.
    pub(super) fn lined(&self, slot: usize) -> bool {
        self.of(slot).any(|cell| cell.place.is_some())
    }
}

/// The places of a day; columns for them where a rule can tell orders apart.
pub(super) fn of(flat: &mut Flat<'_>, day: usize) -> Cells {
    let model = flat.model;
    let mut cells = Cells { all: Vec::new() };
    let Some(held) = model.days.get(day) else {
        return cells;
    };
    for (slot, part) in held.slots.iter().enumerate() {
        if part.at_most <= 1 || !matters(flat, held, day, slot) {
            let columns = part.candidates.iter().filter_map(|at| {
                let column = flat.x_of(day, *at);
                column.map(|column| (*at, column))
            });
            if part.at_most == 1 {
                cells.all.push(Cell {
                    slot,
                    place: Some(0),
                    held: columns.collect(),
                });
            } else {
                cells.all.extend(columns.map(|held| Cell {
                    slot,
                    place: None,
                    held: vec![held],
                }));
            }
            continue;
        }
        let places = part.at_most.min(part.candidates.len());
        cells.all.extend(lined(flat, day, slot, places));
    }
    cells
}

/// Places told apart: each item at one of them, filled from the first on.
fn lined(flat: &mut Flat<'_>, day: usize, slot: usize, places: usize) -> Vec<Cell> {
    let model = flat.model;
    let candidates = model
        .days
        .get(day)
        .and_then(|held| held.slots.get(slot))
        .map_or(&[][..], |slot| slot.candidates.as_slice());
    let mut cells: Vec<Cell> = (0..places)
        .map(|place| Cell {
            slot,
            place: Some(place),
            held: Vec::new(),
        })
        .collect();
    for at in candidates {
        let name = flat.names.get(day).and_then(|names| names.get(*at));
        let name = format!("d{}_{}", day + 1, name.map_or("", String::as_str));
        let mut terms: Terms = Vec::new();
        for (place, cell) in cells.iter_mut().enumerate() {
            let column = flat.binary(format!("y_{name}_{}", place + 1));
            cell.held.push((*at, column));
            terms.push((column, 1));
        }
        terms.extend(flat.x_of(day, *at).map(|column| (column, -1)));
        flat.line(&format!("stands_{name}"), terms, Sense::Equal, 0);
    }
    let name = format!("place_d{}_{}", day + 1, slot + 1);
    let mut before: Option<Terms> = None;
    for cell in &cells {
        let here = cell.has(|_| true);
        let mut terms = here.clone();
        match before {
            None => flat.line(&name, terms, Sense::Most, 1),
            Some(before) => {
                terms.extend(before.iter().map(|(column, _)| (*column, -1)));
                flat.line(&name, terms, Sense::Most, 0);
            }
        }
        before = Some(here);
    }
    cells
}

/// Whether a rule can tell two orders of a part apart.
fn matters(flat: &Flat<'_>, held: &DayModel, day: usize, slot: usize) -> bool {
    let Some(part) = held.slots.get(slot) else {
        return false;
    };
    let here: Bits = part.candidates.iter().copied().collect();
    held.orders
        .iter()
        .filter(|order| flat.way(order.level) != Way::Free)
        .any(|order| order_matters(held, order, slot, &here))
        || flat.model.follows.iter().any(|follow| {
            (flat.way(follow.level) != Way::Free || (flat.seeks_worth() && follow.closer_by != 0))
                && follow_matters(follow, day, &here)
        })
}

fn order_matters(held: &DayModel, order: &Order, slot: usize, here: &Bits) -> bool {
    let parted = |which: &Bits| which.meets(here) && !here.within(which);
    let beside = |which: &[Option<Bits>], after: bool| {
        which.iter().enumerate().any(|(at, which)| {
            let Some(which) = which else { return false };
            let of = held.candidates.get(at).map_or(slot, |held| held.slot);
            let side = if after { of < slot } else { of > slot };
            here.has(at) || (side && parted(which))
        })
    };
    match &order.kind {
        OrderKind::Before(late) => here
            .iter()
            .any(|at| late.get(at).is_some_and(|late| late.meets(here))),
        OrderKind::First { what, .. } | OrderKind::Last { what, .. } => parted(what),
        OrderKind::Next(which) => beside(which, true),
        OrderKind::Previous(which) => beside(which, false),
    }
}

fn follow_matters(follow: &Follow, day: usize, here: &Bits) -> bool {
    here.iter().any(|at| {
        class(follow, day, at).is_some_and(|class| {
            here.iter()
                .any(|other| other != at && gives(follow, day, other, class))
        })
    })
}

/// The class of needs of a candidate that nothing of its own meets.
pub(super) fn class(follow: &Follow, day: usize, at: usize) -> Option<usize> {
    match follow.needs.get(day).and_then(|needs| needs.get(at)) {
        Some(Some(Need::Class(class))) => Some(*class),
        _ => None,
    }
}

/// Whether a candidate answers a class of needs.
pub(super) fn gives(follow: &Follow, day: usize, at: usize, class: usize) -> bool {
    follow
        .gives
        .get(day)
        .and_then(|gives| gives.get(at))
        .is_some_and(|gives| gives.has(class))
}
