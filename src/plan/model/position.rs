//! `position`: what stands first or last.

use crate::rules::kinds::{Position, Stretch, Where};

use super::build::Builder;
use super::shape::{Order, OrderKind};

pub(super) fn add(builder: &mut Builder<'_, '_>, rule: &Position) {
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
                level: rule.yields.level(),
                kind,
            },
        );
    }
}
