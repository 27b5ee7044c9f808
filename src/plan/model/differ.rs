//! `differ`: exercises that two days share.

use crate::base::RuleId;
use crate::rules::kinds::Differ;

use super::build::Builder;
use super::shape::{TwoDays, TwoDaysKind};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Differ) {
    let what = builder.matching_by_day(&rule.what);
    let kind = TwoDaysKind::Differ {
        what,
        at_most: i64::from(rule.shared_at_most.value),
    };
    builder.two_days(TwoDays {
        rule: id.to_string(),
        level: rule.yields.level(),
        kind,
    });
}
