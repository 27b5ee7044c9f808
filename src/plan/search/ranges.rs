//! The best total of a row over any range of totals, in constant time.

use super::rows::RowValues;

/// What each total of a row is worth less its multiplier, and the most of that over any range.
pub(super) struct Ranges {
    low: i64,
    levels: Vec<Vec<i64>>,
}

/// Below any score; what no total can have.
pub(super) const NEVER: i64 = i64::MIN / 4;

impl Ranges {
    /// Over the totals between two ends.
    pub(super) fn of(values: &RowValues, ends: (i64, i64), multiplier: i64) -> Self {
        let (low, high) = (ends.0.max(values.low), ends.1.min(values.high()));
        let first: Vec<i64> = (low..=high)
            .map(|total| {
                values
                    .value(total)
                    .map_or(NEVER, |value| value - multiplier * total)
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
        Self { low, levels }
    }

    /// The most over a range of totals; what lies outside the ends has none.
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
}
