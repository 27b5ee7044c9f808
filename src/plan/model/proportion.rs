//! `proportion`: one row a bound, 100 times the one less percent times the other.

use crate::base::RuleId;
use crate::graph::Bits;
use crate::rules::kinds::{CountedIn, Proportion};

use super::build::{Builder, bound, unit};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Proportion) {
    let (of, to) = (
        builder.matching_by_day(&rule.of),
        builder.matching_by_day(&rule.to),
    );
    let unit = 100 * unit(rule.unit.as_ref());
    let bounds = [
        (
            rule.percent_at_most.as_ref(),
            bound(rule.yields, None, Some(0), unit),
        ),
        (
            rule.percent_at_least.as_ref(),
            bound(rule.yields, Some(0), None, unit),
        ),
    ];
    for (percent, bound) in bounds {
        let Some(percent) = percent.map(|percent| i64::from(percent.value)) else {
            continue;
        };
        let row = if rule.counted_in == CountedIn::Days {
            builder.row_of_presences(id.as_str(), &[(100, of.clone()), (-percent, to.clone())])
        } else {
            let amounts = (0..builder.days())
                .map(|day| {
                    let side = |what: Option<&Bits>| {
                        what.map(|what| builder.counted(day, what, rule.counted_in))
                            .unwrap_or_default()
                    };
                    side(of.get(day))
                        .iter()
                        .zip(side(to.get(day)))
                        .map(|(of, to)| 100 * of - percent * to)
                        .collect()
                })
                .collect();
            builder.row(id.as_str(), false, amounts)
        };
        if let Some(row) = row {
            row.bounds.push(bound);
        }
    }
}
