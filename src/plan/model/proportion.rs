//! `proportion`: one row a bound, 100 times the one less percent times the other.

use crate::base::RuleId;
use crate::graph::Bits;
use crate::rules::kinds::{CountedIn, Proportion};
use crate::rules::vocab::Yields;

use super::bounds::{bound, unit};
use super::build::Builder;

/// A share of one kind of work in another, and its bounds in percent.
pub(super) struct Share {
    /// By day: the candidates that the one counts.
    pub(super) of: Vec<Bits>,
    /// By day: those that the other counts.
    pub(super) to: Vec<Bits>,
    pub(super) counted_in: CountedIn,
    pub(super) at_most: Option<i64>,
    pub(super) at_least: Option<i64>,
    pub(super) unit: i64,
    pub(super) yields: Yields,
}

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Proportion) {
    let percent = |percent: &crate::base::At<u16>| i64::from(percent.value);
    let share = Share {
        of: builder.matching_by_day(&rule.of),
        to: builder.matching_by_day(&rule.to),
        counted_in: rule.counted_in,
        at_most: rule.percent_at_most.as_ref().map(percent),
        at_least: rule.percent_at_least.as_ref().map(percent),
        unit: unit(rule.unit.as_ref()),
        yields: rule.yields,
    };
    add_share(builder, id, &share);
}

pub(super) fn add_share(builder: &mut Builder<'_, '_>, id: &RuleId, share: &Share) {
    let (of, to) = (&share.of, &share.to);
    let unit = 100 * share.unit;
    let bounds = [
        (share.at_most, bound(share.yields, None, Some(0), unit)),
        (share.at_least, bound(share.yields, Some(0), None, unit)),
    ];
    for (percent, bound) in bounds {
        let Some(percent) = percent else {
            continue;
        };
        let row = if share.counted_in == CountedIn::Days {
            builder.row_of_presences(id.as_str(), &[(100, of.clone()), (-percent, to.clone())])
        } else {
            let amounts = (0..builder.days())
                .map(|day| {
                    let side = |what: Option<&Bits>| {
                        what.map(|what| builder.counted(day, what, share.counted_in))
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
