//! `prefer`: worth of a candidate by itself.

use crate::rules::kinds::{Each, Prefer};

use super::build::Builder;
use super::quality_worth::HUNDREDTHS;

pub(super) fn add(builder: &mut Builder<'_, '_>, rule: &Prefer) {
    let what = builder.matching_on(&rule.what, &rule.on);
    for (day, what) in what.iter().enumerate() {
        let times: Vec<i64> = builder
            .items(day)
            .iter()
            .map(|item| match rule.each {
                Each::Item => 1,
                Each::Set => item.dosed.sets,
                Each::Departure => builder
                    .setting
                    .graph
                    .exercises
                    .get(item.exercise)
                    .map_or(0, |exercise| exercise.departure),
            })
            .collect();
        let Some(held) = builder.model.days.get_mut(day) else {
            continue;
        };
        for at in what.iter() {
            if let (Some(candidate), Some(times)) = (held.candidates.get_mut(at), times.get(at)) {
                candidate.worth += HUNDREDTHS * rule.weight.value * times;
            }
        }
    }
}
