//! What candidates are worth under multipliers, and under prices of the session's own limits.
//!
//! Any prices give a bound; good ones prune. A few steps down the bound's slope do for most days;
//! where they leave too much to walk, a small linear program finds the best there are.

use crate::plan::model::{DayModel, Group};

use super::session::{DaySearch, Fixed};
use super::simplex::Simplex;
use super::stage::POINT;

/// Values under multipliers, ready to walk.
pub(super) struct Priced {
    /// By candidate: score with multipliers, without presences.
    pub(super) value: Vec<i64>,
    /// By candidate: the same under the prices of the session's limits.
    pub(super) bound: Vec<i64>,
    /// By slot: candidates by falling bound.
    pub(super) lists: Vec<Vec<usize>>,
    /// By slot: running sums of bounds.
    pub(super) sums: Vec<Vec<i64>>,
    /// By slot: how many bounds are above zero.
    pub(super) positive: Vec<usize>,
    /// By slot: bound of it and all later ones.
    pub(super) rest: Vec<i64>,
    /// What the prices add whatever is chosen.
    pub(super) constant: i64,
    /// By presence: what it adds under the multipliers.
    pub(super) once: Vec<i64>,
    /// By presence: how much of that the bound of each candidate that gives it already holds.
    pub(super) shares: Vec<i64>,
    /// By slot: presences that it and later ones can give, those that add something.
    pub(super) gives: Vec<Vec<usize>>,
}

/// Prices of what a session keeps to.
pub(super) struct Prices {
    /// By hard sum.
    limits: Vec<i64>,
    /// By set of candidates of which one may stand.
    ones: Vec<i64>,
    /// By presence.
    shares: Vec<i64>,
}

/// What candidates and presences are worth under multipliers.
pub(super) struct Values {
    of: Vec<i64>,
    once: Vec<i64>,
}

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

