//! `repeat`: items of one exercise over the week.

use crate::base::RuleId;
use crate::rules::kinds::Repeat;

use super::build::Builder;
use super::shape::{TwoDays, TwoDaysKind};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Repeat) {
    let what = builder.matching_by_day(&rule.what);
    let at_least = rule
        .at_least_if_used
        .as_ref()
        .map_or(0, |least| i64::from(least.value));
    let at_most = rule
        .at_most
        .as_ref()
        .map_or(i64::MAX, |most| i64::from(most.value));
    builder.two_days(TwoDays {
        rule: id.to_string(),
        level: rule.yields.level(),
        kind: TwoDaysKind::Repeat {
            what,
            at_least,
            at_most,
        },
    });
}
