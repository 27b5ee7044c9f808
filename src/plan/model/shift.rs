//! `shift`: the rows of a `proportion` with the percents of the week before, moved.

use crate::base::RuleId;
use crate::rules::kinds::{CountedIn, Shift};
use crate::rules::vocab::Selector;

use super::bounds::unit;
use super::build::Builder;
use super::proportion::{Share, add_share};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Shift) {
    let setting = builder.setting;
    let then = |what: &Selector| -> i64 {
        let counted = setting
            .before()
            .filter(|(_, placed)| setting.matches(what, placed))
            .map(|(before, _)| match rule.counted_in {
                CountedIn::Items | CountedIn::Days => 1,
                CountedIn::Sets => before.sets,
                CountedIn::Reps => before.sets * before.reps,
            });
        counted.sum()
    };
    let (of, to) = (100 * then(&rule.of), then(&rule.to));
    if to == 0 {
        return;
    }
    let points = |points: &crate::base::At<u16>| i64::from(points.value);
    let share = Share {
        of: builder.matching_by_day(&rule.of),
        to: builder.matching_by_day(&rule.to),
        counted_in: rule.counted_in,
        at_most: (rule.up_at_most.as_ref()).map(|up| (of + to - 1).div_euclid(to) + points(up)),
        at_least: (rule.down_at_most.as_ref()).map(|down| of.div_euclid(to) - points(down)),
        unit: unit(rule.unit.as_ref()),
        yields: rule.yields,
    };
    add_share(builder, id, &share);
}
