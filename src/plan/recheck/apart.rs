//! `apart`: two days with an item of `what` on the one and an item of `from` on the other, too near, are one unit.

use crate::plan::item::Item;
use crate::rules::kinds::{Apart, Way};

use super::Held;
use super::exact::Exact;
use super::found::Found;
use super::view::View;

impl Held for Apart {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let least = i64::from(self.free_days.value);
        let wraps = self.wraps.unwrap_or(true);
        for ((day, earlier), (next, later)) in view.two_days() {
            let (between, over_the_end) = view.week.free_between(day, next);
            let near = between < least;
            let near_over_the_end = wraps && over_the_end < least;
            // In a week that comes round, the earlier day comes after the later one too.
            let missed = match self.way {
                Way::Either => {
                    (near || near_over_the_end)
                        && (self.meets(view, earlier, later) || self.meets(view, later, earlier))
                }
                Way::After => {
                    (near && self.meets(view, earlier, later))
                        || (near_over_the_end && self.meets(view, later, earlier))
                }
            };
            found.lack(self.yields, Some(day), i64::from(missed), 1)?;
        }
        Ok(())
    }
}

impl Apart {
    /// Whether the one session has an item of `what` and the other an item of `from` that it is kept apart from.
    fn meets(&self, view: &View<'_>, what: &[Item], from: &[Item]) -> bool {
        let from = view.of(&self.from, from);
        view.of(&self.what, what).iter().any(|one| {
            from.iter().any(|other| {
                (!self.same_skill || view.share_skill(one, other))
                    && (!self.same_exercise || one.exercise == other.exercise)
            })
        })
    }
}
