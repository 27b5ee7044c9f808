//! Where a node splits, as far as its own relaxation can tell.

use crate::graph::Bits;

use super::node::{HARD, Node, Relaxed};
use super::rows::{RowValues, covered, hull_within};
use super::session::Session;
use super::solver::Solver;

/// Where a node splits best: a row whose cover hides misses, else an item that days share out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Split {
    Row(usize, i64),
    Item(usize, usize),
    None,
}

/// A session of the relaxation: its day, and how much of it is taken.
pub(super) type Share<'s> = (usize, &'s Session, f64);

/// Total of a row under shares.
fn total(held: &[Share<'_>], row: usize) -> f64 {
    held.iter()
        .map(|(_, session, share)| session.amounts.get(row).copied().unwrap_or(0) as f64 * share)
        .sum()
}

impl Solver {
    /// What the relaxation is made of; nothing where it never got so far.
    pub(super) fn shares(&self, relaxed: &Relaxed) -> Vec<Share<'_>> {
        let Some(last) = &relaxed.last else {
            return Vec::new();
        };
        relaxed
            .columns
            .iter()
            .zip(&last.shares)
            .filter(|(_, share)| **share > 1e-6)
            .filter_map(|((day, at), share)| Some((*day, self.session(*day, *at)?, *share)))
            .collect()
    }

    pub(super) fn split(&self, node: &Node, relaxed: &Relaxed, rows: &[RowValues]) -> Split {
        let held = self.shares(relaxed);
        if held.is_empty() {
            return self.any_item(node);
        }
        let mut worst: Option<(f64, usize, i64)> = None;
        for (at, (row, ends)) in rows.iter().zip(&node.ends).enumerate() {
            let total = total(&held, at);
            let below = total.floor() as i64;
            let hidden = hidden(row, &hull_within(row, *ends, HARD), total);
            let splits = below >= ends.0.max(row.low) && below < ends.1.min(row.high());
            if splits
                && hidden > (1u64 << 40) as f64
                && worst.is_none_or(|(most, _, _)| hidden > most)
            {
                worst = Some((hidden, at, below));
            }
        }
        if let Some((_, row, at)) = worst.or_else(|| self.broken_total(node, relaxed, rows, &held))
        {
            return Split::Row(row, at);
        }
        let mut shares: Vec<(usize, usize, f64)> = Vec::new();
        for (day, session, share) in &held {
            for item in &session.items {
                match shares.iter_mut().find(|(d, i, _)| d == day && i == item) {
                    Some((_, _, sum)) => *sum += share,
                    None => shares.push((*day, *item, *share)),
                }
            }
        }
        let mut closest: Option<(f64, usize, usize)> = None;
        shares.sort_by_key(|(day, item, _)| (*day, *item));
        for (day, item, share) in shares {
            let far = (share - 0.5).abs();
            let open = !is_fixed(node, day, item);
            if open && far < 0.4999 && closest.is_none_or(|(least, _, _)| far < least - 1e-9) {
                closest = Some((far, day, item));
            }
        }
        match closest {
            Some((_, day, item)) => Split::Item(day, item),
            None => held
                .iter()
                .flat_map(|(day, session, _)| session.items.iter().map(move |item| (*day, *item)))
                .find(|(day, item)| !is_fixed(node, *day, *item))
                .map_or_else(|| self.any_item(node), |(day, item)| Split::Item(day, item)),
        }
    }

    /// The row of an exercise that must come several times or not at all, and that the shares leave
    /// farthest from both.
    pub(super) fn split_twice(&self, node: &Node, relaxed: &Relaxed) -> Option<usize> {
        let held = self.shares(relaxed);
        let mut worst: Option<(f64, usize)> = None;
        for twice in &self.twices {
            let total = total(&held, twice.row);
            let far = total.min(twice.at_least as f64 - total);
            let open = node
                .ends
                .get(twice.row)
                .is_some_and(|ends| ends.0 <= 0 && ends.1 >= twice.at_least);
            if open && far > 0.02 && worst.is_none_or(|(most, _)| far > most) {
                worst = Some((far, twice.row));
            }
        }
        worst.map(|(_, row)| row)
    }

    /// A row that matters and whose total is no whole number: the one whose part is nearest a half,
    /// weighed by its multiplier.
    fn broken_total(
        &self,
        node: &Node,
        relaxed: &Relaxed,
        rows: &[RowValues],
        held: &[Share<'_>],
    ) -> Option<(f64, usize, i64)> {
        let mut worst: Option<(f64, usize, i64)> = None;
        for (at, (row, ends)) in rows.iter().zip(&node.ends).enumerate() {
            let total = total(held, at);
            let part = total - total.floor();
            let below = total.floor() as i64;
            let splits = below >= ends.0.max(row.low) && below < ends.1.min(row.high());
            let multiplier = relaxed
                .multipliers
                .get(at)
                .copied()
                .unwrap_or(0)
                .unsigned_abs()
                .min(1 << 40);
            let weight = part.min(1.0 - part) * multiplier as f64;
            if splits
                && part > 0.02
                && part < 0.98
                && multiplier > 0
                && worst.is_none_or(|(most, _, _)| weight > most)
            {
                worst = Some((weight, at, below));
            }
        }
        worst
    }

    fn any_item(&self, node: &Node) -> Split {
        for (day, held) in self.model.days.iter().enumerate() {
            for item in 0..held.candidates.len() {
                if !is_fixed(node, day, item) {
                    return Split::Item(day, item);
                }
            }
        }
        Split::None
    }
}

fn is_fixed(node: &Node, day: usize, item: usize) -> bool {
    node.days
        .get(day)
        .is_some_and(|fixed| fixed.has.contains(&item) || Bits::has(&fixed.lacks, item))
}

/// How much the cover of a row lies above what whole totals can have.
fn hidden(row: &RowValues, hull: &[(i64, f64)], total: f64) -> f64 {
    let below = total.floor();
    let (a, b) = (below as i64, below as i64 + 1);
    let low = row.value(a).map_or(f64::NEG_INFINITY, |value| value as f64);
    let high = row.value(b).map_or(low, |value| value as f64);
    let between = if low.is_finite() {
        low + (high - low) * (total - below)
    } else {
        high
    };
    if between.is_finite() {
        covered(hull, total) - between
    } else {
        0.0
    }
}
