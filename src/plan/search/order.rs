//! The orders of a session: what each misses, and what it leaves waiting.
//!
//! Parts come one after the other; inside a part every order that the graph of hard rules leaves is
//! tried, in the order of the candidates, so the first with an outcome is the first by ids.

use crate::graph::Bits;
use crate::plan::model::{DayModel, Follow, Need, Order, OrderKind, Precedence};

/// One order of a session with what comes of it.
pub(super) struct Outcome {
    pub(super) items: Vec<usize>,
    pub(super) misses: [i64; 3],
    /// Worth of what is followed within the session.
    pub(super) closer: i64,
    /// For each follow rule, the classes of need that wait for a later day.
    pub(super) waits: Vec<Vec<usize>>,
}

/// All orders of some items with different outcomes.
pub(super) struct Outcomes {
    pub(super) found: Vec<Outcome>,
    /// How many orders were tried.
    pub(super) tried: u64,
    /// Whether those are all there are.
    pub(super) all: bool,
}

/// More orders than any session that a coach would run has; beyond, the rest is not tried, and
/// nothing that rests on such a session is claimed to be best.
const MOST_ORDERS: u64 = 5_040;

impl Outcomes {
    /// `precedence` is what the order rules that must hold ask for.
    pub(super) fn of(
        model: &DayModel,
        precedence: &Precedence,
        follows: &[Follow],
        day: usize,
        chosen: &[usize],
    ) -> Self {
        let mut items = chosen.to_vec();
        items.sort_by_key(|at| (model.candidates.get(*at).map_or(0, |held| held.slot), *at));
        if !free(model, follows, day, &items) {
            return Self {
                found: outcome(model, follows, day, items).into_iter().collect(),
                tried: 1,
                all: true,
            };
        }
        let mut found: Vec<Outcome> = Vec::new();
        let (mut tried, mut all) = (0u64, true);
        precedence.orders(&model.candidates, &items, |order| {
            if tried == MOST_ORDERS {
                all = false;
                return false;
            }
            tried += 1;
            if let Some(new) = outcome(model, follows, day, order.to_vec()) {
                let known = found.iter().any(|old| {
                    old.misses == new.misses && old.closer == new.closer && old.waits == new.waits
                });
                if !known {
                    found.push(new);
                }
            }
            true
        });
        let tried = tried.max(1);
        Self { found, tried, all }
    }
}

/// Whether any rule could tell two orders of the items apart.
fn free(model: &DayModel, follows: &[Follow], day: usize, items: &[usize]) -> bool {
    let slot = |at: usize| model.candidates.get(at).map(|held| held.slot);
    let crowded = items
        .windows(2)
        .any(|pair| matches!(pair, [one, other] if slot(*one) == slot(*other)));
    crowded
        && (model
            .orders
            .iter()
            .any(|order| items.iter().any(|at| order.speaks_of(*at)))
            || follows.iter().any(|follow| {
                let needs = follow.needs.get(day);
                items.iter().any(|at| {
                    needs
                        .and_then(|needs| needs.get(*at))
                        .is_some_and(|need| matches!(need, Some(Need::Class(_))))
                })
            }))
}

fn outcome(model: &DayModel, follows: &[Follow], day: usize, items: Vec<usize>) -> Option<Outcome> {
    let mut misses = [0i64; 3];
    for order in &model.orders {
        let units = order.units(model, &items);
        match order.level.and_then(|level| misses.get_mut(level)) {
            Some(slot) => *slot += units,
            None if units > 0 => return None,
            None => {}
        }
    }
    let (mut closer, mut waits) = (0i64, Vec::new());
    for follow in follows {
        let needs = follow.needs.get(day).map_or(&[][..], Vec::as_slice);
        let gives = follow.gives.get(day).map_or(&[][..], Vec::as_slice);
        let mut waiting = Vec::new();
        for (place, at) in items.iter().enumerate() {
            let Some(Some(need)) = needs.get(*at) else {
                continue;
            };
            let met = match need {
                Need::Met => true,
                Need::Class(class) => items.iter().skip(place + 1).any(|later| {
                    gives
                        .get(*later)
                        .is_some_and(|gives: &Bits| gives.has(*class))
                }),
            };
            if met {
                closer += follow.closer_by;
            } else if let Need::Class(class) = need {
                waiting.push(*class);
            }
        }
        if !follow.week {
            let units = i64::try_from(waiting.len()).unwrap_or(i64::MAX);
            waiting.clear();
            match follow.level.and_then(|level| misses.get_mut(level)) {
                Some(slot) => *slot += units,
                None if units > 0 => return None,
                None => {}
            }
        }
        waiting.sort_unstable();
        waits.push(waiting);
    }
    Some(Outcome {
        items,
        misses,
        closer,
        waits,
    })
}

