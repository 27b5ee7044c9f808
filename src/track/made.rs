//! Rows of a made curve: level at its keys, smooth between them.

use crate::rules::expect_track::{TrackKey, TrackTest};

use super::number::{float, whole};
use super::{Row, Rows};

/// Microseconds between rows: a hundred a second.
const STEP: i64 = 10_000;

/// The rows of a test, from its first key to its last.
pub(crate) fn rows(test: &TrackTest) -> Rows {
    let keys = test.across.iter().chain(&test.up);
    let times = keys.map(|key| key.ms.value * 1000);
    let (first, last) = (times.clone().min(), times.max());
    let (mut rows, mut micros) = (Vec::new(), first.unwrap_or(0));
    while micros <= last.unwrap_or(0) {
        rows.push(Row {
            micros,
            at: Some((place(&test.across, micros), place(&test.up, micros))),
        });
        micros += STEP;
    }
    Rows {
        rows,
        ground: test.ground.as_ref().map(|mm| mm.value * 1000),
    }
}

/// Where a curve is, in micrometres; before its first key and behind its last it stays.
fn place(keys: &[TrackKey], micros: i64) -> i64 {
    let mut at = keys.first().map_or(0, |key| key.mm.value * 1000);
    for (one, next) in keys.iter().zip(keys.iter().skip(1)) {
        let (from, to) = (one.ms.value * 1000, next.ms.value * 1000);
        if micros >= from && to > from {
            let share = (float(micros - from) / float(to - from)).min(1.0);
            let smooth = share * share * (3.0 - 2.0 * share);
            let way = float((next.mm.value - one.mm.value) * 1000) * smooth;
            at = one.mm.value * 1000 + whole(way).unwrap_or(0);
        }
    }
    at
}
