//! `minutes`: how long each session takes, in seconds.

use crate::base::CaseFieldId;
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
        let unit = times(
            60,
            self.unit
                .as_ref()
                .map_or(UNIT, |unit| i64::from(unit.value)),
        )?;
        for (day, session) in view.on(&self.on) {
            let takes = takes(view, day, session)?;
            if let Some(least) = seconds(view, day, self.at_least.as_ref())? {
                found.lack(self.yields, Some(day), less(least, takes)?, unit)?;
            }
            if let Some(most) = seconds(view, day, self.at_most.as_ref())? {
                found.lack(self.yields, Some(day), less(takes, most)?, unit)?;
            }
        }
        Ok(())
    }
}

/// What an amount of minutes comes to on a day; none where there is none or the case leaves it open.
fn seconds(view: &View<'_>, day: usize, amount: Option<&Amount>) -> Exact<Option<i64>> {
    let Some(amount) = amount else {
        return Ok(None);
    };
    let minutes = match (amount.whole, &amount.field) {
        (Some(whole), _) => whole,
        (None, Some(field)) => match said(view, day, &field.value) {
            Some(number) => times(number, amount.percent.map_or(100, i64::from))?.div_euclid(100),
            None => return Ok(None),
        },
        (None, None) => return Ok(None),
    };
    times(minutes, 60).map(Some)
}

/// What the case says of a field on a day: the day's own word first.
fn said(view: &View<'_>, day: usize, field: &CaseFieldId) -> Option<i64> {
    let case = view.setting.case;
    let named = view.week.days.get(day).and_then(|held| held.named);
    let own = named.and_then(|named| case.days.get(&named)?.get(field));
    if let Some(number) = own {
        return Some(*number);
    }
    match case.fields.get(field) {
        Some(Value::Number(number)) => Some(*number),
        _ => None,
    }
}

/// Time of a session: the warm-up and its items; none where it has no item.
fn takes(view: &View<'_>, day: usize, session: &[Item]) -> Exact<i64> {
    if session.is_empty() {
        return Ok(0);
    }
    let timing = view.setting.speaking(&view.setting.rules().timing);
    let warm_up = timing
        .filter(|(_, timing)| view.week.on(&timing.on, day))
        .map(|(_, timing)| i64::from(timing.warm_up_seconds.value))
        .max()
        .unwrap_or(0);
    plus(
        warm_up,
        total(session.iter().map(|item| Ok(item.dosed.seconds)))?,
    )
}
