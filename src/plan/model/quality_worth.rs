//! `quality-worth`: a table on the row of a quality's points.

use crate::base::RuleId;
use crate::rules::kinds::QualityWorth;

use super::build::Builder;
use super::floor::points;

/// Points of worth are kept in hundredths, as demand is.
pub(super) const HUNDREDTHS: i64 = 100;

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &QualityWorth) {
    let Some(table) = builder.setting.pack.tables.get(&rule.table.value) else {
        return;
    };
    for quality in &rule.qualities {
        let Some(at) = builder.setting.graph.qualities.find(quality.as_str()) else {
            continue;
        };
        let start = if rule.above_floor {
            builder.setting.floor_of(&quality.value)
        } else {
            0
        };
        let amounts = points(builder, at);
        if let Some(row) = builder.row(id.as_str(), false, amounts) {
            row.tables.push((table.clone(), HUNDREDTHS, start));
        }
    }
}
