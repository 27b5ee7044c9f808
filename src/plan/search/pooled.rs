//! Branch and bound over pools that are listed in full: no session is priced anew.
//!
//! A point holds, by day, the columns that can still be part of a week worth having. Every set of
//! multipliers gives a bound and with it a loss for each column, the distance from its day's best; a
//! column whose loss, with what it takes from other days, is more than the bound leaves goes for
//! good. The bound and the losses are always those of one and the same multipliers.

use super::leaf::Leaf;
use super::master::{Choice, propose};
use super::node::Split;
use super::pools::Pools;
use super::ranges::NEVER;
use super::rows::{RowValues, Twice, covered, hull_over};
use super::stage::{POINT, Stage};
use super::whole::Found;

/// Most weeks that are walked without splitting further.
const FEW: u64 = 30_000;
/// Rounds of multipliers at the first point, and at later ones.
const ROUNDS: (usize, usize) = (16, 6);

/// A search over pools.
pub(super) struct Pooled<'s, 'p> {
    pub(super) pools: Pools<'p>,
    pub(super) stage: &'s Stage,
    /// Rows of the model itself; later ones are the search's.
    pub(super) own: usize,
    pub(super) values: &'s [RowValues],
    pub(super) outer: &'s [(i64, i64)],
    /// Only weeks that score at least this are looked for.
    pub(super) least: i64,
    pub(super) enough: Option<i64>,
    pub(super) best: Option<Found>,
    pub(super) work: u64,
    pub(super) most: u64,
    /// Active rows that count the days of one exercise, with the least that it must have if any.
    twices: Vec<(usize, i64)>,
    /// By day: columns that the relaxation has met.
    met: Vec<Vec<usize>>,
    /// What a unit outside hard bounds costs the relaxation.
    price: i64,
}

struct Point {
    days: Vec<Vec<usize>>,
    ends: Vec<(i64, i64)>,
    multipliers: Vec<i64>,
    bound: i64,
    first: bool,
}

/// Bound and losses under one set of multipliers.
struct Weighed {
    /// By day, as in the point: values.
    values: Vec<Vec<i64>>,
    tops: Vec<i64>,
    bound: i64,
}

/// Where the relaxation left a point.
struct Settled {
    multipliers: Vec<i64>,
    bound: i64,
    /// Day, column and share.
    shares: Vec<(usize, usize, f64)>,
}

/// How a point is split.
enum Cut {
    /// An active row's total at most so much, or more.
    Row(usize, i64),
    /// A day with a candidate, or without.
    Item(usize, usize),
}

impl<'s, 'p> Pooled<'s, 'p> {
    #[allow(clippy::too_many_arguments)]
    pub(super) fn new(
        pools: Pools<'p>,
        stage: &'s Stage,
        own: usize,
        values: &'s [RowValues],
        outer: &'s [(i64, i64)],
        twices: &[Twice],
        least: i64,
        most: u64,
    ) -> Self {
        let twices = twices
            .iter()
            .filter(|twice| stage.hard(twice.level))
            .filter_map(|twice| {
                let at = pools.rows.iter().position(|row| row.row == twice.row)?;
                Some((at, twice.at_least))
            })
            .collect();
        let price = if stage.weighs() {
            stage.scale.unit.saturating_mul(8)
        } else {
            POINT << 16
        };
        Self {
            met: vec![Vec::new(); pools.days.len()],
            pools,
            stage,
            own,
            values,
            outer,
            least,
            enough: None,
            best: None,
            work: 0,
            most,
            twices,
            price,
        }
    }

    /// Looks at all of it; false if the work was used up.
    pub(super) fn search(&mut self, multipliers: &[i64]) -> bool {
        let mut open = vec![self.start(multipliers)];
        while let Some(mut point) = open.pop() {
            if self.ended() {
                return true;
            }
            if self.work > self.most {
                return false;
            }
            if point.bound < self.least() {
                continue;
            }
            let Some(settled) = self.settle(&mut point) else {
                continue;
            };
            let weeks = point.days.iter().fold(1u64, |product, held| {
                product.saturating_mul(held.len() as u64)
            });
            let cut = if weeks > FEW {
                self.cut(&point, &settled)
            } else {
                None
            };
            let Some(cut) = cut else {
                if !self.walk(&point, &settled.multipliers) {
                    return false;
                }
                continue;
            };
            let (one, other) = self.split(&point, &settled, &cut);
            for mut child in [other, one] {
                child.bound = settled.bound;
                child.multipliers.clone_from(&settled.multipliers);
                if child.days.iter().all(|held| !held.is_empty()) {
                    open.push(child);
                }
            }
        }
        true
    }

