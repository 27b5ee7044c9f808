//! `minutes`: a session's seconds against its bounds.

use crate::base::RuleId;
use crate::plan::dose::warm_up;
use crate::rules::case_check::Value;
use crate::rules::kinds::{Amount, Minutes};

use super::build::Builder;
use super::shape::{Group, Sums};

/// Minutes that make one unit missed where the rule says nothing.
const USUAL_UNIT: i64 = 5;

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Minutes) {
    let unit = 60
        * rule
            .unit
            .as_ref()
            .map_or(USUAL_UNIT, |unit| i64::from(unit.value).max(1));
    for day in (0..builder.days())
        .filter(|day| builder.week.on(&rule.on, *day))
        .collect::<Vec<_>>()
    {
        let bound = |amount: &Option<Amount>| {
            let amount = amount.as_ref()?;
            seconds(builder, day, amount)
        };
        let amounts = builder
            .items(day)
            .iter()
            .map(|item| item.dosed.seconds)
            .collect();
        let group = Group {
            amounts,
            at_least: bound(&rule.at_least),
            at_most: bound(&rule.at_most),
            start: warm_up(builder.setting, builder.week, day),
            presence: false,
        };
        builder.sums(
            day,
            Sums {
                rule: id.to_string(),
                level: rule.yields.level(),
                groups: vec![group],
                extra: Vec::new(),
                unit,
            },
        );
    }
}

/// An amount of minutes of a day in seconds; none where the case leaves its field open.
fn seconds(builder: &Builder<'_, '_>, day: usize, amount: &Amount) -> Option<i64> {
    let of_day = |field| builder.week.days.get(day)?.number(field);
    let of_case = |field| match builder.setting.case.value(field) {
        Some(Value::Number(number)) => Some(number),
        _ => None,
    };
    let whole = match (&amount.whole, &amount.field) {
        (Some(whole), _) => *whole,
        (None, Some(field)) => of_day(&field.value).or_else(|| of_case(&field.value))?,
        (None, None) => return None,
    };
    Some(60 * (whole * i64::from(amount.percent.unwrap_or(100)) / 100))
}
