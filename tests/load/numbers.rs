//! Numbers out of range: the range that is told is the same however far out they are.

use rstest::rstest;

use super::api::Code::{OutOfRange, UnknownKey};
use super::small::assert_problems;

#[rstest]
#[case("10")]
#[case("255")]
#[case("256")]
#[case("-1")]
#[case("99999999999999999999")]
#[case("-99999999999999999999")]
#[case("999999999999999999999999999999999999999999999999")]
fn a_departure_has_one_range(#[case] number: &str) {
    let edit = format!("departs: §{number}\n");
    let found = assert_problems(&[("departs: 2\n", &edit)], &[OutOfRange]);
    let shown: String = number.chars().take(40).collect();
    assert!(
        found[0].what.starts_with(&format!("`departs` is {shown}"))
            && found[0].what.ends_with(", and must be from 0 to 9"),
        "{}",
        found[0].what
    );
    assert_eq!(found[0].help, "write a whole number from 0 to 9");
}

#[rstest]
#[case::of_one(
    "severity: 3",
    "severity: §300",
    "`severity` is 300, and must be from 1 to 3"
)]
#[case::below_nothing(
    "departs: 1,",
    "departs: §-1,",
    "`departs` is -1, and must be from 0 to 9"
)]
#[case::of_a_span(
    "sets: {from: 3, to: 5}",
    "sets: {from: 3, to: §70000}",
    "`sets.to` is 70000, and must be from 1 to 12"
)]
#[case::of_a_span_from_below(
    "sets: {from: 3, to: 5}",
    "sets: {from: §-3, to: 5}",
    "`sets.from` is -3, and must be from 1 to 12"
)]
#[case::of_a_weight(
    "weight: 3, ",
    "weight: §99999999999999999999, ",
    "`weight` is 99999999999999999999, and must be from -10000 to 10000"
)]
#[case::where_only_the_type_knows(
    "{part: lifts, at-least: 1, at-most: 3}",
    "{part: lifts, at-least: §-1, at-most: 3}",
    "`layouts.two-days.days[1].parts[1].at-least` must be a whole number from 0 to 255, and `-1` is not in that range"
)]
#[case::bar_of_nothing(
    "weight: 20, collar",
    "weight: §0, collar",
    "`weight` is 0, and must be above 0 and at most 1000"
)]
#[case::bar_below_nothing(
    "weight: 20, collar",
    "weight: §-20, collar",
    "`weight` is -20, and must be above 0 and at most 1000"
)]
#[case::bar_of_a_ton(
    "weight: 20, collar",
    "weight: §1000.5, collar",
    "`weight` is 1000.5, and must be above 0 and at most 1000"
)]
#[case::bar_beyond_all(
    "weight: 20, collar",
    "weight: §99999999999999999999, collar",
    "`weight` is 99999999999999999999, and must be above 0 and at most 1000"
)]
#[case::collar_below_nothing(
    "collar: 2.5",
    "collar: §-2.5",
    "`collar` is -2.5, and must be from 0 to 1000"
)]
#[case::disc_of_nothing(
    "{weight: 20, full",
    "§{weight: 0, full",
    "`weight` is 0, and must be above 0 and at most 1000"
)]
#[case::disc_below_nothing(
    "{weight: 20, full",
    "{weight: §-20, full",
    "`weight` is -20, and must be above 0 and at most 1000"
)]
fn a_number_is_told_as_it_is_written(#[case] from: &str, #[case] to: &str, #[case] what: &str) {
    let found = assert_problems(&[(from, to)], &[OutOfRange]);
    assert_eq!(found[0].what, what);
}

#[test]
fn two_numbers_of_one_span_are_told_each_as_written() {
    let edit = ("sets: {from: 3, to: 5}", "sets: {from: §70000, to: §80000}");
    let found = assert_problems(&[edit], &[OutOfRange, OutOfRange]);
    assert!(found[0].what.contains("70000"), "{found:?}");
    assert!(found[1].what.contains("80000"), "{found:?}");
}

#[test]
fn where_an_item_is_not_read_its_numbers_are_still_told_with_their_range() {
    let edits = [
        ("holds: one", "§hold: one"),
        ("departs: 2\n", "departs: §300\n"),
    ];
    let found = assert_problems(&edits, &[UnknownKey, OutOfRange]);
    assert_eq!(found[1].what, "`departs` is 300, and must be from 0 to 9");
}
