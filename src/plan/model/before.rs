//! `before`: for each candidate, those that must not stand before it.

use crate::base::RuleId;
use crate::graph::Bits;
use crate::rules::kinds::Before;

use super::build::Builder;
use super::shape::{Order, OrderKind};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Before) {
    for day in 0..builder.days() {
        let (first, then) = (
            builder.matching(&rule.first, day),
            builder.matching(&rule.then, day),
        );
        let count = builder.items(day).len();
        let late: Vec<Bits> = (0..count)
            .map(|at| {
                if !first.has(at) {
                    return Bits::default();
                }
                then.iter()
                    .filter(|other| {
                        let both = then.has(at) && first.has(*other);
                        *other != at
                            && !both
                            && (!rule.same_skill || builder.share_skill(day, at, *other))
                    })
                    .collect()
            })
            .collect();
        builder.order(
            day,
            Order {
                rule: id.to_string(),
                level: rule.yields.level(),
                kind: OrderKind::Before(late),
            },
        );
    }
}
