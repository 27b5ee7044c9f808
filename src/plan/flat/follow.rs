//! What must be followed by something freer: within the session, else on a later day.

use std::collections::BTreeMap;

use crate::plan::model::{Follow, Need};

use super::build::{Flat, Way};
use super::cells::{Cell, Cells, class, gives};
use super::open::{Sense, Terms};

pub(super) fn add(flat: &mut Flat<'_>, day: usize, cells: &Cells) {
    for follow in &flat.model.follows {
        let own = |at: usize| {
            let need = follow.needs.get(day).and_then(|needs| needs.get(at));
            need == Some(&Some(Need::Met))
        };
        let count = follow.needs.get(day).map_or(0, Vec::len);
        if flat.seeks_worth() {
            for at in (0..count).filter(|at| own(*at)) {
                if let Some(column) = flat.x_of(day, at) {
                    flat.gain(column, follow.closer_by);
                }
            }
        }
        for cell in &cells.all {
            waiting(flat, day, cells, follow, cell);
        }
    }
}

/// What waits at a place, those that the same items answer together.
fn waiting(flat: &mut Flat<'_>, day: usize, cells: &Cells, follow: &Follow, cell: &Cell) {
    let way = flat.way(follow.level);
    let name = format!("{}_d{}", follow.rule, day + 1);
    let mut sharing: BTreeMap<(Terms, Terms), Terms> = BTreeMap::new();
    for (at, column) in &cell.held {
        let Some(class) = class(follow, day, *at) else {
            continue;
        };
        let later = later(flat, day, cells, follow, cell, class);
        let days = later_days(flat, day, follow, class);
        sharing.entry((later, days)).or_default().push((*column, 1));
    }
    for ((later, days), here) in sharing {
        if flat.seeks_worth() && follow.closer_by != 0 && !later.is_empty() {
            closer(flat, &name, follow.closer_by, &here, &later);
        }
        if way == Way::Free {
            continue;
        }
        let answers = later
            .iter()
            .chain(follow.week.then_some(&days).into_iter().flatten());
        let mut open = here;
        open.extend(answers.map(|(column, _)| (*column, -1)));
        let missed = flat.unit(way, &name, false, 1);
        flat.most(&name, open, 0, missed);
    }
}

/// Worth of being followed within the session.
fn closer(flat: &mut Flat<'_>, name: &str, worth: i64, here: &Terms, later: &Terms) {
    let name = format!("f_{name}");
    let followed = flat.between(name.clone(), 0, 1);
    flat.gain(followed, worth);
    for by in [here, later] {
        let mut terms: Terms = vec![(followed, 1)];
        terms.extend(by.iter().map(|(column, _)| (*column, -1)));
        flat.line(&name, terms, Sense::Most, 0);
    }
    if worth < 0 {
        // What costs is not left out.
        for by in later {
            let mut terms = here.clone();
            terms.extend([*by, (followed, -1)]);
            flat.line(&name, terms, Sense::Most, 1);
        }
    }
}

/// What answers a class of needs after a place of a session.
fn later(
    flat: &Flat<'_>,
    day: usize,
    cells: &Cells,
    follow: &Follow,
    cell: &Cell,
    class: usize,
) -> Terms {
    let mut terms: Terms = cells
        .of(cell.slot)
        .filter(|other| cell.before(other))
        .flat_map(|other| other.has(|at| gives(follow, day, at, class)))
        .collect();
    let slots = flat.model.days.get(day).map(|held| &held.slots);
    let beyond = slots.into_iter().flatten().skip(cell.slot + 1);
    for slot in beyond {
        let answers = slot.candidates.iter().copied();
        let answers = answers.filter(|at| gives(follow, day, *at, class));
        terms.extend(flat.sum(day, answers));
    }
    terms
}

/// What answers it on later days.
fn later_days(flat: &Flat<'_>, day: usize, follow: &Follow, class: usize) -> Terms {
    let mut terms = Terms::new();
    for later in day + 1..flat.model.days.len() {
        let count = follow.gives.get(later).map_or(0, Vec::len);
        let answers = (0..count).filter(|at| gives(follow, later, *at, class));
        terms.extend(flat.sum(later, answers));
    }
    terms
}