    fn ended(&self) -> bool {
        self.best
            .as_ref()
            .zip(self.enough)
            .is_some_and(|(best, enough)| best.score >= enough)
    }

    fn least(&self) -> i64 {
        self.best
            .as_ref()
            .map_or(self.least, |best| best.score.max(self.least))
    }

    fn amounts(&self, day: usize, column: usize) -> &[i64] {
        self.pools
            .days
            .get(day)
            .and_then(|held| held.get(column))
            .map_or(&[], |held| &held.amounts)
    }

    /// Multipliers, bound and what is left of the pools; none where nothing is.
    fn settle(&mut self, point: &mut Point) -> Option<Settled> {
        let rounds = if point.first { ROUNDS.0 } else { ROUNDS.1 };
        let mut tried = point.multipliers.clone();
        let mut best: Option<(Vec<i64>, i64)> = None;
        let mut shares = Vec::new();
        let mut stale = 0;
        for round in 0..rounds {
            let ranges = self.narrow(point)?;
            let weighed = self.weigh(point, &ranges, &tried)?;
            let least = self.least();
            if weighed.bound < least {
                return None;
            }
            for (day, (columns, values)) in point.days.iter().zip(&weighed.values).enumerate() {
                let top = weighed.tops.get(day).copied().unwrap_or(0);
                let new = columns
                    .iter()
                    .zip(values)
                    .filter(|(_, value)| **value == top);
                if let Some(met) = self.met.get_mut(day) {
                    for (column, _) in new.take(2) {
                        if !met.contains(column) {
                            met.push(*column);
                        }
                    }
                }
            }
            self.drop_lost(point, &weighed, least)?;
            let held = best.as_ref().map_or(i64::MAX, |(_, bound)| *bound);
            if weighed.bound < held {
                stale = if held.saturating_sub(weighed.bound) > POINT / 2 {
                    0
                } else {
                    stale + 1
                };
                best = Some((tried.clone(), weighed.bound));
            } else {
                stale += 1;
            }
            if stale > 2 || round + 1 == rounds {
                break;
            }
            let Some((raw, new)) = self.propose(point, &ranges) else {
                break;
            };
            shares = new;
            if raw == tried {
                break;
            }
            let centre = best.as_ref().map(|(centre, _)| centre);
            tried = match centre {
                Some(centre) if round % 3 != 2 && point.first => {
                    let pairs = centre.iter().zip(&raw);
                    pairs.map(|(a, b)| a / 2 + b / 2).collect()
                }
                _ => raw,
            };
        }
        let (multipliers, bound) = best?;
        Some(Settled {
            multipliers,
            bound: bound.min(point.bound),
            shares,
        })
    }

    /// Takes out columns that no total within the ends leaves room for; gives the rows' ranges.
    fn narrow(&mut self, point: &mut Point) -> Option<Vec<(i64, i64)>> {
        loop {
            let rows = self.pools.rows.len();
            let mut by_day = Vec::new();
            let mut ranges = vec![(0i64, 0i64); rows];
            for (day, columns) in point.days.iter().enumerate() {
                let mut ends = vec![(i64::MAX, i64::MIN); rows];
                if columns.is_empty() {
                    return None;
                }
                for column in columns {
                    for (ends, amount) in ends.iter_mut().zip(self.amounts(day, *column)) {
                        ends.0 = ends.0.min(*amount);
                        ends.1 = ends.1.max(*amount);
                    }
                }
                for (range, ends) in ranges.iter_mut().zip(&ends) {
                    range.0 += ends.0;
                    range.1 += ends.1;
                }
                by_day.push(ends);
            }
            let mut allowed = Vec::new();
            for ((row, ends), range) in self.pools.rows.iter().zip(&point.ends).zip(&ranges) {
                let within = ends.0.max(range.0)..=ends.1.min(range.1);
                let mut may = within.filter(|total| row.values.value(*total).is_some());
                let low = may.next()?;
                allowed.push((low, may.next_back().unwrap_or(low)));
            }
            let tight: Vec<usize> = (0..rows)
                .filter(|row| allowed.get(*row) != ranges.get(*row))
                .collect();
            let mut dropped = false;
            for (day, ends) in by_day.iter().enumerate() {
                let Some(mut columns) = point.days.get_mut(day).map(std::mem::take) else {
                    return None;
                };
                let before = columns.len();
                columns.retain(|column| {
                    let amounts = self.amounts(day, *column);
                    tight.iter().all(|row| {
                        let amount = amounts.get(*row).copied().unwrap_or(0);
                        let (low, high) = ranges.get(*row).copied().unwrap_or((0, 0));
                        let (least, most) = ends.get(*row).copied().unwrap_or((0, 0));
                        let (from, to) = allowed.get(*row).copied().unwrap_or((0, 0));
                        high - most + amount >= from && low - least + amount <= to
                    })
                });
                dropped |= columns.len() < before;
                if let Some(slot) = point.days.get_mut(day) {
                    *slot = columns;
                }
            }
            if !dropped {
                return Some(ranges);
            }
        }
    }

