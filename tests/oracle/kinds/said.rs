//! What a case says of what was seen and tried, and what that makes of a week.

use rstest::rstest;

use super::small::{missed, worth};

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

#[rstest]
// One in ten: below the first step, and nothing is asked for.
#[case("", "seen: 1, of: 10", 0)]
// Two in ten reach the first step: half of 60. Five in twelve are 41 percent, and count whole.
#[case("", "seen: 2, of: 10", 30 * 22)]
#[case("", "seen: 5, of: 12", 60 * 22)]
#[case("", "seen: 39, of: 100", 30 * 22)]
// Where nothing is said of how often, and where the rule is of another fault or does not speak.
#[case("", "from-percent: 50", 60 * 22)]
#[case("faults: [sinking], ", "seen: 1, of: 10", 60 * 22)]
#[case("when: {phase: [autumn]}, ", "seen: 1, of: 10", 60 * 22)]
#[case("when: {faults: [astray]}, ", "seen: 1, of: 10", 0)]
fn how_often(#[case] rule: &str, #[case] said: &str, #[case] points: i64) {
    let rules = format!(
        "\n  help-worth: {{it: {{table: steps}}}}\n  how-often: {{it: {{{rule}steps: [{{from: 20, percent: 50}}, {{from: 40, percent: 100}}]}}}}"
    );
    let case_lines = format!("faults: [{{fault: astray, grade: faint, {said}}}]");
    assert_eq!(worth(&rules, &case_lines, "tied-swaling mend | |"), points);
}

#[test]
fn of_several_rules_the_least_counts() {
    let rules = "\n  help-worth: {it: {table: steps}}\n  how-often: {one: {steps: [{from: 1, percent: 70}]}, two: {steps: [{from: 1, percent: 40}]}, three: {steps: [{from: 1, percent: 90}]}}";
    let case_lines = "faults: [{fault: astray, grade: faint, seen: 1, of: 3}]";
    // 60 × 40 / 100.
    assert_eq!(worth(rules, case_lines, "tied-swaling mend | |"), 24 * 22);
}

#[test]
fn a_fault_that_does_not_count_makes_no_word_severe() {
    let rules = "\n  help-worth: {it: {table: steps}}\n  how-often: {it: {steps: [{from: 20, percent: 100}]}}";
    let said = |times: &str| {
        let case_lines = format!(
            "faults: [{{fault: astray, grade: plain-to-see, {times}}}]; sure-of: [{{cause: drift}}]"
        );
        worth(rules, &case_lines, "tied-swaling mend | |")
    };
    assert_eq!(said("seen: 5, of: 10"), 200 * 22);
    assert_eq!(said("seen: 1, of: 10"), 100 * 22);
}

#[rstest]
// From 90 percent on the fault is prompt, and that rules lag out: halting does 4 on drift, worth 16, and -2 on lag.
#[case("from-percent: 89", 60 * 16 - 40 * 14)]
#[case("from-percent: 90", 60 * 16)]
fn onset(#[case] said: &str, #[case] points: i64) {
    let rules = "\n  help-worth: {it: {table: steps}}";
    let case_lines = format!("faults: [{{fault: astray, grade: faint, {said}}}]");
    assert_eq!(worth(rules, &case_lines, "halt-swaling mend | |"), points);
}

