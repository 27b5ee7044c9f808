//! `apart` and `differ`. The days are 1, 3 and 4.

use rstest::rstest;

use super::small::missed;

const ALL: &str = "swaling prime | swaling prime | swaling prime";

#[rstest]
// Free days: 1 between 1 and 3, none between 3 and 4, 2 between 1 and 4.
#[case("free-days: 1", ALL, 1)]
#[case("free-days: 2", ALL, 2)]
#[case("free-days: 3", ALL, 3)]
// Another exercise of the skill.
#[case("free-days: 1", "| swaling prime | halt-swaling mend", 1)]
#[case(
    "free-days: 1, same-exercise: true",
    "| swaling prime | halt-swaling mend",
    0
)]
#[case(
    "free-days: 1, same-exercise: true",
    "| swaling prime, halt-swaling mend | halt-swaling mend",
    1
)]
// However many items stand close, it is one pair of days.
#[case(
    "free-days: 1",
    "| swaling prime, halt-swaling mend | swaling prime, halt-swaling mend",
    1
)]
fn apart(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!(
        "\n  apart: {{it: {{what: {{skills: [swale]}}, from: {{skills: [swale]}}, {rule}, yields: last}}}}"
    );
    assert_eq!(missed(&rules, "", week), units);
}

#[rstest]
// Day 4 to day 1 of the next week: 3 free days. Day 1 to day 4: 2 free days.
#[case("free-days: 4, way: after", "tarning prime | | swaling prime", 1)]
#[case("free-days: 3, way: after", "tarning prime | | swaling prime", 0)]
#[case(
    "free-days: 4, way: after, wraps: false",
    "tarning prime | | swaling prime",
    0
)]
#[case("free-days: 3, way: after", "swaling prime | | tarning prime", 1)]
#[case(
    "free-days: 3, way: after, wraps: false",
    "swaling prime | | tarning prime",
    1
)]
#[case("free-days: 3, wraps: false", "tarning prime | | swaling prime", 1)]
#[case("free-days: 3, same-skill: true", "tarning prime | | swaling prime", 0)]
// On one and the same day nothing is close.
#[case("free-days: 6", "tarning prime, swaling prime | |", 0)]
fn apart_one_from_another(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!(
        "\n  apart: {{it: {{what: {{skills: [swale]}}, from: {{skills: [tarn]}}, {rule}, yields: last}}}}"
    );
    assert_eq!(missed(&rules, "", week), units);
}

#[rstest]
// Shared: 2 by days 1 and 3, 1 by 1 and 4, 1 by 3 and 4.
#[case(
    0,
    "swaling prime, halt-swaling mend | swaling prime, halt-swaling mend | swaling prime",
    4
)]
#[case(
    1,
    "swaling prime, halt-swaling mend | swaling prime, halt-swaling mend | swaling prime",
    1
)]
// Only what `what` means: tarning is free.
#[case(0, "tarning prime | tarning prime | tarning prime", 0)]
fn differ(#[case] at_most: i64, #[case] week: &str, #[case] units: i64) {
    let rules = format!(
        "\n  differ: {{it: {{what: {{skills: [swale]}}, shared-at-most: {at_most}, yields: last}}}}"
    );
    assert_eq!(missed(&rules, "", week), units);
}
