//! `position`: an item of `what` with another, not of `what`, on its wrong side in the session or part is one unit.

use crate::rules::kinds::{Position, Stretch, Where};

use super::Held;
use super::exact::{Exact, many};
use super::found::Found;
use super::view::View;

impl Held for Position {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        for (day, session) in view.sessions() {
            let displaced = session.iter().enumerate().filter(|(at, item)| {
                let wrong_side = session.iter().enumerate().any(|(to, other)| {
                    let side = match self.place {
                        Where::First => to < *at,
                        Where::Last => to > *at,
                    };
                    let stretch = match self.of {
                        Stretch::Session => true,
                        Stretch::Part => item.slot == other.slot,
                    };
                    side && stretch && !view.is(&self.what, other)
                });
                view.is(&self.what, item) && wrong_side
            });
            found.lack(self.yields, Some(day), many(displaced)?, 1)?;
        }
        Ok(())
    }
}
