//! `apart`: pairs of days that are too near, with what makes two items meet.

use crate::base::RuleId;
use crate::graph::Bits;
use crate::rules::kinds::{Apart, Way};

use super::build::Builder;
use super::shape::{TwoDays, TwoDaysKind};

pub(super) fn add(builder: &mut Builder<'_, '_>, id: &RuleId, rule: &Apart) {
    let free = i64::from(rule.free_days.value);
    let wraps = rule.wraps.unwrap_or(true);
    let mut near = Vec::new();
    for one in 0..builder.days() {
        for other in (0..builder.days()).filter(|other| *other != one) {
            let (ahead, round) = builder.week.free_between(one, other);
            // Days are in the order of the week, so `one` comes first where it is the lower.
            let follows = if one < other {
                ahead < free
            } else {
                wraps && round < free
            };
            let either = ahead < free || (wraps && round < free);
            if if rule.way == Way::After {
                follows
            } else {
                either
            } {
                near.push((one, other));
            }
        }
    }
    let keys = |what: &crate::rules::vocab::Selector| -> Vec<Vec<Bits>> {
        (0..builder.days())
            .map(|day| {
                let held = builder.matching(what, day);
                builder
                    .items(day)
                    .iter()
                    .enumerate()
                    .map(|(at, item)| {
                        if held.has(at) {
                            key(builder, rule, item.exercise)
                        } else {
                            Bits::default()
                        }
                    })
                    .collect()
            })
            .collect()
    };
    let kind = TwoDaysKind::Apart {
        what: keys(&rule.what),
        from: keys(&rule.from),
        near,
    };
    builder.two_days(TwoDays {
        rule: id.to_string(),
        level: rule.yields.level(),
        kind,
    });
}

/// What two items must share to be too near: a skill, the exercise, or nothing in particular.
fn key(builder: &Builder<'_, '_>, rule: &Apart, exercise: usize) -> Bits {
    let skills = || {
        builder
            .setting
            .graph
            .exercises
            .get(exercise)
            .map(|held| held.skills.clone())
            .unwrap_or_default()
    };
    match (rule.same_exercise, rule.same_skill) {
        // The same exercise has the same skills, if it has any.
        (true, true) if skills().is_empty() => Bits::default(),
        (true, _) => std::iter::once(exercise).collect(),
        (false, true) => skills(),
        (false, false) => std::iter::once(0).collect(),
    }
}
