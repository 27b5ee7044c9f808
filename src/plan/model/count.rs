//! `count`: sums of a session, or a row over the week.

use crate::base::RuleId;
use crate::infer::scaled;
use crate::rules::kinds::{Count, CountedIn, Per};

use super::bounds::{bound, unit};
use super::build::Builder;
use super::shape::{Group, Sums};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Count) {
    let percents = builder
        .setting
        .factors(rule.scaled_by.iter().map(|factor| &factor.value));
    let at_least = rule
        .at_least
        .as_ref()
        .map(|least| scaled(least.value, &percents));
    let at_least = at_least.filter(|_| !asks_in_vain(builder, rule));
    let at_most = rule
        .at_most
        .as_ref()
        .map(|most| scaled(most.value, &percents));
    let what = builder.matching_on(&rule.what, &rule.on);
    let presence = rule.counted_in == CountedIn::Days;
    let counted: Vec<Vec<i64>> = what
        .iter()
        .enumerate()
        .map(|(day, what)| builder.counted(day, what, rule.counted_in))
        .collect();
    match rule.per {
        Per::Week => {
            let bound = bound(rule.yields, at_least, at_most, unit(rule.unit.as_ref()));
            if let Some(row) = builder.row(id.as_str(), presence, counted) {
                row.bounds.push(bound);
            }
        }
        Per::Session => {
            for (day, amounts) in counted.into_iter().enumerate() {
                if builder.week.on(&rule.on, day) {
                    let group = Group {
                        amounts,
                        at_least,
                        at_most,
                        start: 0,
                        presence,
                    };
                    let sums = Sums {
                        rule: id.to_string(),
                        level: rule.yields.level(),
                        groups: vec![group],
                        extra: Vec::new(),
                        unit: unit(rule.unit.as_ref()),
                    };
                    builder.sums(day, sums);
                }
            }
        }
    }
}

/// Whether the rule asks only for full forms that nothing stands in for.
fn asks_in_vain(builder: &Builder<'_, '_>, rule: &Count) -> bool {
    !rule.what.full.is_empty()
        && rule
            .what
            .full
            .iter()
            .all(|id| builder.setting.full_form(id.as_str()).is_none())
}
