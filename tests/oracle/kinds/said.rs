//! What a case says of what was seen and tried, and what that makes of a week.

use rstest::rstest;

use super::small::worth;

#[rstest]
// Tether does 6 on drift, worth 5 + 5 + 4 × 3 = 22, and nothing on lag.
#[case("faults: [{fault: astray, grade: faint}]", 60 * 22)]
#[case("faults: [{fault: astray, grade: faint}]; sure-of: [{cause: drift}]", 100 * 22)]
#[case("faults: [{fault: astray, grade: plain-to-see}]; sure-of: [{cause: drift}]", 200 * 22)]
#[case("sure-of: [{cause: drift}]", 100 * 22)]
// One cause of a skill: what the coach is sure of takes the place.
#[case("faults: [{fault: astray, grade: faint}]; sure-of: [{cause: lag}]", 0)]
fn sure_of(#[case] case_lines: &str, #[case] points: i64) {
    let rules = "\n  help-worth: {it: {table: steps}}\n  focus: {it: {per-skill-at-most: 1}}";
    assert_eq!(worth(rules, case_lines, "tied-swaling mend | |"), points);
}
