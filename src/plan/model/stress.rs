//! `stress`: a sum of a session, or a row over the week.

use crate::base::RuleId;
use crate::rules::kinds::{Per, StressCap};

use super::bounds::{bound, unit};
use super::build::Builder;
use super::shape::{Group, Sums};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &StressCap) {
    let Some(region) = builder.setting.graph.stresses.find(rule.of.as_str()) else {
        return;
    };
    let unit = unit(rule.unit.as_ref());
    let amounts: Vec<Vec<i64>> = (0..builder.days())
        .map(|day| {
            let on = builder.week.on(&rule.on, day);
            builder
                .items(day)
                .iter()
                .map(|item| {
                    if on {
                        item.stress(builder.setting, region)
                    } else {
                        0
                    }
                })
                .collect()
        })
        .collect();
    match rule.per {
        Per::Week => {
            let bound = bound(rule.yields, None, Some(rule.at_most.value), unit);
            if let Some(row) = builder.row(id.as_str(), false, amounts) {
                row.bounds.push(bound);
            }
        }
        Per::Session => {
            for (day, amounts) in amounts.into_iter().enumerate() {
                if builder.week.on(&rule.on, day) {
                    let group = Group {
                        amounts,
                        at_least: None,
                        at_most: Some(rule.at_most.value),
                        start: 0,
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
        }
    }
}
