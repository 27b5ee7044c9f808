//! `needs`: an item of `what` without another item of `needs` in its session is one unit.

use crate::rules::kinds::Needs;

use super::Held;
use super::exact::{Exact, many};
use super::found::Found;
use super::view::View;

impl Held for Needs {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        for (day, session) in view.sessions() {
            let without = session.iter().enumerate().filter(|(at, item)| {
                let other = session.iter().enumerate().any(|(to, other)| {
                    to != *at
                        && view.is(&self.needs, other)
                        && (!self.same_skill || view.share_skill(item, other))
                });
                view.is(&self.what, item) && !other
            });
            found.lack(self.yields, Some(day), many(without)?, 1)?;
        }
        Ok(())
    }
}
