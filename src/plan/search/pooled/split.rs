//! Where a point splits, and where a search over all sessions would best.

use super::super::rows::{covered, hull_over};
use super::super::split::Split;
use super::super::stage::POINT;
use super::{Cut, Point, Pooled, Settled};

impl Pooled<'_, '_> {
    /// Where a search over all sessions splits best, as far as these pools can tell: of what the
    /// relaxation leaves open, the one whose sides both lose most. A side that loses more than the
    /// `gap` of the pools has sessions that are not in them.
    pub(in crate::plan::search) fn advise(
        &mut self,
        multipliers: &[i64],
        gap: i64,
    ) -> Option<(Split, bool)> {
        // Nothing is dropped here: what is not in the pools may still matter.
        let mut point = self.start(multipliers);
        let settled = self.settle(&mut point)?;
        let (cut, low_first) = self.deepest(&point, &settled, gap, usize::MAX)?;
        Some(match cut {
            Cut::Row(row, at) => (Split::Row(self.pools.rows.get(row)?.row, at), low_first),
            Cut::Item(day, item) => (Split::Item(day, item), low_first),
        })
    }

    /// Of the cuts that the shares leave open the one whose sides both lose most.
    pub(super) fn best_cut(&mut self, point: &Point, settled: &Settled) -> Option<Cut> {
        let gap = settled.bound.saturating_sub(self.least()).max(POINT);
        self.deepest(point, settled, gap, 6).map(|(cut, _)| cut)
    }

    fn deepest(
        &mut self,
        point: &Point,
        settled: &Settled,
        gap: i64,
        most: usize,
    ) -> Option<(Cut, bool)> {
        let mut chosen: Option<(i128, Cut, bool)> = None;
        for cut in self.open(point, settled).into_iter().take(most) {
            if self.cancel.is_cancelled() {
                break;
            }
            let (mut one, mut other) = self.split(point, settled, &cut);
            let mut loses = |side: &mut Point| -> i64 {
                side.multipliers.clone_from(&settled.multipliers);
                side.bound = settled.bound;
                let bound = self.settle(side).map(|settled| settled.bound);
                bound.map_or(gap, |bound| {
                    settled.bound.saturating_sub(bound).clamp(0, gap)
                })
            };
            let (first, second) = (loses(&mut one), loses(&mut other));
            let both = i128::from(first + POINT) * i128::from(second + POINT);
            // Which side of the cut itself loses less: sides come in the order of the shares.
            let low_is_first = self.low_is_first(settled, &cut);
            let low_loses_less = (first <= second) == low_is_first;
            if chosen.as_ref().is_none_or(|(most, _, _)| both > *most) {
                chosen = Some((both, cut, low_loses_less));
            }
        }
        chosen.map(|(_, cut, low_first)| (cut, low_first))
    }

