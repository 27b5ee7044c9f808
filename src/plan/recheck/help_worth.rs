//! `help-worth`: for each pair in focus, demand times the table's value of all effects on it.

use crate::rules::kinds::HelpWorth;

use super::Held;
use super::exact::{Exact, Stop, times, total, worth_of};
use super::found::Found;
use super::view::View;

impl Held for HelpWorth {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let table = view
            .setting
            .pack
            .tables
            .get(&self.table.value)
            .ok_or(Stop::Dangling)?;
        for (at, pair) in view.setting.focus.iter().enumerate() {
            let items = view.sessions().flat_map(|(_, session)| session);
            let effects = total(items.map(|item| Ok(item.effect(view.setting, view.week, at))))?;
            found.hundredths(times(pair.demand, worth_of(table, effects)?)?)?;
        }
        Ok(())
    }
}
