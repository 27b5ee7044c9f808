//! `adjacent`: an item of `what` whose next or previous item is not of `which`, or that has none, is one unit.

use crate::rules::kinds::{Adjacent, Side};

use super::Held;
use super::exact::{Exact, many};
use super::found::Found;
use super::view::View;

impl Held for Adjacent {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        for (day, session) in view.sessions() {
            let alone = session.iter().enumerate().filter(|(at, item)| {
                let beside = match self.directly {
                    Side::Before => session.get(at + 1),
                    Side::After => at.checked_sub(1).and_then(|at| session.get(at)),
                };
                let fits = beside.is_some_and(|beside| {
                    view.is(&self.which, beside)
                        && (!self.same_skill || view.share_skill(item, beside))
                });
                view.is(&self.what, item) && !fits
            });
            found.lack(self.yields, Some(day), many(alone)?, 1)?;
        }
        Ok(())
    }
}
