//! `adjacent`: what stands directly before or after what.

use crate::base::RuleId;
use crate::rules::kinds::{Adjacent, Side};

use super::build::Builder;
use super::shape::{Order, OrderKind};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Adjacent) {
    for day in 0..builder.days() {
        let (what, which) = (
            builder.matching(&rule.what, day),
            builder.matching(&rule.which, day),
        );
        let partners = builder.partners(day, &what, &which, rule.same_skill);
        let kind = match rule.directly {
            Side::Before => OrderKind::Next(partners),
            Side::After => OrderKind::Previous(partners),
        };
        builder.order(
            day,
            Order {
                rule: id.to_string(),
                level: rule.yields.level(),
                kind,
            },
        );
    }
}
