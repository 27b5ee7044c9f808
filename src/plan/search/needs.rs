//! What an item needs beside it in its session, told before whole sessions are looked at.
//!
//! An item that must be followed, stand beside another or have one with it leaves no session
//! without one of those that answer. Whether their order can be kept is seen where orders are
//! tried; that one of them is there at all is a sum like the others, so prices and walks see it.

use crate::graph::Bits;
use crate::plan::model::{CoupleKind, DayModel, Follow, Group, Model, Need, OrderKind, Precedence};

use super::stage::Stage;

/// Candidates with those of which each needs one at least; none can do where that is empty.
pub(super) fn of(
    model: &DayModel,
    follows: &[Follow],
    day: usize,
    stage: &Stage,
    hopeless: &[Bits],
    precedence: &Precedence,
) -> Vec<(usize, Bits)> {
    let slot = |at: usize| model.candidates.get(at).map(|held| held.slot);
    let may_follow = |first: usize, then: usize| {
        first != then && slot(first) <= slot(then) && !precedence.asks(then, first)
    };
    let count = model.candidates.len();
    let mut needs: Vec<(usize, Bits)> = Vec::new();
    let mut add = |at: usize, beside: Bits| {
        if !needs.contains(&(at, beside.clone())) {
            needs.push((at, beside));
        }
    };
    for couple in model.couples.iter().filter(|held| stage.hard(held.level)) {
        if let CoupleKind::Needs(of_each) = &couple.kind {
            for (at, others) in of_each.iter().enumerate() {
                if let Some(others) = others {
                    add(at, others.clone());
                }
            }
        }
    }
    for order in model.orders.iter().filter(|held| stage.hard(held.level)) {
        let (of_each, next) = match &order.kind {
            OrderKind::Next(of_each) => (of_each, true),
            OrderKind::Previous(of_each) => (of_each, false),
            _ => continue,
        };
        for (at, others) in of_each.iter().enumerate() {
            let Some(others) = others else { continue };
            let beside = others.iter().filter(|other| {
                if next {
                    may_follow(at, *other)
                } else {
                    may_follow(*other, at)
                }
            });
            add(at, beside.collect());
        }
    }
    for (follow, hopeless) in follows.iter().zip(hopeless) {
        if !stage.hard(follow.level) {
            continue;
        }
        let (of_day, gives) = (follow.needs.get(day), follow.gives.get(day));
        for (at, need) in of_day.into_iter().flatten().enumerate() {
            let Some(Need::Class(class)) = need else {
                continue;
            };
            if follow.week && !hopeless.has(*class) {
                continue;
            }
            let answers = |other: usize| {
                let gives = gives.and_then(|gives| gives.get(other));
                gives.is_some_and(|gives| gives.has(*class))
            };
            let beside = (0..count).filter(|other| answers(*other) && may_follow(at, *other));
            add(at, beside.collect());
        }
    }
    needs
}

/// The need as a sum: those that answer, less the item, is not below zero.
pub(super) fn group(count: usize, at: usize, beside: &Bits) -> Group {
    let amounts = (0..count).map(|held| i64::from(beside.has(held)) - i64::from(held == at));
    Group {
        amounts: amounts.collect(),
        at_least: Some(0),
        at_most: None,
        start: 0,
        presence: false,
    }
}

/// By follow rule that must hold: needs that no later day of the week has an answer to.
pub(super) fn hopeless(model: &Model, day: usize, stage: &Stage) -> Vec<Bits> {
    let follows = model.follows.iter();
    follows
        .map(|follow| {
            if !stage.hard(follow.level) || !follow.week {
                return Bits::default();
            }
            let later = follow.gives.get(day + 1..).unwrap_or(&[]);
            let answered = |class: usize| later.iter().flatten().any(|gives| gives.has(class));
            let needs = follow.needs.get(day).into_iter().flatten();
            let classes = needs.filter_map(|need| match need {
                Some(Need::Class(class)) => Some(*class),
                _ => None,
            });
            classes.filter(|class| !answered(*class)).collect()
        })
        .collect()
}
