//! The most of a row over any range of totals.

use super::rows::RowValues;

/// The most of a list over any range.
pub(super) struct Ranges {
    low: i64,
    levels: Vec<Vec<i64>>,
}

/// Below anything that a row can say.
pub(super) const NEVER: i64 = i64::MIN / 4;

impl Ranges {
    pub(super) fn of(values: &RowValues, ends: (i64, i64), multiplier: i64) -> Self {
        let first: Vec<i64> = values
            .values
            .iter()
            .enumerate()
            .map(|(at, value)| {
                let total = values.low + i64::try_from(at).unwrap_or(0);
                match value {
                    Some(value) if total >= ends.0 && total <= ends.1 => value - multiplier * total,
                    _ => NEVER,
                }
            })
            .collect();
        let mut levels = vec![first];
        let mut width = 1usize;
        while let Some(last) = levels.last().filter(|last| last.len() > width) {
            let next: Vec<i64> = (0..last.len() - width)
                .map(|at| {
                    last.get(at)
                        .copied()
                        .unwrap_or(NEVER)
                        .max(last.get(at + width).copied().unwrap_or(NEVER))
                })
                .collect();
            if next.is_empty() {
                break;
            }
            levels.push(next);
            width *= 2;
        }
        Self {
            low: values.low,
            levels,
        }
    }

    /// The most between two totals, both included.
    pub(super) fn most(&self, low: i64, high: i64) -> i64 {
        let count = i64::try_from(self.levels.first().map_or(0, Vec::len)).unwrap_or(0);
        let (from, to) = ((low - self.low).max(0), (high - self.low).min(count - 1));
        if from > to {
            return NEVER;
        }
        let length = usize::try_from(to - from + 1).unwrap_or(1);
        let level = (usize::BITS - 1 - length.leading_zeros()) as usize;
        let width = 1usize << level;
        let (from, to) = (
            usize::try_from(from).unwrap_or(0),
            usize::try_from(to).unwrap_or(0),
        );
        let Some(list) = self.levels.get(level) else {
            return NEVER;
        };
        let one = list.get(from).copied().unwrap_or(NEVER);
        let other = list
            .get((to + 1).saturating_sub(width))
            .copied()
            .unwrap_or(NEVER);
        one.max(other)
    }

    /// The least between two totals, both included; a walk over them.
    pub(super) fn least(&self, low: i64, high: i64) -> i64 {
        (low..=high)
            .map(|total| {
                usize::try_from(total - self.low)
                    .ok()
                    .and_then(|at| self.levels.first()?.get(at).copied())
                    .unwrap_or(NEVER)
            })
            .min()
            .unwrap_or(NEVER)
    }
}
