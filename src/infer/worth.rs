//! Tables and scaled bounds.

use crate::rules::vocab::Table;

/// The value of a total: below zero each unit costs `below-zero`, above it the steps add up.
pub(crate) fn table_value(table: &Table, total: i64) -> i64 {
    if total < 0 {
        return total.saturating_mul(table.below_zero.value);
    }
    let (mut value, mut from) = (0i64, 0i64);
    for step in &table.steps {
        let reached = total.min(step.to);
        if reached > from {
            value = value.saturating_add((reached - from).saturating_mul(step.each));
        }
        from = from.max(step.to);
    }
    value
}

/// A bound times percents: all products first, then one division by 100 for each, rounded down.
pub(crate) fn scaled(bound: i64, percents: &[i64]) -> i64 {
    let (mut product, mut divisor) = (i128::from(bound), 1i128);
    for percent in percents.iter().take(16) {
        product = product.saturating_mul(i128::from(*percent));
        divisor *= 100;
    }
    i64::try_from(product.div_euclid(divisor)).unwrap_or(i64::MAX)
}
