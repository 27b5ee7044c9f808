//! The least items of each part of a layout's day; the most is the search's own bound.

use super::build::Builder;
use super::shape::{Group, Sums};

pub(super) fn add(builder: &mut Builder<'_, '_>) {
    for day in 0..builder.days() {
        let Some(held) = builder.week.days.get(day) else {
            continue;
        };
        for (slot, part) in held
            .layout
            .parts
            .iter()
            .enumerate()
            .filter(|(_, part)| part.at_least > 0)
        {
            let amounts = builder
                .items(day)
                .iter()
                .map(|item| i64::from(item.slot == slot))
                .collect();
            let group = Group {
                amounts,
                at_least: Some(i64::from(part.at_least)),
                at_most: None,
                start: 0,
                presence: false,
            };
            let sums = Sums {
                rule: part.part.to_string(),
                level: part.yields.level(),
                groups: vec![group],
                extra: Vec::new(),
                unit: 1,
            };
            builder.sums(day, sums);
        }
    }
}