impl DaySearch<'_> {
    pub(super) fn values(&self, multipliers: &[i64]) -> Values {
        let of = |row: usize| multipliers.get(row).copied().unwrap_or(0);
        let candidates = self.model.candidates.iter().zip(&self.own);
        Values {
            of: candidates
                .map(|(candidate, own)| {
                    let amounts = candidate.amounts.iter();
                    own + amounts.map(|(row, amount)| of(*row) * amount).sum::<i64>()
                })
                .collect(),
            once: self
                .presences
                .iter()
                .map(|(row, amount)| of(*row) * amount)
                .collect(),
        }
    }

    /// Prices by a few steps down the slope; `limits` are where they start, and are kept for the
    /// next time.
    pub(super) fn stepped(&self, values: &Values, limits: &mut Vec<i64>, fixed: &Fixed) -> Prices {
        *limits = self.prices(&values.of, limits, fixed);
        Prices {
            limits: limits.clone(),
            ones: Vec::new(),
            shares: Vec::new(),
        }
    }

    /// The prices under which the bound of the whole day is least, by a linear program.
    pub(super) fn programmed(&self, values: &Values, fixed: &Fixed) -> (Prices, u64) {
        let scale = POINT as f64;
        let alive: Vec<usize> = (0..values.of.len())
            .filter(|at| !self.out.has(*at) && !fixed.lacks.has(*at))
            .collect();
        // Rows as what they take of each candidate, what they hold at most, and what they price.
        let mut rows: Vec<(Vec<(usize, f64)>, f64, bool, Of)> = Vec::new();
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
                if need > 0.0 {
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
        let mut columns = vec![None; values.of.len()];
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
            if let Some(slot) = columns.get_mut(*at) {
                *slot = Some(simplex.column(gain, 1.0, list));
            }
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
        let steps = simplex.improve(STEPS);
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

    fn prices(&self, value: &[i64], start: &[i64], fixed: &Fixed) -> Vec<i64> {
        // A few steps down the bound's slope; any prices are valid, good ones prune.
        let mut prices = start.to_vec();
        prices.resize(self.hard.len(), 0);
        for (price, group) in prices.iter_mut().zip(&self.hard) {
            *price = allowed(*price, group);
        }
        let mut best = (self.root_bound(value, &prices, fixed).0, prices.clone());
        let scale = value
            .iter()
            .map(|v| v.abs())
            .filter(|v| *v < (1 << 50))
            .max()
            .unwrap_or(0)
            / 64
            + 1;
        for round in 0..14i64 {
            let (_, used) = self.root_bound(value, &prices, fixed);
            for ((price, group), used) in prices.iter_mut().zip(&self.hard).zip(&used) {
                let over = group.at_most.map_or(0, |most| (used - most).max(0));
                let under = group.at_least.map_or(0, |least| (least - used).max(0));
                let size = group.at_most.or(group.at_least).unwrap_or(1).abs().max(1);
                let step = scale / (round + 1);
                let change = (over - under).signum()
                    * (step / size).max(1)
                    * ((over + under) * 4 / size + 1).min(4);
                if over > 0 || under > 0 {
                    *price += change;
                } else {
                    *price -= *price / 4;
                }
                *price = allowed(*price, group);
            }
            let bound = self.root_bound(value, &prices, fixed).0;
            if bound < best.0 {
                best = (bound, prices.clone());
            }
        }
        best.1
    }

    /// Bound of the whole day under prices, and what the choice behind it uses of each limit.
    fn root_bound(&self, value: &[i64], prices: &[i64], fixed: &Fixed) -> (i64, Vec<i64>) {
        let mut total = self.constant(prices);
        let mut used: Vec<i64> = self.hard.iter().map(|group| group.start).collect();
        for (slot, part) in self.model.slots.iter().enumerate() {
            let mut list: Vec<(i64, usize)> = part
                .candidates
                .iter()
                .filter(|at| !self.out.has(**at) && !fixed.lacks.has(**at))
                .map(|at| (self.under(prices, *at, value), *at))
                .collect();
            list.sort_unstable_by(|a, b| b.cmp(a));
            let least = self.least.get(slot).copied().unwrap_or(0);
            for (place, (bound, at)) in list.iter().take(part.at_most).enumerate() {
                if *bound > 0 || place < least {
                    total += bound;
                    for (used, group) in used.iter_mut().zip(&self.hard) {
                        *used += group.amounts.get(*at).copied().unwrap_or(0);
                    }
                }
            }
        }
        (total, used)
    }

    fn under(&self, prices: &[i64], at: usize, value: &[i64]) -> i64 {
        let mut bound =
            value.get(at).copied().unwrap_or(0) + self.closer.get(at).copied().unwrap_or(0);
        for (price, group) in prices
            .iter()
            .zip(&self.hard)
            .filter(|(price, _)| **price != 0)
        {
            bound -= price * group.amounts.get(at).copied().unwrap_or(0);
        }
        bound
    }

    fn constant(&self, prices: &[i64]) -> i64 {
        prices
            .iter()
            .zip(&self.hard)
            .map(|(price, group)| {
                let bound = if *price >= 0 {
                    group.at_most
                } else {
                    group.at_least
                };
                // Nothing chosen uses nothing: a limit below the start leaves room for that alone.
                let room = bound.unwrap_or(0) - group.start;
                price * if *price >= 0 { room.max(0) } else { room }
            })
            .sum()
    }

    /// Values laid out under prices.
    pub(super) fn priced(&self, values: &Values, prices: &Prices, fixed: &Fixed) -> Priced {
        let (value, once) = (values.of.clone(), values.once.clone());
        let bound: Vec<i64> = (0..value.len())
            .map(|at| {
                let ones = prices.ones.iter().zip(&self.ones);
                let ones: i64 = ones
                    .filter(|(_, set)| set.has(at))
                    .map(|(price, _)| price)
                    .sum();
                let given = self
                    .model
                    .candidates
                    .get(at)
                    .into_iter()
                    .flat_map(|held| &held.once);
                let shares: i64 = given
                    .filter_map(|presence| prices.shares.get(*presence))
                    .sum();
                self.under(&prices.limits, at, &value) - ones + shares
            })
            .collect();
        let mut lists = Vec::new();
        let mut sums = Vec::new();
        let mut positive = Vec::new();
        for part in &self.model.slots {
            let mut list: Vec<usize> = part
                .candidates
                .iter()
                .copied()
                .filter(|at| !self.out.has(*at) && !fixed.lacks.has(*at) && !fixed.has.contains(at))
                .collect();
            list.sort_by_key(|at| (-bound.get(*at).copied().unwrap_or(0), *at));
            let mut running = vec![0i64];
            let mut sum = 0i64;
            for at in &list {
                sum += bound.get(*at).copied().unwrap_or(0);
                running.push(sum);
            }
            positive.push(
                list.iter()
                    .filter(|at| bound.get(**at).copied().unwrap_or(0) > 0)
                    .count(),
            );
            lists.push(list);
            sums.push(running);
        }
        let mut gives: Vec<Vec<usize>> = vec![Vec::new(); self.model.slots.len() + 1];
        for slot in (0..self.model.slots.len()).rev() {
            let mut rows = gives.get(slot + 1).cloned().unwrap_or_default();
            for at in lists.get(slot).into_iter().flatten() {
                for row in self
                    .model
                    .candidates
                    .get(*at)
                    .into_iter()
                    .flat_map(|held| &held.once)
                {
                    if once.get(*row).copied().unwrap_or(0) > 0 && !rows.contains(row) {
                        rows.push(*row);
                    }
                }
            }
            if let Some(held) = gives.get_mut(slot) {
                *held = rows;
            }
        }
        let constant = self.constant(&prices.limits) + prices.ones.iter().sum::<i64>();
        let mut shares = prices.shares.clone();
        shares.resize(once.len(), 0);
        let mut priced = Priced {
            value,
            bound,
            lists,
            sums,
            positive,
            rest: Vec::new(),
            constant,
            once,
            shares,
            gives,
        };
        let mut rest = vec![0i64; self.model.slots.len() + 1];
        for slot in (0..self.model.slots.len()).rev() {
            let chosen = fixed_in(fixed, self.model, slot);
            let added = self.top(&priced, slot, 0, chosen);
            let later = rest.get(slot + 1).copied().unwrap_or(0);
            if let Some(held) = rest.get_mut(slot) {
                *held = added + later;
            }
        }
        priced.rest = rest;
        priced
    }

    /// The most that a part can still add from a place in its list on, with so many chosen.
    pub(super) fn top(&self, priced: &Priced, slot: usize, from: usize, chosen: usize) -> i64 {
        let most = self
            .model
            .slots
            .get(slot)
            .map_or(0, |part| part.at_most)
            .saturating_sub(chosen);
        let must = self
            .least
            .get(slot)
            .copied()
            .unwrap_or(0)
            .saturating_sub(chosen);
        let Some(sums) = priced.sums.get(slot) else {
            return 0;
        };
        let positive = priced.positive.get(slot).copied().unwrap_or(0);
        let last = sums.len() - 1;
        let to = (from + most)
            .min(positive.max(from + must))
            .min(last)
            .max(from.min(last));
        sums.get(to).copied().unwrap_or(0) - sums.get(from.min(last)).copied().unwrap_or(0)
    }
}

/// The price nearest to one that bounds: what has no limit has no price above zero, what has no
/// need none below; nor can presences be priced above it by amounts, since one of two counts once.
fn allowed(price: i64, group: &Group) -> i64 {
    let most = if group.at_most.is_none() || group.presence {
        0
    } else {
        i64::MAX
    };
    let least = if group.at_least.is_none() {
        0
    } else {
        i64::MIN
    };
    price.clamp(least, most)
}

/// How many fixed items stand in a slot.
pub(super) fn fixed_in(fixed: &Fixed, model: &DayModel, slot: usize) -> usize {
    fixed
        .has
        .iter()
        .filter(|at| {
            model
                .candidates
                .get(**at)
                .is_some_and(|held| held.slot == slot)
        })
        .count()
}