    fn weigh(
        &mut self,
        point: &Point,
        ranges: &[(i64, i64)],
        multipliers: &[i64],
    ) -> Option<Weighed> {
        let used: Vec<(usize, i64)> = multipliers
            .iter()
            .enumerate()
            .filter(|(_, multiplier)| **multiplier != 0)
            .map(|(row, multiplier)| (row, *multiplier))
            .collect();
        let mut values = Vec::new();
        let mut tops = Vec::new();
        let mut bound = i128::from(self.pools.constant);
        for (day, columns) in point.days.iter().enumerate() {
            let held = self.pools.days.get(day)?;
            self.work += columns.len() as u64 / 4 + 1;
            let of_day: Vec<i64> = columns
                .iter()
                .filter_map(|column| held.get(*column))
                .map(|column| {
                    used.iter().fold(column.score, |sum, (row, multiplier)| {
                        sum + multiplier * column.amounts.get(*row).copied().unwrap_or(0)
                    })
                })
                .collect();
            let top = of_day.iter().copied().max()?;
            bound += i128::from(top);
            tops.push(top);
            values.push(of_day);
        }
        for (((row, ends), range), multiplier) in self
            .pools
            .rows
            .iter()
            .zip(&point.ends)
            .zip(ranges)
            .zip(multipliers)
        {
            let best = (ends.0.max(range.0)..=ends.1.min(range.1))
                .filter_map(|total| {
                    let value = row.values.value(total)?;
                    Some(i128::from(value) - i128::from(*multiplier) * i128::from(total))
                })
                .max()?;
            bound += best;
        }
        let bound = i64::try_from(bound).unwrap_or(if bound > 0 { i64::MAX / 8 } else { NEVER });
        Some(Weighed {
            values,
            tops,
            bound,
        })
    }

    /// Takes out the columns that lose more than the bound leaves; none where a day is left empty.
    fn drop_lost(&mut self, point: &mut Point, weighed: &Weighed, least: i64) -> Option<()> {
        let gap = weighed.bound.saturating_sub(least);
        let mut losses: Vec<Vec<i64>> = weighed
            .values
            .iter()
            .zip(&weighed.tops)
            .map(|(values, top)| values.iter().map(|value| top - value).collect())
            .collect();
        for _ in 0..3 {
            let by_class = self.least_by_class(point, &losses);
            let by_twice = self.least_by_twice(point, &losses);
            let mut dropped = false;
            for day in 0..point.days.len() {
                let columns = point.days.get(day)?;
                let of_day = losses.get(day)?;
                self.work += columns.len() as u64 / 8 + 1;
                let mut needs: Vec<Option<i64>> =
                    vec![None; self.pools.classes.get(day).copied().unwrap_or(0)];
                let mut kept = Vec::new();
                let mut kept_losses = Vec::new();
                for (column, loss) in columns.iter().zip(of_day) {
                    if *loss > gap {
                        continue;
                    }
                    let held = self.pools.days.get(day)?.get(*column)?;
                    let needed = match needs.get(held.class).copied().flatten() {
                        Some(needed) => needed,
                        None => {
                            let needed = self.others(day, held.class, &by_class);
                            if let Some(slot) = needs.get_mut(held.class) {
                                *slot = Some(needed);
                            }
                            needed
                        }
                    };
                    let twice = self
                        .twices
                        .iter()
                        .zip(&by_twice)
                        .filter(|((row, _), _)| held.amounts.get(*row).is_some_and(|n| *n > 0))
                        .map(|((_, at_least), by_day)| partners(by_day, day, *at_least))
                        .max()
                        .unwrap_or(0);
                    if loss.saturating_add(needed.max(twice)) <= gap {
                        kept.push(*column);
                        kept_losses.push(*loss);
                    }
                }
                if kept.is_empty() {
                    return None;
                }
                dropped |= kept.len() < columns.len();
                *point.days.get_mut(day)? = kept;
                *losses.get_mut(day)? = kept_losses;
            }
            if !dropped {
                break;
            }
        }
        Some(())
    }

