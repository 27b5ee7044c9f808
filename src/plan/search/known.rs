//! What the sessions known so far leave open.

use super::node::{Node, bound};
use super::rows::RowValues;
use super::session::{Fixed, Session};
use super::solver::Solver;

impl Solver {
    /// The bound that there would be, were there no sessions but those known.
    pub(super) fn within(
        &self,
        node: &Node,
        rows: &[RowValues],
        multipliers: &[i64],
    ) -> Option<i64> {
        let days = node.days.iter().enumerate();
        let tops: Option<Vec<i64>> = days
            .map(|(day, fixed)| self.best_known(day, multipliers, fixed))
            .collect();
        bound(&tops?, rows, &node.ends, multipliers)
    }

    /// The value of the best session known of a day under multipliers.
    pub(super) fn best_known(&self, day: usize, multipliers: &[i64], fixed: &Fixed) -> Option<i64> {
        let known = self.known.get(day).into_iter().flatten();
        let taken = known.filter(|session| fixed.takes(session));
        taken.map(|session| session.value(multipliers)).max()
    }
}

impl Session {
    /// What it is worth under multipliers.
    pub(super) fn value(&self, multipliers: &[i64]) -> i64 {
        let amounts = self.amounts.iter().zip(multipliers);
        self.score + amounts.map(|(amount, y)| amount * y).sum::<i64>()
    }
}

impl Fixed {
    /// Whether a session has what is fixed to stand, and nothing that is ruled out.
    pub(super) fn takes(&self, session: &Session) -> bool {
        self.has.iter().all(|at| session.items.contains(at))
            && !session.items.iter().any(|at| self.lacks.has(*at))
    }
}
