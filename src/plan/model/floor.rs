//! `floor`: a row of quality points.

use crate::base::RuleId;
use crate::infer::scaled;
use crate::rules::kinds::Floor;

use super::bounds::{bound, unit};
use super::build::Builder;

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Floor) {
    let percents = builder
        .setting
        .factors(rule.scaled_by.iter().map(|factor| &factor.value));
    let least = scaled(rule.points_at_least.value, &percents);
    let Some(amounts) = builder
        .setting
        .graph
        .qualities
        .find(rule.quality.as_str())
        .map(|at| points(builder, at))
    else {
        return;
    };
    let bound = bound(rule.yields, Some(least), None, unit(rule.unit.as_ref()));
    if let Some(row) = builder.row(id.as_str(), false, amounts) {
        row.bounds.push(bound);
    }
}

/// Points that each candidate gives to a quality.
pub(super) fn points(builder: &Builder<'_, '_>, quality: usize) -> Vec<Vec<i64>> {
    (0..builder.days())
        .map(|day| {
            builder
                .items(day)
                .iter()
                .map(|item| item.trains(builder.setting, builder.week, quality))
                .collect()
        })
        .collect()
}
