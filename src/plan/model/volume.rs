//! `volume`: repetitions in each zone of a table, for each item, skill or session.

use crate::base::RuleId;
use crate::rules::kinds::{Together, Volume};

use super::bounds::unit;
use super::build::Builder;
use super::shape::{Group, Sums};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Volume) {
    let Some(table) = builder.setting.pack.zone_tables.get(&rule.table.value) else {
        return;
    };
    for day in 0..builder.days() {
        let what = builder.matching(&rule.what, day);
        let count = builder.items(day).len();
        let (mut groups, mut extra) = (Vec::new(), vec![0i64; count]);
        for zone in table.zones.values() {
            let in_zone: Vec<Option<(i64, i64)>> = builder
                .items(day)
                .iter()
                .enumerate()
                .map(|(at, item)| {
                    let there = item
                        .dosed
                        .percent
                        .is_some_and(|(_, high)| zone.percent.holds(high));
                    (what.has(at) && there).then(|| (item.lifts(), item.dosed.reps))
                })
                .collect();
            for (slot, held) in extra.iter_mut().zip(&in_zone) {
                *slot += held.map_or(0, |(_, reps)| {
                    (reps - i64::from(zone.reps_per_set.value.to)).max(0)
                });
            }
            let most = i64::from(zone.total.value.to);
            match rule.together {
                Together::Item => {
                    groups.extend((0..count).map(|only| group(&in_zone, most, |at| at == only)));
                }
                Together::Session => groups.push(group(&in_zone, most, |_| true)),
                Together::Skill => {
                    for skill in 0..builder.setting.graph.skills.len() {
                        let trains = |at: usize| {
                            builder
                                .model
                                .days
                                .get(day)
                                .and_then(|held| held.candidates.get(at))
                                .is_some_and(|held| held.skills.has(skill))
                        };
                        groups.push(group(&in_zone, most, trains));
                    }
                }
            }
        }
        groups.retain(|group| group.amounts.iter().any(|amount| *amount != 0));
        let sums = Sums {
            rule: id.to_string(),
            level: rule.yields.level(),
            groups,
            extra,
            unit: unit(rule.unit.as_ref()),
        };
        builder.sums(day, sums);
    }
}

fn group(in_zone: &[Option<(i64, i64)>], most: i64, counts: impl Fn(usize) -> bool) -> Group {
    let amounts = in_zone
        .iter()
        .enumerate()
        .map(|(at, held)| held.filter(|_| counts(at)).map_or(0, |(lifts, _)| lifts))
        .collect();
    Group {
        amounts,
        at_least: None,
        at_most: Some(most),
        start: 0,
        presence: false,
    }
}
