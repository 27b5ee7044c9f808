//! `before`: two items of a session that stand the wrong way round are one unit; two that fit both ways are free.

use crate::rules::kinds::Before;

use super::Held;
use super::exact::{Exact, many};
use super::found::Found;
use super::view::View;

impl Held for Before {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        for (day, session) in view.sessions() {
            let pairs = session
                .iter()
                .enumerate()
                .flat_map(|(at, one)| session.iter().skip(at + 1).map(move |other| (one, other)))
                .filter(|(one, other)| {
                    let right = view.is(&self.first, one) && view.is(&self.then, other);
                    let wrong = view.is(&self.then, one) && view.is(&self.first, other);
                    wrong && !right && (!self.same_skill || view.share_skill(one, other))
                });
            found.lack(self.yields, Some(day), many(pairs)?, 1)?;
        }
        Ok(())
    }
}
