//! Demand, `focus`, `carry-over`, and effects in half points.

use rstest::rstest;

use super::small::{case, judge, pack, pack_in};
use crate::oracle::Oracle;

const SEEN: &str = "faults: [{fault: astray, grade: plain-to-see}]";

fn pairs(rules: &str, case_lines: &str) -> Vec<String> {
    let oracle = Oracle::new(&pack(rules), &case(case_lines));
    let shown =
        |pair: &(String, String)| format!("{} {} {}", pair.0, pair.1, oracle.facts.demand[pair]);
    oracle.facts.focus.iter().map(shown).collect()
}

#[rstest]
// Severity 2: 60 × 2 and 40 × 2.
#[case("", SEEN, &["swale drift 120", "swale lag 80"])]
#[case("", "faults: [{fault: astray, grade: faint}, {fault: sinking, grade: faint}]", &["tarn weak 100", "swale drift 60", "swale lag 40"])]
// Ruled out by what was observed, and by the case.
#[case("", "faults: [{fault: astray, grade: faint}]; observed: [prompt]", &["swale drift 60"])]
#[case("", "faults: [{fault: astray, grade: faint}]; ruled-out: [drift]", &["swale lag 40"])]
#[case("one: {per-skill-at-most: 1}", SEEN, &["swale drift 120"])]
// The least of two counts.
#[case("one: {per-skill-at-most: 2}, two: {per-skill-at-most: 1}", SEEN, &["swale drift 120"])]
#[case("one: {per-skill-at-most: 2, demand-at-least: 80}", SEEN, &["swale drift 120", "swale lag 80"])]
#[case("one: {per-skill-at-most: 2, demand-at-least: 81}", SEEN, &["swale drift 120"])]
#[case("one: {per-skill-at-most: 2, in-all-at-most: 1}", "faults: [{fault: astray, grade: faint}, {fault: sinking, grade: faint}]", &["tarn weak 100"])]
// The coach's word: 100 for each of the severity of the stated fault, whatever else was seen.
#[case("", "faults: [{fault: astray, grade: plain-to-see}]; sure-of: [{cause: lag}]", &["swale lag 200", "swale drift 120"])]
#[case("", "faults: [{fault: astray, grade: faint}]; observed: [prompt]; sure-of: [{cause: lag}]", &["swale lag 100", "swale drift 60"])]
// No fault is stated: the mildest grade that there is.
#[case("", "sure-of: [{cause: drift}]", &["swale drift 100"])]
#[case("", "sure-of: [{cause: weak, skill: tarn}]", &["tarn weak 100"])]
// It comes first, though more speaks for another, and whatever is the least that is worked on.
#[case("one: {per-skill-at-most: 2, in-all-at-most: 1}", "faults: [{fault: astray, grade: plain-to-see}]; sure-of: [{cause: weak}]", &["tarn weak 100"])]
#[case("one: {per-skill-at-most: 2, demand-at-least: 150}", "faults: [{fault: astray, grade: faint}]; sure-of: [{cause: lag}]", &["swale lag 100"])]
fn focus(#[case] rules: &str, #[case] case_lines: &str, #[case] expected: &[&str]) {
    let rules = if rules.is_empty() {
        String::new()
    } else {
        format!("\n  focus: {{{rules}}}")
    };
    assert_eq!(pairs(&rules, case_lines), expected);
}

#[rstest]
// Of opposites the one with more demand, and the one of which the coach is sure.
#[case("", "swale drift 120")]
#[case("; sure-of: [{cause: lag}]", "swale lag 200")]
fn opposites(#[case] more: &str, #[case] expected: &str) {
    let changes = [(
        "drift: {stages: [noon], ",
        "drift: {stages: [noon], opposes: [lag], ",
    )];
    let files = pack_in(&changes, "\n  focus: {one: {per-skill-at-most: 2}}");
    let oracle = Oracle::new(&files, &case(&format!("{SEEN}{more}")));
    let shown =
        |pair: &(String, String)| format!("{} {} {}", pair.0, pair.1, oracle.facts.demand[pair]);
    let focus: Vec<String> = oracle.facts.focus.iter().map(shown).collect();
    assert_eq!(focus, [expected]);
}

fn effect(rules: &str, case_lines: &str, exercise: &str, role: &str) -> Vec<i64> {
    let part = if exercise == "mooring" { "end" } else { "main" };
    Oracle::new(&pack(rules), &case(case_lines))
        .item(1, part, role, exercise)
        .unwrap()
        .effects
}

