//! Holds what a test of a track expects against what it says.

use crate::base::{At, ExpectationId, RuleTestId};
use crate::explain::Tracked;
use crate::rules::expect_track::TrackTest;
use crate::rules::vocab::Range;

use super::{Failed, Instead, TestResult};

/// What came of a test of a track.
pub(crate) fn hold_track(id: &At<RuleTestId>, test: &TrackTest, found: &Tracked) -> TestResult {
    let (mut held, mut failed) = (0, Vec::new());
    let mut each =
        |kind: &'static str, id: &At<ExpectationId>, instead: Option<Instead>| match instead {
            None => held += 1,
            Some(instead) => failed.push(Failed {
                kind,
                expectation: id.value.clone(),
                place: id.place.clone(),
                variant: None,
                instead,
            }),
        };
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
    failed.sort_by(|one, other| one.place.cmp(&other.place));
    TestResult {
        test: id.value.clone(),
        place: id.place.clone(),
        because: test.because.clone(),
        held,
        failed,
        unanswered: Vec::new(),
    }
}
