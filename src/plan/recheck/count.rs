//! `count`: how many a session, or the days of the week together, have.

use crate::rules::kinds::{Count, Per};

use super::Held;
use super::exact::{Exact, less, scaled, total};
use super::found::Found;
use super::fullest::asks_nothing;
use super::view::View;

impl Held for Count {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let percents = view
            .setting
            .factors(self.scaled_by.iter().map(|id| &id.value));
        let bound = |bound: &Option<crate::base::At<i64>>| {
            bound
                .as_ref()
                .map(|bound| scaled(bound.value, &percents))
                .transpose()
        };
        let least = bound(&self.at_least)?.filter(|_| !asks_nothing(view.setting, &self.what));
        let most = bound(&self.at_most)?;
        let unit = self.unit.as_ref().map_or(1, |unit| i64::from(unit.value));
        let mut held = |day, there| -> Exact<()> {
            if let Some(least) = least {
                found.lack(self.yields, day, less(least, there)?, unit)?;
            }
            if let Some(most) = most {
                found.lack(self.yields, day, less(there, most)?, unit)?;
            }
            Ok(())
        };
        let counted = |session| view.counted(&self.what, self.counted_in, session);
        match self.per {
            Per::Session => view
                .on(&self.on)
                .try_for_each(|(day, session)| held(Some(day), counted(session)?)),
            Per::Week => held(
                None,
                total(view.on(&self.on).map(|(_, session)| counted(session)))?,
            ),
        }
    }
}
