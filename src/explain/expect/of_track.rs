//! Holds what a test of a track expects against what it says.

use crate::base::{At, RuleTestId};
use crate::explain::Tracked;
use crate::rules::expect_track::TrackTest;
use crate::rules::vocab::Range;

use super::{Instead, Tally, TestResult};

/// What came of a test of a track.
pub(crate) fn hold_track(id: &At<RuleTestId>, test: &TrackTest, found: &Tracked) -> TestResult {
    let mut tally = Tally::default();
    let mut each = |kind, id, instead| tally.take(kind, id, None, instead);
    for (id, wanted) in &test.expect.measured {
        let mut all = found.measures.iter();
        let of_it = all.find(|held| held.measure.id == wanted.measure.value);
        let value = of_it.map(|held| held.value);
        let range = Range {
            at_least: wanted.at_least,
            at_most: wanted.at_most,
        };
        let holds = match value {
            Some(value) => !wanted.unknown && range.holds(value),
            None => wanted.unknown,
        };
        each("measured", id, (!holds).then_some(Instead::Measured(value)));
    }
    for (id, wanted) in &test.expect.looked {
        let mut all = found.looks.iter();
        let of_it = all.find(|held| held.look.id == wanted.look.value);
        let is = of_it.map(|held| held.is_true);
        let holds = is == Some(wanted.is);
        each("looked", id, (!holds).then_some(Instead::IsTrue(is)));
    }
    for (id, wanted) in &test.expect.remarked {
        let mut all = found.remarks.iter();
        let is = all.any(|held| held.id == wanted.remark.value);
        let holds = is == wanted.is;
        each(
            "remarked",
            id,
            (!holds).then_some(Instead::IsTrue(Some(is))),
        );
    }
    tally.done(id, &test.because, Vec::new())
}
