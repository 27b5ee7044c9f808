//! `lighter`: pairs of items of a session, one loaded above the other's bound.

use crate::base::RuleId;
use crate::graph::Bits;
use crate::plan::dose::Basis;
use crate::rules::kinds::{Against, Lighter};

use super::build::Builder;
use super::shape::{Couple, CoupleKind};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Lighter) {
    let setting = builder.setting;
    for day in 0..builder.days() {
        let (what, than) = (
            builder.matching(&rule.what, day),
            builder.matching(&rule.than, day),
        );
        let loads: Vec<_> = builder
            .items(day)
            .iter()
            .map(|item| {
                let reference = setting
                    .graph
                    .exercises
                    .get(item.exercise)
                    .and_then(|held| Basis::of(setting, held).reference);
                reference.zip(item.dosed.percent)
            })
            .collect();
        let pairs = loads
            .iter()
            .enumerate()
            .map(|(at, one)| {
                let Some((reference, (_, top))) = one.as_ref().filter(|_| what.has(at)) else {
                    return Bits::default();
                };
                loads
                    .iter()
                    .enumerate()
                    .filter(|(other, held)| {
                        *other != at
                            && than.has(*other)
                            && held.as_ref().is_some_and(|(same, (low, high))| {
                                let end = match rule.against {
                                    Against::Low => *low,
                                    Against::Top => *high,
                                };
                                same == reference && *top > end + i64::from(rule.above_at_most)
                            })
                    })
                    .map(|(other, _)| other)
                    .collect()
            })
            .collect();
        builder.couple(
            day,
            Couple {
                rule: id.to_string(),
                level: rule.yields.level(),
                kind: CoupleKind::Not(pairs),
            },
        );
    }
}
