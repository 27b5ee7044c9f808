//! `minutes`: how long each session takes, in seconds.

use crate::plan::item::Item;
use crate::rules::case_check::Value;
use crate::rules::kinds::{Amount, Minutes};

use super::Held;
use super::exact::{Exact, less, plus, times, total};
use super::found::Found;
use super::view::View;

/// Minutes that make one unit where the rule names none.
const UNIT: i64 = 5;

impl Held for Minutes {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let least = self
            .at_least
            .as_ref()
            .map(|amount| seconds(view, amount))
            .transpose()?
            .flatten();
        let most = self
            .at_most
            .as_ref()
            .map(|amount| seconds(view, amount))
            .transpose()?
            .flatten();
        let unit = times(
            60,
            self.unit
                .as_ref()
                .map_or(UNIT, |unit| i64::from(unit.value)),
        )?;
        for (day, session) in view.on(&self.on) {
            let takes = takes(view, session)?;
            if let Some(least) = least {
                found.lack(self.yields, Some(day), less(least, takes)?, unit)?;
            }
            if let Some(most) = most {
                found.lack(self.yields, Some(day), less(takes, most)?, unit)?;
            }
        }
        Ok(())
    }
}

/// What an amount of minutes comes to; none where the case leaves it open.
fn seconds(view: &View<'_>, amount: &Amount) -> Exact<Option<i64>> {
    let minutes = match (amount.whole, &amount.field) {
        (Some(whole), _) => whole,
        (None, Some(field)) => match view.setting.case.fields.get(&field.value) {
            Some(Value::Number(number)) => {
                times(*number, amount.percent.map_or(100, i64::from))?.div_euclid(100)
            }
            _ => return Ok(None),
        },
        (None, None) => return Ok(None),
    };
    times(minutes, 60).map(Some)
}

/// Time of a session: the warm-up and its items; none where it has no item.
fn takes(view: &View<'_>, session: &[Item]) -> Exact<i64> {
    if session.is_empty() {
        return Ok(0);
    }
    let timing = view.setting.speaking(&view.setting.rules().timing);
    let warm_up = timing
        .map(|(_, timing)| i64::from(timing.warm_up_seconds.value))
        .max()
        .unwrap_or(0);
    plus(
        warm_up,
        total(session.iter().map(|item| Ok(item.dosed.seconds)))?,
    )
}
