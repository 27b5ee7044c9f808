//! Gates, what is allowed, `fullest`, and highest loads.

use rstest::rstest;

use super::small::{case, judge, missed, pack};
use crate::oracle::Oracle;

const STAND_IN: &str = "
  fullest: {stand: {of: swaling, or-of: [tarning], when-ruled-out-by: [ails]}}
  exclude: {no-free: {when: {case: {ails: {has: [sore]}}}, what: {exercises: [swaling]}, yields: never}}
  count: {it: {what: {full: [swaling]}, per: week, at-least: 3, yields: last}}";

#[rstest]
// Allowed: it stands for itself, and its variations do not.
#[case("", "swaling prime | |", &[], 2)]
#[case("", "halt-swaling prime | |", &["gate"], 3)]
// Ruled out: the one under it with the least departure stands in: halting 2, tether 3, both 5.
#[case("fields: {ails: [sore]}", "halt-swaling prime | |", &[], 2)]
#[case("fields: {ails: [sore]}", "swaling prime | |", &["allowed", "gate", "no-free"], 3)]
#[case("fields: {ails: [sore]}", "tied-swaling prime | |", &["gate"], 3)]
fn fullest(
    #[case] case_lines: &str,
    #[case] week: &str,
    #[case] hard: &[&str],
    #[case] units: i64,
) {
    let verdict = judge(STAND_IN, case_lines, week);
    assert_eq!(verdict.hard_broken, hard);
    assert_eq!(verdict.missed_by_rule.get("it"), Some(&units));
}

#[rstest]
fn fullest_under_another_root() {
    // All of the root are ruled out; the other root itself stands in, and may be placed as ever.
    let rules = STAND_IN.replace("{exercises: [swaling]}", "{skills: [swale]}");
    assert_eq!(
        missed(
            &rules,
            "fields: {ails: [sore]}",
            "tarning prime | tarning plain |"
        ),
        1
    );
}

#[rstest]
fn where_nothing_stands_in_a_least_asks_for_nothing() {
    let rules = STAND_IN.replace("{exercises: [swaling]}", "{skills: [swale, tarn]}");
    assert_eq!(missed(&rules, "fields: {ails: [sore]}", "| |"), 0);
    // Without a rule about what stands in, it asks as ever.
    let rules = rules.replace(
        "\n  fullest: {stand: {of: swaling, or-of: [tarning], when-ruled-out-by: [ails]}}",
        "",
    );
    assert_eq!(missed(&rules, "fields: {ails: [sore]}", "| |"), 3);
}

#[rstest]
// Highest: tether 80; halting 90; both 72; feather says nothing: 100. The complex: 80 less 5.
#[case("tied-swaling", 80)]
#[case("halt-swaling", 90)]
#[case("tied-halt-swaling", 72)]
#[case("light-tarning", 100)]
#[case("tied-then-free", 75)]
fn highest(#[case] exercise: &str, #[case] percent: i64) {
    assert_eq!(
        Oracle::new(&pack(""), &case("")).exercises[exercise].highest,
        percent
    );
}

#[rstest]
fn an_estimate_is_not_above_what_a_freer_one_states() {
    let stated = pack("").into_iter().map(|(name, text)| {
        let from = "      from: swaling\n      with:\n      - tether\n";
        assert!(name != "exercises.yaml" || text.contains(from), "{text}");
        let to = format!("{from}      highest: {{percent: 70, source: {{made-up: for a test}}}}\n");
        (name, text.replace(from, &to))
    });
    let oracle = Oracle::new(&stated.collect::<Vec<_>>(), &case(""));
    // Both constraints: 72 by the estimate, but tether alone has 70. The complex follows: 70 - 5.
    assert_eq!(oracle.exercises["tied-swaling"].highest, 70);
    assert_eq!(oracle.exercises["tied-halt-swaling"].highest, 70);
    assert_eq!(oracle.exercises["halt-swaling"].highest, 90);
    assert_eq!(oracle.exercises["tied-then-free"].highest, 65);
}

#[rstest]
// A yielding exclude, and a hard one of some days, leave it allowed; a hard one does not.
#[case("yields: last", true)]
#[case("yields: never, on: {marks: [feast]}", true)]
#[case("yields: never", false)]
// Where it stands is not asked of what is not placed.
#[case("yields: never, PLACED", true)]
fn allowed(#[case] rule: &str, #[case] there: bool) {
    let what = if rule.contains("PLACED") {
        "exercises: [swaling], roles: [plain]"
    } else {
        "exercises: [swaling]"
    };
    let rule = rule.replace(", PLACED", "");
    let rules = format!("\n  exclude: {{it: {{what: {{{what}}}, {rule}}}}}");
    assert_eq!(
        Oracle::new(&pack(&rules), &case(""))
            .allowed
            .contains("swaling"),
        there
    );
}

#[rstest]
// Halting: 4 on drift, -2 on lag. Tether: 6 and 0. The complex: 6 and 0. Light tarning: none, not in focus.
#[case("skill-in-focus: true", &["halt-swaling", "tied-halt-swaling", "tied-swaling", "tied-then-free"])]
#[case("skill-in-focus: true, worst-effect-on-focus: {at-least: -1}", &["tied-halt-swaling", "tied-swaling", "tied-then-free"])]
#[case("best-effect-on-focus: {at-least: 1, at-most: 6}", &["halt-swaling", "tied-swaling", "tied-then-free"])]
#[case("best-effect-on-focus: {at-most: 0}", &["light-tarning"])]
// Alone, and of judged form: none of those that may mend.
#[case("full-form: true", &[])]
fn gates(#[case] gate: &str, #[case] expected: &[&str]) {
    let gated = pack("").into_iter().map(|(name, text)| {
        if name != "roles.yaml" {
            return (name, text);
        }
        let from = "    stress-percent: 50\n";
        assert!(text.contains(from), "{text}");
        // Mend is the first of the two roles with that percent.
        (
            name,
            text.replacen(from, &format!("{from}    gate: {{{gate}}}\n"), 1),
        )
    });
    let case = case("faults: [{fault: astray, grade: plain-to-see}]");
    let oracle = Oracle::new(&gated.collect::<Vec<_>>(), &case);
    let may = |id: &&String| oracle.item(0, "main", "mend", id).is_ok();
    assert_eq!(
        oracle.exercises.keys().filter(may).collect::<Vec<_>>(),
        expected
    );
}
