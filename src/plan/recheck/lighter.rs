//! `lighter`: an item of `what` whose top is above the bound that an item of `than` sets is one unit, for each such item.

use crate::base::ReferenceId;
use crate::plan::dose::Basis;
use crate::plan::item::Item;
use crate::rules::kinds::{Against, Lighter};

use super::Held;
use super::exact::{Exact, plus};
use super::found::Found;
use super::view::View;

impl Held for Lighter {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        for (day, session) in view.sessions() {
            let mut lack = 0;
            for (at, one) in session
                .iter()
                .enumerate()
                .filter(|(_, item)| view.is(&self.what, item))
            {
                for (_, other) in session
                    .iter()
                    .enumerate()
                    .filter(|(to, item)| *to != at && view.is(&self.than, item))
                {
                    lack = plus(lack, i64::from(self.heavier(view, one, other)?))?;
                }
            }
            found.lack(self.yields, Some(day), lack, 1)?;
        }
        Ok(())
    }
}

impl Lighter {
    /// Whether the one is loaded above what the other allows; never where the two can't be compared.
    fn heavier(&self, view: &View<'_>, one: &Item, other: &Item) -> Exact<bool> {
        let (Some((_, top)), Some((low, high))) = (one.dosed.percent, other.dosed.percent) else {
            return Ok(false);
        };
        let (Some(mine), Some(theirs)) = (reference(view, one), reference(view, other)) else {
            return Ok(false);
        };
        let end = match self.against {
            Against::Low => low,
            Against::Top => high,
        };
        Ok(mine == theirs && top > plus(end, i64::from(self.above_at_most))?)
    }
}

fn reference(view: &View<'_>, item: &Item) -> Option<ReferenceId> {
    Basis::of(view.setting, view.exercise(item)?).reference
}
