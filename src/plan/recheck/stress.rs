//! `stress`: points on a region in a session, or over the days of the week together.

use crate::plan::item::Item;
use crate::rules::kinds::{Per, StressCap};

use super::Held;
use super::exact::{Exact, Stop, less, total};
use super::found::Found;
use super::view::View;

impl Held for StressCap {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let region = view
            .setting
            .graph
            .stresses
            .find(self.of.as_str())
            .ok_or(Stop::Dangling)?;
        let unit = self.unit.as_ref().map_or(1, |unit| i64::from(unit.value));
        let points = |session: &[Item]| {
            total(
                session
                    .iter()
                    .map(|item| Ok(item.stress(view.setting, region))),
            )
        };
        let mut held =
            |day, there| found.lack(self.yields, day, less(there, self.at_most.value)?, unit);
        match self.per {
            Per::Session => view
                .on(&self.on)
                .try_for_each(|(day, session)| held(Some(day), points(session)?)),
            Per::Week => held(
                None,
                total(view.on(&self.on).map(|(_, session)| points(session)))?,
            ),
        }
    }
}
