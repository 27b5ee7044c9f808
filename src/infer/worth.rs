//! Tables and scaled bounds, exact for all that the checks of reading let through.

use crate::rules::vocab::Table;

/// The value of a total: below zero each unit costs `below-zero`, above it the steps add up.
///
/// Slopes and ends of a table are at most 10 000 and a scaled floor is below 10^12, so that no
/// value of a week's total reaches 10^17.
pub(crate) fn table_value(table: &Table, total: i64) -> i64 {
    let total = i128::from(total);
    let mut value = total.min(0) * i128::from(table.below_zero.value);
    let mut from = 0i128;
    for step in &table.steps {
        let to = i128::from(step.to);
        let reached = total.min(to);
        if reached > from {
            value += (reached - from) * i128::from(step.each);
        }
        from = from.max(to);
    }
    i64::try_from(value).unwrap_or(if value < 0 { i64::MIN } else { i64::MAX })
}

/// A bound times percents: all products first, then one division by 100 for each, rounded down.
///
/// A bound is at most 10 000, and at most eight factors of at most 1 000 percent scale it: the
/// product stays below 10^28 and what is left of it below 10^12.
pub(crate) fn scaled(bound: i64, percents: &[i64]) -> i64 {
    let (mut product, mut divisor) = (i128::from(bound), 1i128);
    for percent in percents {
        product *= i128::from(*percent);
        divisor *= 100;
    }
    i64::try_from(product.div_euclid(divisor)).unwrap_or(i64::MAX)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use crate::base::{At, Place};
    use crate::rules::vocab::Step;

    use super::*;

    fn table(below_zero: i64, steps: &[(i64, i64)]) -> Table {
        let here = |value| At::new(value, Place::unknown());
        Table {
            below_zero: At::new(below_zero, Place::unknown()),
            steps: steps
                .iter()
                .map(|(to, each)| {
                    here(Step {
                        to: *to,
                        each: *each,
                    })
                })
                .collect(),
            because: String::new(),
            source: Default::default(),
        }
    }

    #[test]
    fn the_largest_bound_that_is_read_is_exact() {
        // 10 000 · 10^8.
        assert_eq!(scaled(10_000, &[1_000; 8]), 1_000_000_000_000);
        // 7 · 999^8 / 10^16, worked out with long whole numbers elsewhere.
        assert_eq!(scaled(7, &[999; 8]), 694_419_560);
        assert_eq!(scaled(9, &[33, 33]), 0);
    }

    #[test]
    fn the_largest_totals_are_exact() {
        let steep = table(10_000, &[(1, 10_000), (10_000, 9_999)]);
        assert_eq!(
            table_value(&steep, -1_000_000_000_000),
            -10_000_000_000_000_000
        );
        assert_eq!(table_value(&steep, 1), 10_000);
        assert_eq!(
            table_value(&steep, 1_000_000_000_000),
            10_000 + 9_999 * 9_999
        );
    }
}
