//! Bounds and units of rules.

use crate::base::At;
use crate::rules::vocab::Yields;

use super::shape::Bound;

/// A rule's unit, 1 where absent.
pub(super) fn unit(unit: Option<&At<u16>>) -> i64 {
    unit.map_or(1, |unit| i64::from(unit.value).max(1))
}

/// A bound of a row.
pub(super) fn bound(
    yields: Yields,
    at_least: Option<i64>,
    at_most: Option<i64>,
    unit: i64,
) -> Bound {
    Bound {
        level: yields.level(),
        at_least,
        at_most,
        unit,
    }
}
