//! Rules about the order of a session.

use std::collections::BTreeMap;

use crate::graph::Bits;
use crate::plan::model::OrderKind;

use super::build::{Flat, Way};
use super::cells::{Cell, Cells};
use super::open::Terms;

/// One rule on one day.
struct Ruled<'c> {
    day: usize,
    cells: &'c Cells,
    way: Way,
    name: String,
    /// By part.
    members: Vec<Bits>,
}

pub(super) fn add(flat: &mut Flat<'_>, day: usize, cells: &Cells) {
    let model = flat.model;
    let Some(held) = model.days.get(day) else {
        return;
    };
    let members: Vec<Bits> = held
        .slots
        .iter()
        .map(|slot| slot.candidates.iter().copied().collect())
        .collect();
    for order in &held.orders {
        let way = flat.way(order.level);
        if way == Way::Free {
            continue;
        }
        let rule = Ruled {
            day,
            cells,
            way,
            name: format!("{}_d{}", order.rule, day + 1),
            members: members.clone(),
        };
        match &order.kind {
            OrderKind::Before(late) => rule.before(flat, late),
            OrderKind::First { what, part } => rule.outermost(flat, what, *part, true),
            OrderKind::Last { what, part } => rule.outermost(flat, what, *part, false),
            OrderKind::Next(which) => rule.beside(flat, which, true),
            OrderKind::Previous(which) => rule.beside(flat, which, false),
        }
    }
}

fn less(terms: &[(usize, i64)]) -> Terms {
    terms
        .iter()
        .map(|(column, times)| (*column, -times))
        .collect()
}

