//! What candidates are worth under multipliers, and under prices of the session's own limits.
//!
//! Any prices give a bound; good ones prune. A few steps down the bound's slope do for most days;
//! where they leave too much to walk, a small linear program finds the best there are.

use crate::plan::model::{DayModel, Group};

use super::session::{DaySearch, Fixed};

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
    pub(super) limits: Vec<i64>,
    /// By set of candidates of which one may stand.
    pub(super) ones: Vec<i64>,
    /// By presence.
    pub(super) shares: Vec<i64>,
}

/// What candidates and presences are worth under multipliers.
pub(super) struct Values {
    pub(super) of: Vec<i64>,
    pub(super) once: Vec<i64>,
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
                    for (place, amount) in self.uses(*at) {
                        if let Some(used) = used.get_mut(*place) {
                            *used += amount;
                        }
                    }
                }
            }
        }
        (total, used)
    }

    fn under(&self, prices: &[i64], at: usize, value: &[i64]) -> i64 {
        let mut bound =
            value.get(at).copied().unwrap_or(0) + self.closer.get(at).copied().unwrap_or(0);
        for (place, amount) in self.uses(at) {
            bound -= prices.get(*place).copied().unwrap_or(0) * amount;
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
