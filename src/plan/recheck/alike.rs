//! `alike`: in each session, each item of a group above the bound is one unit.

use std::collections::{BTreeMap, BTreeSet};

use crate::plan::item::Item;
use crate::rules::kinds::{Alike, Same};

use super::Held;
use super::exact::{Exact, less, plus};
use super::found::Found;
use super::view::View;

impl Held for Alike {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        for (day, session) in view.on(&self.on) {
            let mut groups: BTreeMap<usize, i64> = BTreeMap::new();
            for item in view.of(&self.what, session) {
                for group in groups_of(self.same, view, item) {
                    let held = groups.entry(group).or_insert(0);
                    *held = plus(*held, 1)?;
                }
            }
            for held in groups.into_values() {
                found.lack(
                    self.yields,
                    Some(day),
                    less(held, i64::from(self.at_most.value))?,
                    1,
                )?;
            }
        }
        Ok(())
    }
}

/// What an item has that others may have too.
fn groups_of(same: Same, view: &View<'_>, item: &Item) -> BTreeSet<usize> {
    let Some(exercise) = view.exercise(item) else {
        return BTreeSet::new();
    };
    match same {
        Same::Skill => exercise.skills.iter().collect(),
        Same::Root => exercise
            .pieces
            .iter()
            .map(|piece| piece.body.root)
            .collect(),
        Same::Parent => BTreeSet::from([exercise.stands_under]),
    }
}
