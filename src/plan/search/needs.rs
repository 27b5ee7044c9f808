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

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::super::stage::{Part, Scale};
    use super::*;
    use crate::plan::model::{Candidate, Order};

    /// Candidates 0 and 1 in the first part, 2 and 3 in the second; of two orders of the first part
    /// the one with 1 before 0 must hold.
    fn day(orders: Vec<Order>) -> DayModel {
        DayModel {
            candidates: (0..4).map(|at| Candidate::plain(at, at / 2)).collect(),
            slots: Vec::new(),
            sums: Vec::new(),
            couples: Vec::new(),
            orders,
        }
    }

    fn order(level: Option<usize>, kind: OrderKind) -> Order {
        Order {
            rule: "order".to_owned(),
            level,
            kind,
        }
    }

    fn bits(of: &[usize]) -> Bits {
        of.iter().copied().collect()
    }

    /// A rule by which one candidate waits for any of the others, some days of which answer.
    fn follow(level: Option<usize>, week: bool, at: usize, days: &[Vec<usize>]) -> Follow {
        let gives = |answers: &Vec<usize>| {
            let of_day = (0..4).map(|held| {
                if answers.contains(&held) {
                    bits(&[0])
                } else {
                    bits(&[])
                }
            });
            of_day.collect()
        };
        let needs = (0..4).map(|held| (held == at).then_some(Need::Class(0)));
        Follow {
            rule: "followed".to_owned(),
            level,
            week,
            closer_by: 0,
            needs: vec![needs.collect(); days.len()],
            gives: days.iter().map(gives).collect(),
        }
    }

    fn stage(level: Part) -> Stage {
        Stage {
            levels: [level; 3],
            scale: Scale::of(0),
        }
    }

    #[rstest]
    #[case::later_in_the_session(1, false, vec![vec![0, 2, 3]], &[(1, &[0, 2, 3][..])])]
    #[case::never_an_earlier_part(2, false, vec![vec![0, 1, 3]], &[(2, &[3][..])])]
    #[case::not_what_must_come_before(0, false, vec![vec![1, 2]], &[(0, &[2][..])])]
    #[case::nothing_answers(2, false, vec![vec![0, 1]], &[(2, &[][..])])]
    #[case::a_later_day_may_answer(1, true, vec![vec![2], vec![2]], &[])]
    #[case::no_later_day_does(1, true, vec![vec![2], vec![]], &[(1, &[2][..])])]
    fn what_must_be_followed(
        #[case] at: usize,
        #[case] week: bool,
        #[case] days: Vec<Vec<usize>>,
        #[case] expected: &[(usize, &[usize])],
    ) {
        let before = [bits(&[]), bits(&[0]), bits(&[]), bits(&[])];
        let model = day(vec![order(None, OrderKind::Before(before.to_vec()))]);
        let precedence = Precedence::of(&model.candidates, &model.orders, |_| true);
        let follows = [follow(Some(1), week, at, &days)];
        let whole = Model {
            days: vec![model.clone(); days.len()],
            rows: Vec::new(),
            presences: Vec::new(),
            two_days: Vec::new(),
            follows: follows.to_vec(),
        };
        let found = |stage: &Stage| {
            let hopeless = hopeless(&whole, 0, stage);
            of(&model, &follows, 0, stage, &hopeless, &precedence)
        };
        let expected: Vec<(usize, Bits)> =
            expected.iter().map(|(at, of)| (*at, bits(of))).collect();
        assert_eq!(found(&stage(Part::Hard)), expected);
        assert_eq!(
            found(&stage(Part::Free)),
            [],
            "where it gives way it asks for nothing"
        );
    }

    #[test]
    fn a_neighbour_stands_on_its_own_side() {
        let beside = |at: usize, others: &[usize]| -> Vec<Option<Bits>> {
            (0..4)
                .map(|held| (held == at).then(|| bits(others)))
                .collect()
        };
        let model = day(vec![
            order(None, OrderKind::Next(beside(1, &[0, 2]))),
            order(None, OrderKind::Previous(beside(2, &[1, 3]))),
            order(None, OrderKind::Next(beside(3, &[0]))),
        ]);
        let found = of(
            &model,
            &[],
            0,
            &stage(Part::Hard),
            &[],
            &Precedence::default(),
        );
        assert_eq!(
            found,
            [(1, bits(&[0, 2])), (2, bits(&[1, 3])), (3, bits(&[]))]
        );
    }

    #[test]
    fn a_need_is_a_sum_that_is_not_below_zero() {
        let sum = group(4, 1, &bits(&[0, 3]));
        assert_eq!((sum.amounts, sum.at_least), (vec![1, -1, 0, 1], Some(0)));
        assert_eq!(
            group(2, 1, &bits(&[1])).amounts,
            [0, 0],
            "what answers itself needs nothing"
        );
    }
}