impl Ruled<'_> {
    fn of(&self, slot: usize, which: impl Fn(usize) -> bool) -> Vec<usize> {
        let members = self.members.get(slot);
        members
            .into_iter()
            .flat_map(Bits::iter)
            .filter(|at| which(*at))
            .collect()
    }

    fn any(&self, flat: &mut Flat<'_>, slot: usize, which: impl Fn(usize) -> bool) -> Terms {
        flat.any(self.day, self.of(slot, which))
    }

    /// Not both; empty sides never meet.
    fn not_both(&self, flat: &mut Flat<'_>, one: &Terms, other: &Terms, given: Option<usize>) {
        if !one.is_empty() && !other.is_empty() {
            let both = one.iter().chain(other).copied().collect();
            flat.most(&self.name, both, 1, given);
        }
    }

    fn before(&self, flat: &mut Flat<'_>, late: &[Bits]) {
        let mut sharing: BTreeMap<Vec<usize>, Bits> = BTreeMap::new();
        for (at, late) in late.iter().enumerate().filter(|(_, late)| !late.is_empty()) {
            sharing.entry(late.iter().collect()).or_default().insert(at);
        }
        for (late, these) in sharing {
            let late: Bits = late.into_iter().collect();
            if self.way == Way::Hard {
                for slot in 0..self.members.len() {
                    let here = self.any(flat, slot, |at| these.has(at));
                    for earlier in 0..slot {
                        let there = self.any(flat, earlier, |at| late.has(at));
                        self.not_both(flat, &here, &there, None);
                    }
                }
            }
            // Every pair of places that the wrong way round can fill is a unit.
            for cell in &self.cells.all {
                let here = cell.has(|at| these.has(at));
                for other in self.cells.all.iter().filter(|other| other.before(cell)) {
                    if self.way == Way::Hard && other.slot < cell.slot {
                        continue;
                    }
                    let there = other.has(|at| late.has(at));
                    if !here.is_empty() && !there.is_empty() {
                        let missed = flat.unit(self.way, &self.name, false, 1);
                        self.not_both(flat, &here, &there, missed);
                    }
                }
            }
        }
    }

    /// `what` first or last, of the session or of its part.
    fn outermost(&self, flat: &mut Flat<'_>, what: &Bits, part: bool, first: bool) {
        for cell in &self.cells.all {
            let here = cell.has(|at| what.has(at));
            if here.is_empty() {
                continue;
            }
            let beyond = |other: &Cell| {
                if first {
                    other.before(cell)
                } else {
                    cell.before(other)
                }
            };
            let mut others: Vec<Terms> = self
                .cells
                .of(cell.slot)
                .filter(|other| beyond(other))
                .map(|other| other.has(|at| !what.has(at)))
                .collect();
            let slots = 0..self.members.len();
            let outside = |slot: &usize| {
                !part
                    && if first {
                        *slot < cell.slot
                    } else {
                        *slot > cell.slot
                    }
            };
            for slot in slots.filter(outside) {
                others.push(self.any(flat, slot, |at| !what.has(at)));
            }
            others.retain(|other| !other.is_empty());
            if others.is_empty() {
                continue;
            }
            let missed = flat.unit(self.way, &self.name, false, 1);
            for other in &others {
                self.not_both(flat, &here, other, missed);
            }
        }
    }

    /// One of a list directly after or before.
    fn beside(&self, flat: &mut Flat<'_>, which: &[Option<Bits>], after: bool) {
        let listed: Bits = which
            .iter()
            .flatten()
            .flat_map(|which| which.iter().collect::<Vec<_>>())
            .collect();
        // No item stands beside itself, so that it may be in its own list: more share a list then.
        let mut sharing: BTreeMap<Vec<usize>, Bits> = BTreeMap::new();
        for (at, which) in which.iter().enumerate() {
            let Some(which) = which else { continue };
            let mut list: Vec<usize> = which.iter().collect();
            if listed.has(at) && !which.has(at) {
                list.push(at);
                list.sort_unstable();
            }
            sharing.entry(list).or_default().insert(at);
        }
        for (list, these) in sharing {
            let list: Bits = list.into_iter().collect();
            for cell in &self.cells.all {
                let here = cell.has(|at| these.has(at));
                if !here.is_empty() {
                    let missed = flat.unit(self.way, &self.name, false, 1);
                    self.neighbour(flat, cell, &here, &list, after, missed);
                }
            }
        }
    }

    /// What stands at a place has one of the list beside it, or a unit is missed.
    fn neighbour(
        &self,
        flat: &mut Flat<'_>,
        cell: &Cell,
        here: &Terms,
        list: &Bits,
        after: bool,
        missed: Option<usize>,
    ) {
        // Nothing of the list anywhere near: missed for sure.
        let mut nothing = here.clone();
        // What must be empty for a place further off to be the one beside.
        let mut between: Terms = Vec::new();
        if let Some(next) = self.cells.beside(cell, after) {
            self.not_both(flat, here, &next.has(|at| !list.has(at)), missed);
            nothing.extend(less(&next.has(|at| list.has(at))));
            between.extend(less(&next.has(|_| true)));
        }
        let slots: Vec<usize> = if after {
            (cell.slot + 1..self.members.len()).collect()
        } else {
            (0..cell.slot).rev().collect()
        };
        let first_of_part = cell.place.is_none_or(|place| place == 0);
        // A part is filled from its first place on, so that nothing before it is beside a later one.
        for slot in slots.into_iter().filter(|_| after || first_of_part) {
            for (wrong, right, beyond) in self.ends(flat, slot, list, after) {
                if !wrong.is_empty() {
                    let mut both: Terms = here.iter().chain(&wrong).copied().collect();
                    both.extend(between.iter().chain(&beyond).copied());
                    flat.most(&self.name, both, 1, missed);
                }
                nothing.extend(less(&right));
            }
            between.extend(less(&self.any(flat, slot, |_| true)));
        }
        flat.most(&self.name, nothing, 0, missed);
    }

    /// The places of a part that can be its first or last filled one: what stands there that is not
    /// in a list, what is, and what must be empty for it.
    fn ends(
        &self,
        flat: &mut Flat<'_>,
        slot: usize,
        list: &Bits,
        first: bool,
    ) -> Vec<(Terms, Terms, Terms)> {
        if !self.cells.lined(slot) {
            // All of it is in the list or none is: its order tells nothing apart.
            let wrong = self.any(flat, slot, |at| !list.has(at));
            let right = self.any(flat, slot, |at| list.has(at));
            return vec![(wrong, right, Vec::new())];
        }
        self.cells
            .of(slot)
            .filter(|cell| !first || cell.place == Some(0))
            .map(|cell| {
                let next = self.cells.beside(cell, true).filter(|_| !first);
                let beyond = next.map_or(Vec::new(), |next| less(&next.has(|_| true)));
                (
                    cell.has(|at| !list.has(at)),
                    cell.has(|at| list.has(at)),
                    beyond,
                )
            })
            .collect()
    }
}
