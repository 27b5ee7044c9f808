//! What must stand before what in a session: the hard order rules as a graph over a day's candidates.

use petgraph::algo::toposort;
use petgraph::graphmap::DiGraphMap;

use crate::graph::Bits;

use super::shape::{Candidate, Level, Order, OrderKind};

/// For each candidate those that must stand before it, as far as the parts do not put them there
/// anyway. Only rules that must hold belong here, since an order that breaks another is one; those
/// that ask for a neighbour ask for nothing, since the neighbour is one of several.
///
/// Every session that is priced asks for its orders, so what is looked up there is sets; the graph
/// is made only of the items of a session in which one must stand before another.
#[derive(Debug, Clone, Default)]
pub(crate) struct Precedence(Vec<Bits>);

impl Precedence {
    /// What the order rules of the levels that must hold ask of each two candidates.
    pub(crate) fn of(
        candidates: &[Candidate],
        orders: &[Order],
        hard: impl Fn(Level) -> bool,
    ) -> Self {
        let mut precedence = Self::default();
        for order in orders.iter().filter(|order| hard(order.level)) {
            precedence.add(candidates, order);
        }
        precedence
    }

    fn add(&mut self, candidates: &[Candidate], order: &Order) {
        let all = || 0..candidates.len();
        match &order.kind {
            OrderKind::Before(late) => {
                for (first, late) in late.iter().enumerate() {
                    for then in late.iter() {
                        self.put(candidates, first, then);
                    }
                }
            }
            OrderKind::First { what, part } => {
                for first in what.iter() {
                    for then in all().filter(|then| !what.has(*then)) {
                        self.put_in(candidates, first, then, *part);
                    }
                }
            }
            OrderKind::Last { what, part } => {
                for then in what.iter() {
                    for first in all().filter(|first| !what.has(*first)) {
                        self.put_in(candidates, first, then, *part);
                    }
                }
            }
            OrderKind::Next(_) | OrderKind::Previous(_) => {}
        }
    }

    /// The same, where only those of one part are asked, for these alone.
    fn put_in(&mut self, candidates: &[Candidate], first: usize, then: usize, part: bool) {
        if !part || slot(candidates, first) == slot(candidates, then) {
            self.put(candidates, first, then);
        }
    }

    fn put(&mut self, candidates: &[Candidate], first: usize, then: usize) {
        if slot(candidates, first) < slot(candidates, then) {
            return;
        }
        if self.0.len() < candidates.len() {
            self.0.resize(candidates.len(), Bits::default());
        }
        if let Some(before) = self.0.get_mut(then) {
            before.insert(first);
        }
    }

    /// Whether no session has both: what is asked of them is against the parts, or goes both ways.
    pub(crate) fn excludes(&self, candidates: &[Candidate], one: usize, other: usize) -> bool {
        let against = |first: usize, then: usize| {
            self.asks(first, then) && slot(candidates, first) > slot(candidates, then)
        };
        against(one, other)
            || against(other, one)
            || (self.asks(one, other) && self.asks(other, one))
    }

    /// Whether `first` must stand before `then`.
    pub(crate) fn asks(&self, first: usize, then: usize) -> bool {
        self.0.get(then).is_some_and(|before| before.has(first))
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

    /// Whether what the rules ask of the items is against the parts, or goes round.
    fn has_none(&self, candidates: &[Candidate], items: &[usize]) -> bool {
        let pairs = || {
            items.iter().flat_map(|then| {
                items
                    .iter()
                    .map(|first| (*first, *then))
                    .filter(|(first, then)| self.asks(*first, *then))
            })
        };
        if pairs().next().is_none() {
            return false;
        }
        let against = |(first, then)| slot(candidates, first) > slot(candidates, then);
        pairs().any(against) || {
            let graph: DiGraphMap<usize, ()> =
                pairs().map(|(first, then)| (first, then, ())).collect();
            toposort(&graph, None).is_err()
        }
    }

    /// Puts one of the rest next, each that may stand there in turn; false once `each` said so.
    fn place(
        &self,
        candidates: &[Candidate],
        rest: &mut Vec<usize>,
        placed: &mut Vec<usize>,
        each: &mut impl FnMut(&[usize]) -> bool,
    ) -> bool {
        let Some(part) = rest.first().map(|at| slot(candidates, *at)) else {
            return each(placed);
        };
        for i in 0..rest.len() {
            let Some(at) = rest
                .get(i)
                .copied()
                .filter(|at| slot(candidates, *at) == part)
            else {
                break;
            };
            if rest.iter().any(|other| self.asks(*other, at)) {
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

/// The part that a candidate stands in, counted from 0.
fn slot(candidates: &[Candidate], at: usize) -> Option<usize> {
    candidates.get(at).map(|held| held.slot)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// Candidates 0 and 1 in the first part, 2 and 3 in the second.
    fn candidates() -> Vec<Candidate> {
        (0..4).map(|at| Candidate::plain(at, at / 2)).collect()
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
        let precedence = Precedence::of(&candidates, orders, |level| level.is_none());
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

    #[rstest]
    #[case::free(&[], 0, 2, false)]
    #[case::as_the_parts_stand(&[(0, 2)], 0, 2, false)]
    #[case::against_the_parts(&[(2, 0)], 0, 2, true)]
    #[case::one_way(&[(1, 0)], 0, 1, false)]
    #[case::both_ways(&[(1, 0), (0, 1)], 0, 1, true)]
    fn two_that_no_order_has_both_of(
        #[case] pairs: &[(usize, usize)],
        #[case] one: usize,
        #[case] other: usize,
        #[case] expected: bool,
    ) {
        let (candidates, order) = (candidates(), before(pairs, None));
        let precedence = Precedence::of(&candidates, &[order], |level| level.is_none());
        assert_eq!(precedence.excludes(&candidates, one, other), expected);
        assert_eq!(precedence.excludes(&candidates, other, one), expected);
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
