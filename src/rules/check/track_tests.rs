//! Tests of tracks: curves that are some, and expectations that could fail.

use crate::base::{At, Code, Place, RuleTestId};
use crate::rules::expect_track::{TrackKey, TrackTest};

use super::Checks;
use super::sections::Sort;

/// The latest key, in thousandths of a second, and the farthest, in mm.
const LATEST: i64 = 60_000;
const FARTHEST: i64 = 10_000;
/// More keys than any curve that somebody writes.
const MOST_KEYS: usize = 200;

/// Checks all of them.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for (id, test) in &pack.track_tests {
        checks.is_only_test(id);
        one(checks, id, test);
    }
}

fn one(checks: &mut Checks<'_, '_>, id: &At<RuleTestId>, test: &TrackTest) {
    checks.maybe(test.body_height.as_ref(), "body-height", 500, 2_800);
    checks.maybe(test.ground.as_ref(), "ground", -FARTHEST, FARTHEST);
    for (key, keys) in [("across", &test.across), ("up", &test.up)] {
        let place = checks.place(Sort::TrackTest, id.as_str(), &[key]);
        curve(checks, key, &place, keys);
    }
    checks.expects_something(
        &id.place,
        test.expect.first().is_some(),
        "write what must come out under `expect`, such as `measured`",
    );
    for (id, held) in &test.expect.measured {
        let ranged = held.at_least.is_some() || held.at_most.is_some();
        if ranged == held.unknown {
            checks.problem(
                Code::Contradiction,
                id.place.clone(),
                "a measure lies in a range, or is unknown",
                "write `at-least`, `at-most` or both, or `unknown: true` alone",
            );
        }
        if let (Some(least), Some(most)) = (held.at_least, held.at_most)
            && least > most
        {
            checks.problem(
                Code::OutOfRange,
                id.place.clone(),
                format!("no number is at least {least} and at most {most}"),
                "let `at-least` be no more than `at-most`",
            );
        }
    }
}

fn curve(checks: &mut Checks<'_, '_>, key: &str, place: &Place, keys: &[TrackKey]) {
    if keys.len() < 2 || keys.len() > MOST_KEYS {
        checks.problem(
            Code::EmptyMap,
            place.clone(),
            format!("`{key}` has {} keys", keys.len()),
            format!("write 2 to {MOST_KEYS} of them, such as {{ms: 0, mm: 0}}"),
        );
    }
    for held in keys {
        checks.at(&held.ms, "ms", 0, LATEST);
        checks.at(&held.mm, "mm", -FARTHEST, FARTHEST);
    }
    for (one, next) in keys.iter().zip(keys.iter().skip(1)) {
        if next.ms.value <= one.ms.value {
            checks.problem(
                Code::OutOfRange,
                next.ms.place.clone(),
                format!("{} is no later than {}", next.ms.value, one.ms.value),
                "write keys in the order of their times",
            );
        }
    }
}
