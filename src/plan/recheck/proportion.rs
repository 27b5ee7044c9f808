//! `proportion`: a hundred times the one over the week, against a percent of the other.

use crate::rules::kinds::Proportion;
use crate::rules::vocab::Selector;

use super::Held;
use super::exact::{Exact, less, times, total};
use super::found::Found;
use super::view::View;

impl Held for Proportion {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let week = |what: &Selector| {
            total(
                view.sessions()
                    .map(|(_, session)| view.counted(what, self.counted_in, session)),
            )
        };
        let of = times(100, week(&self.of)?)?;
        let to = week(&self.to)?;
        let unit = times(
            100,
            self.unit.as_ref().map_or(1, |unit| i64::from(unit.value)),
        )?;
        if let Some(percent) = &self.percent_at_most {
            found.lack(
                self.yields,
                None,
                less(of, times(to, i64::from(percent.value))?)?,
                unit,
            )?;
        }
        if let Some(percent) = &self.percent_at_least {
            found.lack(
                self.yields,
                None,
                less(times(to, i64::from(percent.value))?, of)?,
                unit,
            )?;
        }
        Ok(())
    }
}
