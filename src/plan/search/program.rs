//! The best prices of a session's limits, by a small linear program.
//!
//! Its rows are the day's hard sums, its parts, sets of candidates of which one may stand, and
//! presences, each given once however many bring it. What it says decides nothing: any prices bound.

use crate::base::Cancel;

use super::prices::{Prices, Values};
use super::session::{DaySearch, Fixed};
use super::simplex::Simplex;
use super::stage::POINT;

/// The most that a price may be.
const MOST: f64 = (1i64 << 50) as f64;
/// Most steps of the linear program.
const STEPS: usize = 400;

/// What the dual of a row of the program prices.
enum Of {
    Limit(usize),
    One(usize),
    /// The room of a part, which the walk itself keeps to.
    Part,
}

/// A row: what it takes of each candidate, its bound, whether that is a least, and what it prices.
type Line = (Vec<(usize, f64)>, f64, bool, Of);

impl DaySearch<'_> {
    /// The prices under which the bound of the whole day is least, by a linear program.
    pub(super) fn programmed(
        &self,
        values: &Values,
        fixed: &Fixed,
        cancel: &Cancel,
    ) -> (Prices, u64) {
        let scale = POINT as f64;
        let alive: Vec<usize> = (0..values.of.len())
            .filter(|at| !self.out.has(*at) && !fixed.lacks.has(*at))
            .collect();
        let mut rows: Vec<Line> = Vec::new();
        for (at, group) in self.hard.iter().enumerate() {
            let amounts: Vec<(usize, f64)> = alive
                .iter()
                .filter_map(|at| Some((*at, *group.amounts.get(*at)? as f64)))
                .filter(|(_, amount)| *amount != 0.0)
                .collect();
            let all: f64 = amounts.iter().map(|(_, amount)| amount.max(0.0)).sum();
            if let Some(most) = group.at_most.filter(|_| !group.presence) {
                let room = (most - group.start).max(0) as f64;
                if all > room {
                    rows.push((amounts.clone(), room, false, Of::Limit(at)));
                }
            }
            if let Some(least) = group.at_least {
                let need = (least - group.start) as f64;
                // An item that needs another asks for nothing by itself.
                let asks = amounts.iter().any(|(_, amount)| *amount < 0.0);
                if need > 0.0 || (asks && need >= 0.0) {
                    rows.push((amounts, need, true, Of::Limit(at)));
                }
            }
        }
        for slot in &self.model.slots {
            let members = slot.candidates.iter().filter(|at| alive.contains(at));
            let members: Vec<(usize, f64)> = members.map(|at| (*at, 1.0)).collect();
            if members.len() > slot.at_most {
                rows.push((members, slot.at_most as f64, false, Of::Part));
            }
        }
        for (at, ones) in self.ones.iter().enumerate() {
            let members = alive.iter().filter(|at| ones.has(**at));
            let members: Vec<(usize, f64)> = members.map(|at| (*at, 1.0)).collect();
            if members.len() > 1 {
                rows.push((members, 1.0, false, Of::One(at)));
            }
        }
        let mut simplex = Simplex::new(0);
        let mut entries: Vec<Vec<(usize, f64)>> = vec![Vec::new(); values.of.len()];
        for (place, (amounts, ..)) in rows.iter().enumerate() {
            for (at, amount) in amounts {
                if let Some(list) = entries.get_mut(*at) {
                    list.push((place, *amount));
                }
            }
        }
        let mut shared = Vec::new();
        for (presence, value) in values
            .once
            .iter()
            .enumerate()
            .filter(|(_, value)| **value > 0)
        {
            let place = rows.len() + shared.len();
            let mut any = false;
            for at in &alive {
                let held = self.model.candidates.get(*at);
                if held.is_some_and(|held| held.once.contains(&presence))
                    && let Some(list) = entries.get_mut(*at)
                {
                    list.push((place, -1.0));
                    any = true;
                }
            }
            if any {
                shared.push((presence, *value));
            }
        }
        let mut most_gain = 1.0f64;
        for at in &alive {
            let gain = values.of.get(*at).copied().unwrap_or(0)
                + self.closer.get(*at).copied().unwrap_or(0);
            let gain = gain as f64 / scale;
            most_gain = most_gain.max(gain.abs());
            let list = entries.get_mut(*at).map(std::mem::take).unwrap_or_default();
            simplex.column(gain, 1.0, list);
        }
        for (offset, (_, value)) in shared.iter().enumerate() {
            let gain = *value as f64 / scale;
            most_gain = most_gain.max(gain);
            simplex.column(gain, 1.0, vec![(rows.len() + offset, 1.0)]);
        }
        let mut basis = Vec::new();
        let mut start = Vec::new();
        for (place, (_, bound, lower, _)) in rows.iter().enumerate() {
            let slack = if *lower {
                // What is short costs more than anything could bring.
                simplex.column(0.0, f64::INFINITY, vec![(place, -1.0)]);
                simplex.column(-8.0 * most_gain, f64::INFINITY, vec![(place, 1.0)])
            } else {
                simplex.column(0.0, f64::INFINITY, vec![(place, 1.0)])
            };
            basis.push(slack);
            start.push(*bound);
        }
        for offset in 0..shared.len() {
            let slack = simplex.column(0.0, f64::INFINITY, vec![(rows.len() + offset, 1.0)]);
            basis.push(slack);
            start.push(0.0);
        }
        simplex.start_apart(basis, start);
        let steps = simplex.improve(STEPS, cancel);
        let duals = simplex.duals();
        let whole = |dual: f64| -> i64 {
            let scaled = (dual * scale).clamp(-MOST, MOST);
            if scaled.is_finite() {
                scaled.round() as i64
            } else {
                0
            }
        };
        let mut prices = Prices {
            limits: vec![0; self.hard.len()],
            ones: vec![0; self.ones.len()],
            shares: vec![0; values.once.len()],
        };
        for ((_, _, lower, of), dual) in rows.iter().zip(&duals) {
            // A limit costs, and a need pays.
            let price = if *lower {
                whole(*dual).min(0)
            } else {
                whole(*dual).max(0)
            };
            let slot = match of {
                Of::Limit(at) => prices.limits.get_mut(*at),
                Of::One(at) => prices.ones.get_mut(*at),
                Of::Part => None,
            };
            if let Some(slot) = slot {
                *slot += price;
            }
        }
        for ((presence, value), dual) in shared.iter().zip(duals.iter().skip(rows.len())) {
            if let Some(slot) = prices.shares.get_mut(*presence) {
                *slot = whole(*dual).clamp(0, *value);
            }
        }
        let count = (rows.len() + shared.len()) as u64;
        (prices, (steps + 1).saturating_mul(count) / 4)
    }
}