#[rstest]
// On drift (noon) and lag (dawn, dusk). Halting: +2 and -1, doubled.
#[case("halt-swaling", "mend", &[4, -2])]
// In a role of half help, help is halved and harm is not.
#[case("halt-swaling", "plain", &[2, -2])]
// Tether +3 doubled; it cuts dusk, and does nothing to lag.
#[case("tied-swaling", "mend", &[6, 0])]
// 3 × 2 + 2 × 1, halved to 4; the harm of 2 on lag is halved as one of its two stages is cut.
#[case("tied-halt-swaling", "mend", &[8, -1])]
#[case("tied-halt-swaling", "plain", &[4, -1])]
// The complex: its best component 6; the free one has none.
#[case("tied-then-free", "mend", &[6, 0])]
// Another skill, and nothing is carried over.
#[case("light-tarning", "mend", &[0, 0])]
fn effects(#[case] exercise: &str, #[case] role: &str, #[case] expected: &[i64]) {
    assert_eq!(effect("", SEEN, exercise, role), expected);
}

#[rstest]
// Feather: +1 on drift, doubled 2; noon is there. Half of it is 1; of 49 percent nothing is left.
#[case("one: {from: tarn, to: swale, causes: [drift], percent: 50}", &[1, 0])]
#[case("one: {from: tarn, to: swale, causes: [drift], percent: 49}", &[0, 0])]
// The largest of two counts.
#[case("one: {from: tarn, to: swale, causes: [drift], percent: 10}, two: {from: tarn, to: swale, causes: [drift], percent: 100}", &[2, 0])]
// On lag +1, but tarning has neither dawn nor dusk. The wrong way, nothing.
#[case("one: {from: tarn, to: swale, causes: [lag], percent: 100}", &[0, 0])]
#[case("one: {from: swale, to: tarn, causes: [drift], percent: 100}", &[0, 0])]
fn carry_over(#[case] rules: &str, #[case] expected: &[i64]) {
    assert_eq!(
        effect(
            &format!("\n  carry-over: {{{rules}}}"),
            SEEN,
            "light-tarning",
            "mend"
        ),
        expected
    );
}

#[rstest]
// Force, doubled, six at most, whatever the skill: tarning 3, swaling 2, light tarning 2, mooring 1.
#[case("tarning", "plain", &[3])]
#[case("light-tarning", "mend", &[4])]
#[case("halt-swaling", "mend", &[4])]
#[case("mooring", "plain", &[1])]
// A side role counts half of 1 point: none.
#[case("mooring", "side", &[0])]
fn capacity(#[case] exercise: &str, #[case] role: &str, #[case] expected: &[i64]) {
    assert_eq!(
        effect(
            "",
            "faults: [{fault: sinking, grade: faint}]",
            exercise,
            role
        ),
        expected
    );
}

#[rstest]
// Worst on lag: -2 for halting, -1 for both, 0 for tether. Best on drift: 4, 8, 6.
#[case("worst-effect-on-focus: {at-most: -2}", &["halt-swaling"])]
#[case("best-effect-on-focus: {at-least: 7}", &["tied-halt-swaling"])]
#[case("helps: [drift]", &["halt-swaling", "tied-halt-swaling", "tied-swaling"])]
// Both pairs are in focus and no constraint takes noon, or both dawn and dusk, away; a capacity shows nowhere.
#[case("shows: [drift]", &["halt-swaling", "swaling", "tied-halt-swaling", "tied-swaling"])]
#[case("shows: [lag], with-any: [tether]", &["tied-halt-swaling", "tied-swaling"])]
#[case("shows: [weak]", &[])]
fn selected_by_effect(#[case] selector: &str, #[case] expected: &[&str]) {
    let rules = format!("\n  exclude: {{it: {{what: {{{selector}}}, yields: last}}}}");
    let meant = [
        "halt-swaling",
        "swaling",
        "tied-halt-swaling",
        "tied-swaling",
    ]
    .into_iter()
    .filter(|exercise| judge(&rules, SEEN, &format!("{exercise} plain | |")).missed[0] == 1);
    assert_eq!(meant.collect::<Vec<_>>(), expected);
}

#[rstest]
// With no pair in focus no range holds.
fn no_focus_no_range() {
    let rules = "\n  exclude: {it: {what: {best-effect-on-focus: {at-most: 9}}, yields: last}}";
    assert_eq!(judge(rules, "", "swaling plain | |").missed[0], 0);
    assert_eq!(judge(rules, SEEN, "swaling plain | |").missed[0], 1);
    // And no cause can show.
    let rules = "\n  exclude: {it: {what: {shows: [drift]}, yields: last}}";
    assert_eq!(judge(rules, "", "swaling plain | |").missed[0], 0);
    assert_eq!(judge(rules, SEEN, "swaling plain | |").missed[0], 1);
}
