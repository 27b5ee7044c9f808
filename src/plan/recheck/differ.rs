//! `differ`: of each two days, each exercise above the bound that both have is one unit.

use std::collections::BTreeSet;

use crate::plan::item::Item;
use crate::rules::kinds::Differ;

use super::Held;
use super::exact::{Exact, less, many};
use super::found::Found;
use super::view::View;

impl Held for Differ {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let exercises = |session: &[Item]| -> BTreeSet<usize> {
            view.of(&self.what, session)
                .iter()
                .map(|item| item.exercise)
                .collect()
        };
        for ((day, earlier), (_, later)) in view.two_days() {
            let shared = many(exercises(earlier).intersection(&exercises(later)))?;
            found.lack(
                self.yields,
                Some(day),
                less(shared, i64::from(self.shared_at_most.value))?,
                1,
            )?;
        }
        Ok(())
    }
}
