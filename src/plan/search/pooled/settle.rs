//! Multipliers of a point, its bound, and what of its pools can still matter.

use super::super::master::{Choice, propose};
use super::super::ranges::NEVER;
use super::super::rows::{TOO_DEAR, hull_over, partners};
use super::super::stage::POINT;
use super::{Point, Pooled, ROUNDS, Settled, Weighed};

impl Pooled<'_, '_> {
    /// Multipliers, bound and what is left of the pools; none where nothing is, or where it was cancelled.
    pub(super) fn settle(&mut self, point: &mut Point) -> Option<Settled> {
        let rounds = if point.first { ROUNDS.0 } else { ROUNDS.1 };
        let mut tried = point.multipliers.clone();
        let mut best: Option<(Vec<i64>, i64)> = None;
        let mut shares = Vec::new();
        let mut stale = 0;
        for round in 0..rounds {
            if self.cancel.is_cancelled() {
                return None;
            }
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
    ///
    /// A week with such a column has a total that is not allowed, whatever the other days add, so that it is none.
    fn narrow(&self, point: &mut Point) -> Option<Vec<(i64, i64)>> {
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
                    for (ends, amount) in ends.iter_mut().zip(self.pools.amounts(day, *column)) {
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
            if !self.reductions.totals {
                return Some(ranges);
            }
            for (day, ends) in by_day.iter().enumerate() {
                let mut columns = point.days.get_mut(day).map(std::mem::take)?;
                let before = columns.len();
                columns.retain(|column| {
                    let amounts = self.pools.amounts(day, *column);
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
    ///
    /// No week with such a column scores `least`: it loses what the column does, and on other days at least what the cheapest
    /// columns lose that may stand with its class, or that bring its exercise as often as it must come. Weeks that score
    /// just `least` stay, so that ties are told apart.
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
                    let beside = if self.reductions.losses {
                        needed.max(twice)
                    } else {
                        0
                    };
                    if loss.saturating_add(beside) <= gap {
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

    /// By day: its classes with the least loss of a column of each, by rising loss.
    fn least_by_class(&self, point: &Point, losses: &[Vec<i64>]) -> Vec<Vec<(i64, usize)>> {
        let days = point.days.iter().zip(losses).zip(&self.pools.days);
        days.zip(&self.pools.classes)
            .map(|(((columns, losses), held), classes)| {
                let mut least = vec![TOO_DEAR; *classes];
                for (column, loss) in columns.iter().zip(losses) {
                    if let Some(slot) = held
                        .get(*column)
                        .and_then(|column| least.get_mut(column.class))
                    {
                        *slot = (*slot).min(*loss);
                    }
                }
                let classes = least.into_iter().enumerate();
                let mut present: Vec<(i64, usize)> = classes
                    .filter(|(_, loss)| *loss < TOO_DEAR)
                    .map(|(class, loss)| (loss, class))
                    .collect();
                present.sort_unstable();
                present
            })
            .collect()
    }

    /// What the other days must lose beside a class of a day.
    fn others(&self, day: usize, class: usize, by_class: &[Vec<(i64, usize)>]) -> i64 {
        by_class
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != day)
            .filter_map(|(other, least)| {
                let apart = self.pools.apart(day, class, other)?;
                let first = least.iter().find(|(_, held)| !apart.has(*held));
                Some(first.map_or(TOO_DEAR, |(loss, _)| *loss))
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
                            self.pools
                                .amounts(day, **column)
                                .get(*row)
                                .is_some_and(|n| *n > 0)
                        })
                        .map(|(_, loss)| *loss)
                        .min()
                        .unwrap_or(TOO_DEAR)
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
        let proposal = propose(point.days.len(), &hulls, &columns, &self.cancel)?;
        self.work += proposal.work;
        let shares = taken
            .iter()
            .zip(&proposal.shares)
            .filter(|(_, share)| **share > 1e-6)
            .map(|((day, column), share)| (*day, *column, *share))
            .collect();
        Some((proposal.multipliers, shares))
    }
}
