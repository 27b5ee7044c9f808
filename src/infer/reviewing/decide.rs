//! The first decision by rank that holds.

use crate::base::{At, ReviewDecisionId};
use crate::rules::pack::Pack;
use crate::rules::vocab::{ReviewDecision, ShareTest, TrendTest};

use super::{Counted, Share};

/// What is decided from the full form and, where one is asked about, an exercise that works against the fault. No test of an
/// exercise holds where none is asked about.
pub(super) fn decide(
    pack: &Pack,
    full: &Counted,
    exercise: Option<&Counted>,
) -> Option<ReviewDecisionId> {
    let held = pack.review_decisions.iter();
    let held = held.filter(|(_, decision)| holds(decision, full, exercise));
    let first = held.min_by_key(|(_, decision)| decision.rank.value)?;
    Some(first.0.value.clone())
}

fn holds(decision: &ReviewDecision, full: &Counted, exercise: Option<&Counted>) -> bool {
    let share = |test: &Option<ShareTest>, share: Option<&Share>| match (test, share) {
        (None, _) => true,
        (Some(_), None) => false,
        (Some(test), Some(share)) => is_so(test, share),
    };
    let trend = |test: &Option<TrendTest>, counted: Option<&Counted>| match (test, counted) {
        (None, _) => true,
        (Some(_), None) => false,
        (Some(test), Some(counted)) => has_changed(test, counted),
    };
    share(&decision.full, Some(&full.last))
        && share(&decision.full_in_all, Some(&full.in_all))
        && share(&decision.exercise, exercise.map(|held| &held.last))
        && share(&decision.exercise_in_all, exercise.map(|held| &held.in_all))
        && trend(&decision.full_trend, Some(full))
        && trend(&decision.exercise_trend, exercise)
}

fn is_so(test: &ShareTest, share: &Share) -> bool {
    let least = |bound: &Option<At<u8>>, mille: u16| {
        bound
            .as_ref()
            .is_none_or(|bound| mille >= u16::from(bound.value) * 10)
    };
    let most = |bound: &Option<At<u8>>, mille: u16| {
        bound
            .as_ref()
            .is_none_or(|bound| mille <= u16::from(bound.value) * 10)
    };
    let (seen, of) = (u64::from(share.seen) * 100, u64::from(share.of));
    let part = |bound: &At<u8>| u64::from(bound.value) * of;
    let number = |bound: &Option<At<u16>>, is: u32| {
        bound
            .as_ref()
            .is_none_or(|bound| is >= u32::from(bound.value))
    };
    number(&test.repetitions_at_least, share.of)
        && number(&test.weeks_at_least, u32::from(share.weeks))
        && least(&test.low_at_least, share.low)
        && most(&test.low_at_most, share.low)
        && least(&test.high_at_least, share.high)
        && most(&test.high_at_most, share.high)
        // Of no repetitions nothing is known.
        && test.share_at_least.as_ref().is_none_or(|bound| of > 0 && seen >= part(bound))
        && test.share_at_most.as_ref().is_none_or(|bound| of > 0 && seen <= part(bound))
}

fn has_changed(test: &TrendTest, counted: &Counted) -> bool {
    let Some(first) = counted.first.filter(|first| first.of > 0) else {
        return false;
    };
    let last = counted.last;
    if last.of == 0 {
        return false;
    }
    // Shares are compared by their numbers over one common whole.
    let whole = i64::from(first.of) * i64::from(last.of);
    let before = i64::from(first.seen) * i64::from(last.of) * 100;
    let now = i64::from(last.seen) * i64::from(first.of) * 100;
    let by = |points: &Option<At<u8>>, change: i64| {
        points
            .as_ref()
            .is_none_or(|points| change >= i64::from(points.value) * whole)
    };
    let falls = test.falls_at_least.is_none() || !test.apart || last.high < first.low;
    let rises = test.rises_at_least.is_none() || !test.apart || last.low > first.high;
    by(&test.falls_at_least, before - now)
        && by(&test.rises_at_least, now - before)
        && falls
        && rises
}
