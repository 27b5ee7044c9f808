//! `repeat`: of each exercise that is used, each item too few or too many over the week is one unit.

use std::collections::BTreeMap;

use crate::rules::kinds::Repeat;

use super::Held;
use super::exact::{Exact, less, plus};
use super::found::Found;
use super::view::View;

impl Held for Repeat {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let mut used: BTreeMap<usize, i64> = BTreeMap::new();
        for (_, session) in view.sessions() {
            for item in view.of(&self.what, session) {
                let held = used.entry(item.exercise).or_insert(0);
                *held = plus(*held, 1)?;
            }
        }
        for held in used.into_values() {
            if let Some(least) = &self.at_least_if_used {
                found.lack(self.yields, None, less(i64::from(least.value), held)?, 1)?;
            }
            if let Some(most) = &self.at_most {
                found.lack(self.yields, None, less(held, i64::from(most.value))?, 1)?;
            }
        }
        Ok(())
    }
}