    /// By day, by class: the least loss of a column of it.
    fn least_by_class(&self, point: &Point, losses: &[Vec<i64>]) -> Vec<Vec<i64>> {
        let days = point.days.iter().zip(losses).zip(&self.pools.days);
        days.zip(&self.pools.classes)
            .map(|(((columns, losses), held), classes)| {
                let mut least = vec![i64::MAX / 4; *classes];
                for (column, loss) in columns.iter().zip(losses) {
                    if let Some(slot) = held
                        .get(*column)
                        .and_then(|column| least.get_mut(column.class))
                    {
                        *slot = (*slot).min(*loss);
                    }
                }
                least
            })
            .collect()
    }

    /// What the other days must lose beside a class of a day.
    fn others(&self, day: usize, class: usize, by_class: &[Vec<i64>]) -> i64 {
        by_class
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != day)
            .filter_map(|(other, least)| {
                let fits = self.pools.beside(day, class, other)?;
                let may = least.iter().enumerate().filter(|(at, _)| fits.has(*at));
                Some(may.map(|(_, loss)| *loss).min().unwrap_or(i64::MAX / 4))
            })
            .fold(0, i64::saturating_add)
    }

    /// By row of an exercise that must come several times: by day, the least loss of a column with it.
    fn least_by_twice(&self, point: &Point, losses: &[Vec<i64>]) -> Vec<Vec<i64>> {
        self.twices
            .iter()
            .map(|(row, _)| {
                let days = point.days.iter().zip(losses).enumerate();
                days.map(|(day, (columns, losses))| {
                    columns
                        .iter()
                        .zip(losses)
                        .filter(|(column, _)| {
                            self.amounts(day, **column)
                                .get(*row)
                                .is_some_and(|n| *n > 0)
                        })
                        .map(|(_, loss)| *loss)
                        .min()
                        .unwrap_or(i64::MAX / 4)
                })
                .collect()
            })
            .collect()
    }

    /// New multipliers and the shares behind them.
    #[allow(clippy::type_complexity)]
    fn propose(
        &mut self,
        point: &Point,
        ranges: &[(i64, i64)],
    ) -> Option<(Vec<i64>, Vec<(usize, usize, f64)>)> {
        let mut taken = Vec::new();
        for (day, columns) in point.days.iter().enumerate() {
            let met = self.met.get(day)?;
            let mut of_day: Vec<usize> = met
                .iter()
                .copied()
                .filter(|column| columns.binary_search(column).is_ok())
                .collect();
            if of_day.is_empty() {
                of_day.extend(columns.first());
            }
            taken.extend(of_day.into_iter().map(|column| (day, column)));
        }
        let hulls: Vec<Vec<(i64, f64)>> = self
            .pools
            .rows
            .iter()
            .zip(&point.ends)
            .zip(ranges)
            .map(|((row, ends), range)| hull_over(row.values, *range, *ends, self.price))
            .collect();
        let columns: Vec<Choice<'_>> = taken
            .iter()
            .filter_map(|(day, column)| {
                let held = self.pools.days.get(*day)?.get(*column)?;
                Some((*day, held.score, held.amounts.as_slice()))
            })
            .collect();
        let proposal = propose(point.days.len(), &hulls, &columns)?;
        self.work += proposal.work;
        let shares = taken
            .iter()
            .zip(&proposal.shares)
            .filter(|(_, share)| **share > 1e-6)
            .map(|((day, column), share)| (*day, *column, *share))
            .collect();
        Some((proposal.multipliers, shares))
    }

    fn walk(&mut self, point: &Point, multipliers: &[i64]) -> bool {
        let mut days = Vec::new();
        for (held, columns) in self.pools.days.iter().zip(&point.days) {
            let mut of_day: Vec<(i64, usize)> = columns
                .iter()
                .filter_map(|column| Some((held.get(*column)?, *column)))
                .map(|(held, column)| {
                    let priced = held.amounts.iter().zip(multipliers).map(|(a, m)| a * m);
                    (held.score + priced.sum::<i64>(), column)
                })
                .collect();
            of_day.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
            days.push(of_day);
        }
        let mut leaf = Leaf {
            pools: &self.pools,
            stage: self.stage,
            own: self.own,
            values: self.values,
            outer: self.outer,
            ends: &point.ends,
            multipliers,
            days,
            least: self.least,
            enough: self.enough,
            best: self.best.take(),
            work: 0,
            most: self.most.saturating_sub(self.work),
        };
        let whole = leaf.walk();
        let (best, work) = (leaf.best, leaf.work);
        self.best = best;
        self.work += work;
        whole
    }

    /// Where a search over all sessions splits best, as far as these pools can tell: of what the
    /// relaxation leaves open, the one whose sides both lose most. A side that loses more than the
    /// `gap` of the pools has sessions that are not in them.
    pub(super) fn advise(&mut self, multipliers: &[i64], gap: i64) -> Option<(Split, bool)> {
        // Nothing is to be dropped here: what is not in the pools may still matter.
        self.least = NEVER;
        self.best = None;
        let mut point = self.start(multipliers);
        let settled = self.settle(&mut point)?;
        let mut chosen: Option<(i128, Cut, bool)> = None;
        for cut in self.open(&point, &settled) {
            let (mut one, mut other) = self.split(&point, &settled, &cut);
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
            let low_is_first = self.low_is_first(&settled, &cut);
            let low_loses_less = (first <= second) == low_is_first;
            if chosen.as_ref().is_none_or(|(most, _, _)| both > *most) {
                chosen = Some((both, cut, low_loses_less));
            }
        }
        let (_, cut, low_first) = chosen?;
        Some(match cut {
            Cut::Row(row, at) => (Split::Row(self.pools.rows.get(row)?.row, at), low_first),
            Cut::Item(day, item) => (Split::Item(day, item), low_first),
        })
    }

    /// The point that holds all of the pools.
    fn start(&self, multipliers: &[i64]) -> Point {
        let rows = self.pools.rows.iter();
        let multipliers = rows
            .map(|row| multipliers.get(row.row).copied().unwrap_or(0))
            .collect();
        Point {
            days: self
                .pools
                .days
                .iter()
                .map(|held| (0..held.len()).collect())
                .collect(),
            ends: self.pools.rows.iter().map(|row| row.ends).collect(),
            multipliers,
            bound: i64::MAX / 4,
            first: true,
        }
    }

    /// What the shares leave open, the most open of each kind first.
    fn open(&self, point: &Point, settled: &Settled) -> Vec<Cut> {
        let total = |row: usize| -> f64 {
            let shares = settled.shares.iter();
            shares
                .map(|(day, column, share)| {
                    self.amounts(*day, *column).get(row).copied().unwrap_or(0) as f64 * share
                })
                .sum()
        };
        let mut twices: Vec<(f64, usize)> = self
            .twices
            .iter()
            .filter_map(|(row, at_least)| {
                let ends = point.ends.get(*row)?;
                let total = total(*row);
                let far = total.min(*at_least as f64 - total);
                (ends.0 <= 0 && ends.1 >= *at_least && far > 0.02).then_some((far, *row))
            })
            .collect();
        let mut rows: Vec<(f64, usize, i64)> = Vec::new();
        for (at, (row, ends)) in self.pools.rows.iter().zip(&point.ends).enumerate() {
            let (total, low) = (total(at), total(at).floor());
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

    /// Whether [`Self::split`] gives the low side, or the one without the item, first.
    fn low_is_first(&self, settled: &Settled, cut: &Cut) -> bool {
        match cut {
            Cut::Row(row, at) => {
                let shares = settled.shares.iter();
                let total: f64 = shares
                    .map(|(day, column, share)| {
                        self.amounts(*day, *column).get(*row).copied().unwrap_or(0) as f64 * share
                    })
                    .sum();
                total - *at as f64 <= 0.5
            }
            Cut::Item(day, item) => {
                let items = self.items(settled);
                let share = items.iter().find(|(d, i, _)| d == day && i == item);
                share.is_none_or(|(_, _, share)| *share < 0.5)
            }
        }
    }

    /// Where a point splits: an exercise that must come several times or not at all, a row's total,
    /// an item that the shares of a day leave half; none where the shares settle all.
    fn cut(&self, point: &Point, settled: &Settled) -> Option<Cut> {
        let total = |row: usize| -> f64 {
            settled
                .shares
                .iter()
                .map(|(day, column, share)| {
                    self.amounts(*day, *column).get(row).copied().unwrap_or(0) as f64 * share
                })
                .sum()
        };
        let mut worst: Option<(f64, Cut)> = None;
        for (row, at_least) in &self.twices {
            let ends = point.ends.get(*row).copied().unwrap_or((0, 0));
            let (total, least) = (total(*row), *at_least as f64);
            let far = total.min(least - total);
            if ends.0 <= 0
                && ends.1 >= *at_least
                && far > 0.02
                && worst.as_ref().is_none_or(|(most, _)| far > *most)
            {
                worst = Some((far, Cut::Row(*row, 0)));
            }
        }
        if let Some((_, cut)) = worst {
            return Some(cut);
        }
        let mut worst: Option<(f64, Cut)> = None;
        for (at, (row, ends)) in self.pools.rows.iter().zip(&point.ends).enumerate() {
            let total = total(at);
            let below = total.floor();
            let part = total - below;
            let range = (row.values.low, row.values.high());
            if part < 0.02
                || part > 0.98
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
    fn split(&self, point: &Point, settled: &Settled, cut: &Cut) -> (Point, Point) {
        let copy = || Point {
            days: point.days.clone(),
            ends: point.ends.clone(),
            multipliers: Vec::new(),
            bound: 0,
            first: false,
        };
        let (mut one, mut other) = (copy(), copy());
        match cut {
            Cut::Row(row, at) => {
                if let Some(ends) = one.ends.get_mut(*row) {
                    ends.1 = ends.1.min(*at);
                }
                if let Some(ends) = other.ends.get_mut(*row) {
                    ends.0 = ends.0.max(at + 1);
                }
                let total: f64 = settled
                    .shares
                    .iter()
                    .map(|(day, column, share)| {
                        self.amounts(*day, *column).get(*row).copied().unwrap_or(0) as f64 * share
                    })
                    .sum();
                if total - *at as f64 > 0.5 {
                    std::mem::swap(&mut one, &mut other);
                }
            }
            Cut::Item(day, item) => {
                let has = |column: &usize| {
                    self.pools
                        .session(*day, *column)
                        .is_some_and(|session| session.items.contains(item))
                };
                if let Some(columns) = one.days.get_mut(*day) {
                    columns.retain(has);
                }
                if let Some(columns) = other.days.get_mut(*day) {
                    columns.retain(|column| !has(column));
                }
                let share: f64 = self
                    .items(settled)
                    .iter()
                    .filter(|(d, i, _)| d == day && i == item)
                    .map(|(_, _, share)| share)
                    .sum();
                if share < 0.5 {
                    std::mem::swap(&mut one, &mut other);
                }
            }
        }
        (one, other)
    }
}

/// What the cheapest other days with the same exercise lose, so many that the least is reached.
fn partners(by_day: &[i64], day: usize, at_least: i64) -> i64 {
    let mut others: Vec<i64> = by_day
        .iter()
        .enumerate()
        .filter(|(other, _)| *other != day)
        .map(|(_, loss)| *loss)
        .collect();
    others.sort_unstable();
    let count = usize::try_from(at_least - 1).unwrap_or(0);
    if others.len() < count {
        return i64::MAX / 4;
    }
    others
        .iter()
        .take(count)
        .fold(0, |sum, loss| sum.saturating_add(*loss))
}
