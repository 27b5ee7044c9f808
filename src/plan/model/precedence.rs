//! What must stand before what in a session: the hard order rules as a graph over a day's candidates.

use petgraph::algo::toposort;
use petgraph::graphmap::DiGraphMap;

use super::shape::{Candidate, Order, OrderKind};

/// An edge leads from a candidate to one that may not stand before it. Rules that give way have no
/// edge, since an order that breaks them is one, nor have those that ask for a neighbour, since the
/// neighbour is one of several.
#[derive(Debug, Clone, Default)]
pub(crate) struct Precedence(DiGraphMap<usize, ()>);

impl Precedence {
    /// Adds what a rule asks of each two candidates.
    pub(crate) fn add(&mut self, candidates: &[Candidate], order: &Order) {
        if order.level.is_some() {
            return;
        }
        let slot = |at: usize| candidates.get(at).map(|held| held.slot);
        for one in 0..candidates.len() {
            for other in (0..candidates.len()).filter(|other| *other != one) {
                let stands_before = match &order.kind {
                    OrderKind::Before(late) => late.get(one).is_some_and(|late| late.has(other)),
                    OrderKind::First { what, part } => {
                        what.has(one) && !what.has(other) && (!part || slot(one) == slot(other))
                    }
                    OrderKind::Last { what, part } => {
                        !what.has(one) && what.has(other) && (!part || slot(one) == slot(other))
                    }
                    OrderKind::Next(_) | OrderKind::Previous(_) => false,
                };
                if stands_before {
                    self.0.add_edge(one, other, ());
                }
            }
        }
    }

    /// Each order of `items` that keeps the graph and the order of the parts, the first by ids
    /// first, for as long as `each` says true; `items` stand part by part and by ids.
    pub(crate) fn orders(
        &self,
        candidates: &[Candidate],
        items: &[usize],
        mut each: impl FnMut(&[usize]) -> bool,
    ) {
        if self.has_none(candidates, items) {
            return;
        }
        let mut rest = items.to_vec();
        self.place(
            candidates,
            &mut rest,
            &mut Vec::with_capacity(items.len()),
            &mut each,
        );
    }

    /// Whether the graph goes round among the items once the parts are in their order.
    fn has_none(&self, candidates: &[Candidate], items: &[usize]) -> bool {
        let slot = |at: usize| candidates.get(at).map(|held| held.slot);
        let pairs = || {
            items.iter().flat_map(|one| {
                items
                    .iter()
                    .map(move |other| (*one, *other))
                    .filter(|(one, other)| self.0.contains_edge(*one, *other))
            })
        };
        if pairs().next().is_none() {
            return false;
        }
        let mut among: DiGraphMap<usize, ()> =
            pairs().map(|(one, other)| (one, other, ())).collect();
        for one in items {
            for other in items.iter().filter(|other| slot(*one) < slot(**other)) {
                among.add_edge(*one, *other, ());
            }
        }
        toposort(&among, None).is_err()
    }

    /// Puts one of the rest next, each that may stand there in turn; false once `each` said so.
    fn place(
        &self,
        candidates: &[Candidate],
        rest: &mut Vec<usize>,
        placed: &mut Vec<usize>,
        each: &mut impl FnMut(&[usize]) -> bool,
    ) -> bool {
        let slot = |at: usize| candidates.get(at).map(|held| held.slot);
        let Some(part) = rest.first().map(|at| slot(*at)) else {
            return each(placed);
        };
        for i in 0..rest.len() {
            let Some(at) = rest.get(i).copied().filter(|at| slot(*at) == part) else {
                break;
            };
            if rest.iter().any(|other| self.0.contains_edge(*other, at)) {
                continue;
            }
            rest.remove(i);
            placed.push(at);
            let more = self.place(candidates, rest, placed, each);
            placed.pop();
            rest.insert(i, at);
            if !more {
                return false;
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::graph::Bits;

    /// Candidates 0 and 1 in the first part, 2 and 3 in the second.
    fn candidates() -> Vec<Candidate> {
        let candidate = |exercise| Candidate {
            exercise,
            slot: exercise / 2,
            skills: Bits::default(),
            worth: 0,
            tie: 0,
            amounts: Vec::new(),
            once: Vec::new(),
            misses: [0; 3],
        };
        (0..4).map(candidate).collect()
    }

    fn before(pairs: &[(usize, usize)], level: Option<usize>) -> Order {
        let late = |one: usize| {
            let of_one = pairs.iter().filter(|(held, _)| *held == one);
            of_one.map(|(_, other)| *other).collect()
        };
        Order {
            rule: "one-before-other".to_owned(),
            level,
            kind: OrderKind::Before((0..4).map(late).collect()),
        }
    }

    fn all(orders: &[Order], items: &[usize]) -> Vec<Vec<usize>> {
        let candidates = candidates();
        let mut precedence = Precedence::default();
        for order in orders {
            precedence.add(&candidates, order);
        }
        let mut all = Vec::new();
        precedence.orders(&candidates, items, |order| {
            all.push(order.to_vec());
            true
        });
        all
    }

    #[rstest]
    #[case::free(&[], None, &[[0, 1, 2, 3], [0, 1, 3, 2], [1, 0, 2, 3], [1, 0, 3, 2]])]
    #[case::one_pair(&[(1, 0)], None, &[[1, 0, 2, 3], [1, 0, 3, 2]])]
    #[case::two_pairs(&[(1, 0), (3, 2)], None, &[[1, 0, 3, 2]])]
    #[case::as_the_parts_stand(&[(0, 3)], None, &[[0, 1, 2, 3], [0, 1, 3, 2], [1, 0, 2, 3], [1, 0, 3, 2]])]
    #[case::against_the_parts(&[(2, 1)], None, &[])]
    #[case::round(&[(0, 1), (1, 0)], None, &[])]
    #[case::gives_way(&[(1, 0)], Some(1), &[[0, 1, 2, 3], [0, 1, 3, 2], [1, 0, 2, 3], [1, 0, 3, 2]])]
    fn orders_keep_the_graph_and_the_parts(
        #[case] pairs: &[(usize, usize)],
        #[case] level: Option<usize>,
        #[case] expected: &[[usize; 4]],
    ) {
        assert_eq!(all(&[before(pairs, level)], &[0, 1, 2, 3]), expected);
    }

    #[test]
    fn first_and_last_are_asked_of_each_two() {
        let ends = |kind| Order {
            rule: "end".to_owned(),
            level: None,
            kind,
        };
        let one: Bits = [1].into_iter().collect();
        let two: Bits = [2].into_iter().collect();
        let orders = [
            ends(OrderKind::First {
                what: one,
                part: false,
            }),
            ends(OrderKind::Last {
                what: two,
                part: true,
            }),
        ];
        assert_eq!(all(&orders, &[0, 1, 2, 3]), [[1, 0, 3, 2]]);
    }

    #[test]
    fn it_ends_when_told_to() {
        let (candidates, mut seen) = (candidates(), 0);
        Precedence::default().orders(&candidates, &[0, 1, 2, 3], |_| {
            seen += 1;
            seen < 3
        });
        assert_eq!(seen, 3);
    }
}
