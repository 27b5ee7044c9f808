//! Whole numbers that say so when they grow too large, and never wrap or stick.

use crate::rules::vocab::Table;

/// Why a rule could not be held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stop {
    /// A number is beyond what can be counted.
    TooLarge,
    /// The pack does not have what the rule names.
    Dangling,
}

/// A value, or why there is none.
pub(super) type Exact<T> = Result<T, Stop>;

/// The sum of two numbers.
pub(super) fn plus(one: i64, other: i64) -> Exact<i64> {
    one.checked_add(other).ok_or(Stop::TooLarge)
}

/// What is left of the first without the second.
pub(super) fn less(one: i64, other: i64) -> Exact<i64> {
    one.checked_sub(other).ok_or(Stop::TooLarge)
}

/// The product of two numbers.
pub(super) fn times(one: i64, other: i64) -> Exact<i64> {
    one.checked_mul(other).ok_or(Stop::TooLarge)
}

/// The sum of many numbers.
pub(super) fn total(numbers: impl IntoIterator<Item = Exact<i64>>) -> Exact<i64> {
    numbers
        .into_iter()
        .try_fold(0, |sum, number| plus(sum, number?))
}

/// How many there are.
pub(super) fn many<T>(things: impl IntoIterator<Item = T>) -> Exact<i64> {
    i64::try_from(things.into_iter().count()).map_err(|_| Stop::TooLarge)
}

/// Units of `unit` that a lack comes to; a started unit is a whole one.
pub(super) fn started(lack: i64, unit: i64) -> Exact<i64> {
    let unit = unit.max(1);
    let whole = lack.max(0) / unit;
    if lack.max(0) % unit == 0 {
        Ok(whole)
    } else {
        plus(whole, 1)
    }
}

/// A bound times percents: all products, then one division by 100 for each, rounded down.
pub(super) fn scaled(bound: i64, percents: &[i64]) -> Exact<i64> {
    let (mut product, mut divisor) = (i128::from(bound), 1i128);
    for percent in percents {
        product = product
            .checked_mul(i128::from(*percent))
            .ok_or(Stop::TooLarge)?;
        divisor = divisor.checked_mul(100).ok_or(Stop::TooLarge)?;
    }
    i64::try_from(product.div_euclid(divisor)).map_err(|_| Stop::TooLarge)
}

/// A table's value of a total: each unit below zero costs, above it each unit earns what its step says.
pub(super) fn worth_of(table: &Table, sum: i64) -> Exact<i64> {
    if sum < 0 {
        return times(sum, table.below_zero.value);
    }
    let (mut value, mut from) = (0, 0);
    for step in &table.steps {
        let to = step.to.min(sum);
        if to > from {
            value = plus(value, times(less(to, from)?, step.each)?)?;
            from = to;
        }
    }
    Ok(value)
}
