//! `position`: what stands first or last.

use crate::base::RuleId;
use crate::rules::kinds::{Position, Stretch, Where};

use super::build::Builder;
use super::shape::{Order, OrderKind};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Position) {
    for day in 0..builder.days() {
        let what = builder.matching(&rule.what, day);
        let part = rule.of == Stretch::Part;
        let kind = match rule.place {
            Where::First => OrderKind::First { what, part },
            Where::Last => OrderKind::Last { what, part },
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
