//! `exclude`: each item that is ruled out and stands there all the same is one unit.
//!
//! A hard rule makes it no candidate; it is found here once more.

use crate::rules::kinds::Exclude;

use super::Held;
use super::exact::{Exact, many};
use super::found::Found;
use super::view::View;

impl Held for Exclude {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        for (day, session) in view.on(&self.on) {
            found.lack(
                self.yields,
                Some(day),
                many(view.of(&self.what, session))?,
                1,
            )?;
        }
        Ok(())
    }
}