impl Order {
    fn speaks_of(&self, at: usize) -> bool {
        match &self.kind {
            OrderKind::Before(late) => late.get(at).is_some_and(|late| !late.is_empty()),
            OrderKind::First { what, .. } | OrderKind::Last { what, .. } => what.has(at),
            OrderKind::Next(which) | OrderKind::Previous(which) => {
                which.get(at).is_some_and(Option::is_some)
            }
        }
    }

    /// Units missed by items in this order.
    fn units(&self, model: &DayModel, items: &[usize]) -> i64 {
        let slot = |at: &usize| model.candidates.get(*at).map(|held| held.slot);
        let missed =
            match &self.kind {
                OrderKind::Before(late) => items
                    .iter()
                    .enumerate()
                    .filter_map(|(place, at)| late.get(*at).map(|late| (place, late)))
                    .map(|(place, late)| {
                        items
                            .iter()
                            .take(place)
                            .filter(|other| late.has(**other))
                            .count()
                    })
                    .sum(),
                OrderKind::First { what, part } => items
                    .iter()
                    .enumerate()
                    .filter(|(place, at)| {
                        what.has(**at)
                            && items.iter().take(*place).any(|other| {
                                !what.has(*other) && (!part || slot(other) == slot(at))
                            })
                    })
                    .count(),
                OrderKind::Last { what, part } => items
                    .iter()
                    .enumerate()
                    .filter(|(place, at)| {
                        what.has(**at)
                            && items.iter().skip(place + 1).any(|other| {
                                !what.has(*other) && (!part || slot(other) == slot(at))
                            })
                    })
                    .count(),
                OrderKind::Next(which) => lonely(items, which, |place| items.get(place + 1)),
                OrderKind::Previous(which) => lonely(items, which, |place| {
                    place.checked_sub(1).and_then(|at| items.get(at))
                }),
            };
        i64::try_from(missed).unwrap_or(i64::MAX)
    }
}

fn lonely<'a>(
    items: &[usize],
    which: &[Option<Bits>],
    neighbour: impl Fn(usize) -> Option<&'a usize>,
) -> usize {
    items
        .iter()
        .enumerate()
        .filter(|(place, at)| {
            which
                .get(**at)
                .and_then(Option::as_ref)
                .is_some_and(|which| !neighbour(*place).is_some_and(|next| which.has(*next)))
        })
        .count()
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::plan::model::{Candidate, SlotModel};

    /// A day of one part with so many candidates, of which the last must stand first.
    fn day(count: usize, level: Option<usize>) -> (DayModel, Precedence) {
        let candidates: Vec<Candidate> = (0..count).map(|at| Candidate::plain(at, 0)).collect();
        let order = Order {
            rule: "last-one-first".to_owned(),
            level,
            kind: OrderKind::First {
                what: [count - 1].into_iter().collect(),
                part: false,
            },
        };
        let orders = vec![order];
        let precedence = Precedence::of(&candidates, &orders, |level| level.is_none());
        let day = DayModel {
            candidates,
            slots: vec![SlotModel {
                candidates: (0..count).collect(),
                at_most: count,
            }],
            sums: Vec::new(),
            couples: Vec::new(),
            orders,
        };
        (day, precedence)
    }

    #[rstest]
    #[case::gives_way(3, Some(0), 6, true)]
    #[case::gives_way_as_many_as_are_tried(7, Some(0), 5_040, true)]
    #[case::gives_way_too_many(8, Some(0), 5_040, false)]
    #[case::hard(3, None, 2, true)]
    #[case::hard_as_many_as_are_tried(8, None, 5_040, true)]
    #[case::hard_too_many(9, None, 5_040, false)]
    fn orders_that_are_too_many_are_not_said_to_be_all(
        #[case] count: usize,
        #[case] level: Option<usize>,
        #[case] tried: u64,
        #[case] all: bool,
    ) {
        let chosen: Vec<usize> = (0..count).collect();
        let (day, precedence) = day(count, level);
        let outcomes = Outcomes::of(&day, &precedence, &[], 0, &chosen);
        assert_eq!((outcomes.tried, outcomes.all), (tried, all));
    }

    #[test]
    fn an_order_that_breaks_a_hard_rule_is_none() {
        let (day, precedence) = day(3, None);
        let outcomes = Outcomes::of(&day, &precedence, &[], 0, &[0, 1, 2]);
        let first: Vec<Option<&usize>> = outcomes
            .found
            .iter()
            .map(|held| held.items.first())
            .collect();
        assert_eq!(first, [Some(&2)]);
    }
}
