//! `alike`: for each skill, root or parent, how many items a session takes.

use crate::base::RuleId;
use crate::graph::Bits;
use crate::rules::kinds::{Alike, Same};

use super::build::Builder;
use super::shape::{Group, Sums};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Alike) {
    let graph = builder.setting.graph;
    let keys = |exercise: usize| -> Bits {
        let Some(held) = graph.exercises.get(exercise) else {
            return Bits::default();
        };
        match rule.same {
            Same::Skill => held.skills.clone(),
            Same::Root => held.pieces.iter().map(|piece| piece.body.root).collect(),
            Same::Parent => std::iter::once(held.stands_under).collect(),
        }
    };
    let what = builder.matching_on(&rule.what, &rule.on);
    for (day, what) in what.iter().enumerate() {
        let held: Vec<Bits> = builder
            .items(day)
            .iter()
            .enumerate()
            .map(|(at, item)| {
                if what.has(at) {
                    keys(item.exercise)
                } else {
                    Bits::default()
                }
            })
            .collect();
        let all: Bits = held
            .iter()
            .flat_map(|keys| keys.iter().collect::<Vec<_>>())
            .collect();
        let groups = all
            .iter()
            .map(|key| Group {
                amounts: held.iter().map(|keys| i64::from(keys.has(key))).collect(),
                at_least: None,
                at_most: Some(i64::from(rule.at_most.value)),
                start: 0,
                presence: false,
            })
            .collect();
        builder.sums(
            day,
            Sums {
                rule: id.to_string(),
                level: rule.yields.level(),
                groups,
                extra: Vec::new(),
                unit: 1,
            },
        );
    }
}
