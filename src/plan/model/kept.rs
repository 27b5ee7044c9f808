//! `kept`: a row over the week for each exercise that is to be done again.

use std::collections::BTreeSet;

use crate::base::RuleId;
use crate::graph::Bits;
use crate::rules::kinds::{CountedIn, Kept};

use super::bounds::bound;
use super::build::Builder;

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Kept) {
    let setting = builder.setting;
    let again: BTreeSet<usize> = setting
        .before()
        .filter(|(before, placed)| {
            before.weeks < i64::from(rule.weeks.value) && setting.matches(&rule.what, placed)
        })
        .map(|(_, placed)| placed.exercise)
        .collect();
    let what = builder.matching_by_day(&rule.what);
    for exercise in again {
        let amounts: Vec<Vec<i64>> = what
            .iter()
            .enumerate()
            .map(|(day, what)| {
                let items = builder.items(day);
                let of = |at: &usize| items.get(*at).is_some_and(|item| item.exercise == exercise);
                let own: Bits = what.iter().filter(of).collect();
                builder.counted(day, &own, CountedIn::Items)
            })
            .collect();
        if let Some(row) = builder.row(id.as_str(), false, amounts) {
            row.bounds.push(bound(rule.yields, Some(1), None, 1));
        }
    }
}
