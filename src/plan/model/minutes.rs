//! `minutes`: a session's seconds against its bounds.

use crate::base::RuleId;
use crate::rules::case_check::Value;
use crate::rules::kinds::{Amount, Minutes};

use super::build::Builder;
use super::shape::{Group, Sums};

/// Minutes that make one unit missed where the rule says nothing.
const USUAL_UNIT: i64 = 5;

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Minutes) {
    let at_least = rule
        .at_least
        .as_ref()
        .and_then(|amount| seconds(builder, amount));
    let at_most = rule
        .at_most
        .as_ref()
        .and_then(|amount| seconds(builder, amount));
    let start = builder
        .setting
        .speaking(&builder.setting.rules().timing)
        .map(|(_, timing)| i64::from(timing.warm_up_seconds.value))
        .max()
        .unwrap_or(0);
    let unit = 60
        * rule
            .unit
            .as_ref()
            .map_or(USUAL_UNIT, |unit| i64::from(unit.value).max(1));
    for day in (0..builder.days())
        .filter(|day| builder.week.on(&rule.on, *day))
        .collect::<Vec<_>>()
    {
        let amounts = builder
            .items(day)
            .iter()
            .map(|item| item.dosed.seconds)
            .collect();
        let group = Group {
            amounts,
            at_least,
            at_most,
            start,
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

/// An amount of minutes in seconds; none where the case leaves its field open.
fn seconds(builder: &Builder<'_, '_>, amount: &Amount) -> Option<i64> {
    let whole = match (&amount.whole, &amount.field) {
        (Some(whole), _) => *whole,
        (None, Some(field)) => match builder.setting.case.fields.get(&field.value) {
            Some(Value::Number(number)) => *number,
            _ => return None,
        },
        (None, None) => return None,
    };
    Some(60 * (whole * i64::from(amount.percent.unwrap_or(100)) / 100))
}
