//! `help-worth`, `prefer`, `quality-worth`, `caution`, and the tie.

use rstest::rstest;

use super::small::{judge, worth};

const SEEN: &str = "faults: [{fault: astray, grade: plain-to-see}]; ruled-out: [lag]";

#[rstest]
// Demand 120. The table: 5 a unit up to 2, then 3 up to 6, then nothing; 7 lost below zero.
// Halting 4: 5 + 5 + 3 + 3 = 16.
#[case(SEEN, "halt-swaling mend | |", 120 * 16)]
// As plain work 2: 10.
#[case(SEEN, "halt-swaling plain | |", 120 * 10)]
// 4 + 6 = 10, and 6 are worth 5 + 5 + 4 × 3 = 22: no more.
#[case(SEEN, "halt-swaling mend | tied-swaling mend |", 120 * 22)]
// On lag (demand 80) halting does -2: -14 beside the 16 on drift.
#[case("faults: [{fault: astray, grade: plain-to-see}]", "halt-swaling mend | |", 120 * 16 - 80 * 14)]
#[case("", "halt-swaling mend | |", 0)]
fn help_worth(#[case] case_lines: &str, #[case] week: &str, #[case] points: i64) {
    assert_eq!(
        worth("\n  help-worth: {it: {table: steps}}", case_lines, week),
        points
    );
}

#[rstest]
#[case("weight: 3", "swaling prime, halt-swaling mend | swaling prime |", 900)]
// For each set: 4 + 4 + 3.
#[case("weight: -1, each: set", "swaling prime, halt-swaling mend | swaling prime |", -1100)]
// Departure: swaling 0, halting 2, both 5; the complex (3 × 1 + 0 × 2) / 3.
#[case("weight: -1, each: departure", "swaling prime, halt-swaling mend, tied-halt-swaling mend | |", -700)]
#[case("weight: -1, each: departure", "tied-then-free mend | |", -100)]
#[case(
    "weight: 3, on: {efforts: [mild]}",
    "swaling prime | swaling prime | swaling prime",
    300
)]
fn prefer(#[case] rule: &str, #[case] week: &str, #[case] points: i64) {
    assert_eq!(
        worth(
            &format!("\n  prefer: {{it: {{what: {{skills: [swale]}}, {rule}}}}}"),
            "",
            week
        ),
        points
    );
}

#[rstest]
// Grace 3: 5 + 5 + 3, times 100. Grace 7: 22 and no more. None: none.
#[case("qualities: [grace]", "", "swaling prime | |", 1300)]
#[case("qualities: [grace]", "", "swaling prime | halt-swaling mend |", 2200)]
#[case("qualities: [grace]", "", "| |", 0)]
// Grace 3 and force 2: 13 + 10.
#[case("qualities: [grace, force]", "", "swaling prime | |", 2300)]
// Above a floor of 8 (the larger of two): -5 × 7. In autumn half of 8: -1 × 7.
#[case("qualities: [grace], above-floor: true", "", "swaling prime | |", -3500)]
#[case("qualities: [grace], above-floor: true", "phase: autumn", "swaling prime | |", -700)]
fn quality_worth(
    #[case] rule: &str,
    #[case] case_lines: &str,
    #[case] week: &str,
    #[case] points: i64,
) {
    let floors = "
  floor:
    low: {quality: grace, points-at-least: 4, yields: first}
    high: {quality: grace, points-at-least: 8, scaled-by: [season], yields: first}";
    assert_eq!(
        worth(
            &format!("{floors}\n  quality-worth: {{it: {{{rule}, table: steps}}}}"),
            case_lines,
            week
        ),
        points
    );
}

#[rstest]
fn a_caution_changes_nothing() {
    let week = "swaling prime | halt-swaling mend |";
    let with = judge("\n  caution: {it: {what: {everything: true}}}", SEEN, week);
    assert_eq!(with, judge("", SEEN, week));
    assert!(with.hard_broken.is_empty());
}

#[rstest]
// By id: halt-swaling, light-tarning, mooring, swaling, tarning, tied-halt-swaling, tied-swaling, tied-then-free.
#[case("halt-swaling mend | |", 1)]
#[case("swaling prime | mooring side end |", 4 + 2 * 3)]
#[case("| | tied-then-free mend", 3 * 8)]
fn tie(#[case] week: &str, #[case] measure: i64) {
    assert_eq!(judge("", "", week).tie, measure);
}

#[rstest]
// Levels by what gives way: last, middle, first.
fn levels() {
    let rules = "
  exclude:
    one: {what: {exercises: [swaling]}, yields: last}
    two: {what: {exercises: [tarning]}, yields: middle}
    three: {what: {exercises: [tarning]}, yields: first}";
    let verdict = judge(rules, "", "swaling prime, tarning prime | tarning prime |");
    assert_eq!(verdict.missed, [1, 2, 2]);
    assert_eq!(verdict.missed_by_rule.len(), 3);
}
