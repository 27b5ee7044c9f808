//! `shift`: the share of this week, against that of the week before.

use crate::rules::kinds::{CountedIn, Shift};
use crate::rules::vocab::Selector;

use super::Held;
use super::exact::{Exact, less, plus, times, total};
use super::found::Found;
use super::view::View;

impl Held for Shift {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let before = |what: &Selector| {
            let held = view.setting.before();
            let held = held.filter(|(_, placed)| view.setting.matches(what, placed));
            total(held.map(|(before, _)| match self.counted_in {
                CountedIn::Items | CountedIn::Days => Ok(1),
                CountedIn::Sets => Ok(before.sets),
                CountedIn::Reps => times(before.sets, before.reps),
            }))
        };
        let now = |what: &Selector| {
            let sessions = view.sessions();
            total(sessions.map(|(_, session)| view.counted(what, self.counted_in, session)))
        };
        let (was, whole) = (times(100, before(&self.of)?)?, before(&self.to)?);
        if whole == 0 {
            return Ok(());
        }
        let (of, to) = (times(100, now(&self.of)?)?, now(&self.to)?);
        let unit = self.unit.as_ref().map_or(1, |unit| i64::from(unit.value));
        let unit = times(100, unit)?;
        let (down, rest) = (was.div_euclid(whole), was.rem_euclid(whole));
        if let Some(points) = &self.up_at_most {
            let most = plus(plus(down, i64::from(rest > 0))?, points.value.into())?;
            found.lack(self.yields, None, less(of, times(to, most)?)?, unit)?;
        }
        if let Some(points) = &self.down_at_most {
            let least = less(down, points.value.into())?;
            found.lack(self.yields, None, less(times(to, least)?, of)?, unit)?;
        }
        Ok(())
    }
}