    /// What the shares leave open, the most open of each kind first.
    fn open(&self, point: &Point, settled: &Settled) -> Vec<Cut> {
        let mut twices = self.open_twices(point, settled);
        let mut rows: Vec<(f64, usize, i64)> = Vec::new();
        for (at, (row, ends)) in self.pools.rows.iter().zip(&point.ends).enumerate() {
            let total = self.total(settled, at);
            let low = total.floor();
            let part = total - low;
            let multiplier = settled.multipliers.get(at).copied().unwrap_or(0);
            let open = low as i64 >= ends.0.max(row.values.low)
                && (low as i64) < ends.1.min(row.values.high());
            if open && multiplier != 0 && part > 0.02 && part < 0.98 {
                let weight = part.min(1.0 - part) * multiplier.unsigned_abs() as f64;
                rows.push((weight, at, low as i64));
            }
        }
        let mut items: Vec<(f64, usize, usize)> = self
            .items(settled)
            .into_iter()
            .map(|(day, item, share)| (share.min(1.0 - share), day, item))
            .filter(|(open, _, _)| *open > 0.02)
            .collect();
        twices.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        rows.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        items.sort_by(|a, b| b.0.total_cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
        let twices = twices.into_iter().take(8).map(|(_, row)| Cut::Row(row, 0));
        let rows = rows
            .into_iter()
            .take(4)
            .map(|(_, row, at)| Cut::Row(row, at));
        let items = items
            .into_iter()
            .take(8)
            .map(|(_, day, item)| Cut::Item(day, item));
        twices.chain(rows).chain(items).collect()
    }

    /// Total of an active row under the shares.
    fn total(&self, settled: &Settled, row: usize) -> f64 {
        let shares = settled.shares.iter();
        shares
            .map(|(day, column, share)| {
                let amounts = self.pools.amounts(*day, *column);
                amounts.get(row).copied().unwrap_or(0) as f64 * share
            })
            .sum()
    }

    /// Exercises that must come several times or not at all and that the shares leave between: how
    /// far from both, and the active row.
    fn open_twices(&self, point: &Point, settled: &Settled) -> Vec<(f64, usize)> {
        self.twices
            .iter()
            .filter_map(|(row, at_least)| {
                let ends = point.ends.get(*row)?;
                let total = self.total(settled, *row);
                let far = total.min(*at_least as f64 - total);
                (ends.0 <= 0 && ends.1 >= *at_least && far > 0.02).then_some((far, *row))
            })
            .collect()
    }

    /// Whether [`Self::split`] gives the low side, or the one without the item, first.
    fn low_is_first(&self, settled: &Settled, cut: &Cut) -> bool {
        match cut {
            Cut::Row(row, at) => self.total(settled, *row) - *at as f64 <= 0.5,
            Cut::Item(day, item) => {
                let items = self.items(settled);
                let share = items.iter().find(|(d, i, _)| d == day && i == item);
                share.is_none_or(|(_, _, share)| *share < 0.5)
            }
        }
    }

    /// Where a point splits: an exercise that must come several times or not at all, a row's total,
    /// an item that the shares of a day leave half; none where the shares settle all.
    pub(super) fn cut(&self, point: &Point, settled: &Settled) -> Option<Cut> {
        let twices = self.open_twices(point, settled).into_iter();
        // Of equals the first.
        if let Some((_, row)) =
            twices.reduce(|one, other| if other.0 > one.0 { other } else { one })
        {
            return Some(Cut::Row(row, 0));
        }
        let mut worst: Option<(f64, Cut)> = None;
        for (at, (row, ends)) in self.pools.rows.iter().zip(&point.ends).enumerate() {
            let total = self.total(settled, at);
            let below = total.floor();
            let part = total - below;
            let range = (row.values.low, row.values.high());
            if !(0.02..=0.98).contains(&part)
                || (below as i64) < ends.0.max(range.0)
                || below as i64 >= ends.1.min(range.1)
            {
                continue;
            }
            let hull = hull_over(row.values, range, *ends, self.price);
            let value = |total: i64| row.values.value(total).map(|value| value as f64);
            let between = match (value(below as i64), value(below as i64 + 1)) {
                (Some(low), Some(high)) => low + (high - low) * part,
                (Some(only), None) | (None, Some(only)) => only,
                (None, None) => continue,
            };
            let multiplier = settled.multipliers.get(at).copied().unwrap_or(0);
            let hidden = covered(&hull, total) - between;
            let weight = hidden.max(0.0) + part.min(1.0 - part) * multiplier.unsigned_abs() as f64;
            if weight > 0.0 && worst.as_ref().is_none_or(|(most, _)| weight > *most) {
                worst = Some((weight, Cut::Row(at, below as i64)));
            }
        }
        let items = self.items(settled);
        let mut closest: Option<(f64, usize, usize)> = None;
        for (day, item, share) in &items {
            let far = (share - 0.5).abs();
            if far < 0.49 && closest.is_none_or(|(least, _, _)| far < least - 1e-9) {
                closest = Some((far, *day, *item));
            }
        }
        if let Some((far, day, item)) = closest
            && (far < 0.35 || worst.is_none())
        {
            return Some(Cut::Item(day, item));
        }
        if let Some((_, cut)) = worst {
            return Some(cut);
        }
        // The shares are whole, yet many columns are left: split the widest day by what it holds.
        let (day, columns) = point
            .days
            .iter()
            .enumerate()
            .max_by_key(|(day, columns)| (columns.len(), usize::MAX - day))?;
        let mut counts: Vec<(usize, usize)> = Vec::new();
        for column in columns {
            let session = self.pools.session(day, *column)?;
            for item in &session.items {
                match counts.iter_mut().find(|(held, _)| held == item) {
                    Some((_, count)) => *count += 1,
                    None => counts.push((*item, 1)),
                }
            }
        }
        let all = columns.len();
        counts
            .into_iter()
            .filter(|(_, count)| *count < all)
            .min_by_key(|(item, count)| ((2 * count).abs_diff(all), *item))
            .map(|(item, _)| Cut::Item(day, item))
    }

    /// Shares of items by day.
    fn items(&self, settled: &Settled) -> Vec<(usize, usize, f64)> {
        let mut items: Vec<(usize, usize, f64)> = Vec::new();
        for (day, column, share) in &settled.shares {
            let held = self.pools.session(*day, *column);
            for item in held.into_iter().flat_map(|session| &session.items) {
                match items.iter_mut().find(|(d, i, _)| d == day && i == item) {
                    Some((_, _, sum)) => *sum += share,
                    None => items.push((*day, *item, *share)),
                }
            }
        }
        items.sort_by_key(|(day, item, _)| (*day, *item));
        items
    }

    /// The two sides of a cut, the one that the shares lean to first.
    pub(super) fn split(&self, point: &Point, settled: &Settled, cut: &Cut) -> (Point, Point) {
        let copy = || Point {
            days: point.days.clone(),
            ends: point.ends.clone(),
            multipliers: Vec::new(),
            bound: 0,
            first: false,
        };
        let (mut low, mut high) = (copy(), copy());
        match cut {
            Cut::Row(row, at) => {
                if let Some(ends) = low.ends.get_mut(*row) {
                    ends.1 = ends.1.min(*at);
                }
                if let Some(ends) = high.ends.get_mut(*row) {
                    ends.0 = ends.0.max(at + 1);
                }
            }
            Cut::Item(day, item) => {
                let has = |column: &usize| {
                    self.pools
                        .session(*day, *column)
                        .is_some_and(|session| session.items.contains(item))
                };
                if let Some(columns) = high.days.get_mut(*day) {
                    columns.retain(has);
                }
                if let Some(columns) = low.days.get_mut(*day) {
                    columns.retain(|column| !has(column));
                }
            }
        }
        if self.low_is_first(settled, cut) {
            (low, high)
        } else {
            (high, low)
        }
    }
}