#[rstest]
// 29 days from the day of the best to today.
#[case("best-age: {high-swale: {at-least: 29}}", "skip", 300)]
#[case("best-age: {high-swale: {at-least: 30}}", "skip", 0)]
#[case("best-age: {high-swale: {at-most: 28}}", "skip", 0)]
// This one has no day: not known.
#[case("best-age: {high-tarn: {at-least: 0}}", "skip", 0)]
#[case("best-age: {high-tarn: {at-least: 0}}", "apply", 300)]
#[case("none: [{best-age: {high-tarn: {at-least: 0}}}]", "apply", 300)]
#[case("none: [{best-age: {high-tarn: {at-least: 0}}}]", "skip", 0)]
// An old one among several is enough, and one that is young rules "all" out, whatever is not known.
#[case(
    "any: [{best-age: {high-tarn: {at-least: 5}}}, {best-age: {high-swale: {at-least: 5}}}]",
    "skip",
    300
)]
#[case(
    "best-age: {high-tarn: {at-least: 5}, high-swale: {at-least: 50}}",
    "apply",
    0
)]
fn best_age(#[case] when: &str, #[case] unknown: &str, #[case] points: i64) {
    let rules = format!(
        "\n  prefer: {{it: {{when: {{{when}}}, if-unknown: {unknown}, what: {{everything: true}}, weight: 3}}}}"
    );
    let case_lines = "today: \"2026-03-01\"; bests: {high-swale: {weight: 100, on: \"2026-01-31\"}, high-tarn: 120}";
    assert_eq!(worth(&rules, case_lines, "swaling prime | |"), points);
}

#[test]
fn a_best_that_is_not_stated_is_not_old() {
    let rules = "\n  prefer: {it: {when: {best-age: {high-tarn: {at-least: 0}}}, if-unknown: apply, what: {everything: true}, weight: 3}}";
    assert_eq!(
        worth(rules, "bests: {high-swale: 100}", "swaling prime | |"),
        0
    );
}

#[rstest]
#[case("tried: [worse]", 1)]
#[case("tried: [same]", 1)]
#[case("tried: [worse, same]", 2)]
// The complex is an item of its own, whatever came of what it is made of.
#[case("tried: [better]", 1)]
#[case("tried: [better], new: true", 0)]
// What halting came to holds of whatever halts; a lift with nothing special says nothing of its forms; of a complex each
// component says something.
#[case("like-tried: [same]", 1)]
#[case("like-tried: [worse]", 0)]
#[case("like-tried: [better]", 1)]
#[case("did-last-week: true", 2)]
#[case("did-last-week: false", 2)]
#[case("not: [{tried: [better, same, worse]}]", 1)]
// Halting for a week by the one list, the complex for three by the other.
#[case("weeks-in-a-row: {at-least: 1}", 2)]
#[case("weeks-in-a-row: {at-least: 2, at-most: 3}", 1)]
#[case("weeks-in-a-row: {at-most: 0}", 2)]
// The round with a tied component stood to mend, which departs less than what halts.
#[case("further-than-before: {at-least: 1}", 1)]
#[case("further-than-before: {at-most: 0}", 1)]
#[case("further-than-before: {at-least: 100}", 0)]
fn tried_and_done_before(#[case] selector: &str, #[case] units: i64) {
    let case_lines = "tried: [{exercise: swaling, came: worse}, {exercise: halt-swaling, came: same}, {exercise: tied-then-free, came: better}]; did-last-week: [halt-swaling]; week-before: [{exercise: tied-then-free, role: mend, sets: 3, reps: 3, weeks: 2}, {exercise: tied-then-free, role: mend, sets: 3, reps: 3, weeks: 3}]";
    let rules = format!("\n  exclude: {{it: {{what: {{{selector}}}, yields: last}}}}");
    let week = "swaling prime, halt-swaling mend, tied-then-free mend | mooring plain |";
    assert_eq!(missed(&rules, case_lines, week), units);
}

/// What has one thing more is like what was tried, what has one less is not.
#[rstest]
#[case("halt-swaling", "tied-halt-swaling", 1)]
#[case("tied-halt-swaling", "halt-swaling", 0)]
#[case("tied-swaling", "halt-swaling", 0)]
#[case("tied-then-free", "tied-halt-swaling", 1)]
fn like_what_was_tried(#[case] tried: &str, #[case] exercise: &str, #[case] units: i64) {
    let rules = "\n  exclude: {it: {what: {like-tried: [worse]}, yields: last}}";
    let case_lines = format!("tried: [{{exercise: {tried}, came: worse}}]");
    assert_eq!(
        missed(rules, &case_lines, &format!("{exercise} mend | |")),
        units
    );
}
