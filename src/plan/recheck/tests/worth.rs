//! Worth, the tie, levels, and numbers that grow too large.

use rstest::rstest;

use crate::plan::recheck::Wrong;

use super::pack::{Days, bench, bench_with, rule, said, week, yielding};

const ONE: &str = "early main one 3x1 70-80 100";
const HIGH: &str = "early drill one-high 4x1 60-65 100";
const HIGH_MAIN: &str = "early main one-high 4x1 60-65 100";
const HALT: &str = "early drill one-halt 3x1 70-80 100";
const TWO: &str = "early main two 3x1 70-80 100";
const CHAIN: &str = "early main chain 2x3 70-80 100";

#[rstest]
#[case::item("what: {skills: [one]}, weight: -2", week(&[ONE, HIGH, TWO], &[], &[ONE]), -600)]
#[case::set("what: {skills: [one]}, weight: 2, each: set", week(&[ONE, HIGH, TWO], &[], &[]), 1400)]
// one-high departs by 2; the chain by (5 + 2 + 0) / 3, rounded down.
#[case::departure("what: {everything: true}, weight: -1, each: departure", week(&[ONE, HIGH], &[CHAIN], &[]), -400)]
#[case::on("what: {everything: true}, weight: 1, on: {efforts: [easy]}", week(&[ONE, HIGH], &[CHAIN], &[]), 100)]
fn prefer(#[case] body: &str, #[case] days: Days, #[case] expected: i64) {
    assert_eq!(
        bench(&[&rule("prefer", body)]).verdict(&days).worth,
        expected
    );
}

// Items followed in their own complex or session, not later in the week.
#[rstest]
#[case::in_session(&[HALT, ONE], &[], 300)]
#[case::in_complex(&[CHAIN], &[], 300)]
#[case::later_in_the_week(&[HALT], &[ONE], 0)]
#[case::each_item(&[HALT, CHAIN, ONE], &[], 600)]
fn closer_by(#[case] first: &[&str], #[case] second: &[&str], #[case] expected: i64) {
    let body = "what: {strong: {at-least: 1}}, by: {everything: true}, within: week, closer-by: 3";
    assert_eq!(
        bench(&[&yielding("followed", body)])
            .verdict(&[first, second, &[]])
            .worth,
        expected
    );
}

// `power`: one 3, two 2, one-high as a drill 1. Table: 3 each to 2, 1 each to 5; below zero 4.
#[rstest]
#[case::nothing("qualities: [power], table: points", &[], 0)]
#[case::both_steps("qualities: [power], table: points", &[ONE], 700)]
#[case::beyond_the_last("qualities: [power], table: points", &[ONE, TWO, CHAIN], 900)]
#[case::two_qualities("qualities: [power, hold], table: points", &[TWO], 900)]
// The larger floor is 4: 3 - 4 is one below.
#[case::below_the_floor("qualities: [power], table: points, above-floor: true", &[ONE], -400)]
#[case::above_the_floor("qualities: [power], table: points, above-floor: true", &[ONE, TWO], 300)]
fn quality_worth(#[case] body: &str, #[case] items: &[&str], #[case] expected: i64) {
    let floors = "floor: {a: {quality: power, points-at-least: 2, yields: first, because: b, source: {own: x}}, b: {quality: power, points-at-least: 4, yields: first, because: b, source: {own: x}}}";
    let verdict = bench(&[floors, &rule("quality-worth", body)]).verdict(&[items, &[], &[]]);
    assert_eq!(verdict.worth, expected);
}

const SEEN: &str = "  faults: [{fault: seen, skill: one, grade: mild}]\n";

// Demand: slack 70 x 2, weak 30 x 2. Table: 6 each to 4, 5 each to 8; below zero 7.
// slack: one-high 4 half points, as main 2; one-halt -2. weak: two 2 half points, as main 1.
#[rstest]
#[case::nothing(&[], 0)]
#[case::whole_help(&[HIGH], 140 * 24)]
#[case::half_help(&[HIGH_MAIN], 140 * 12)]
#[case::harm(&[HALT], 140 * -14)]
#[case::harm_against_help(&[HIGH, HALT], 140 * 12)]
#[case::second_step(&[HIGH, HIGH_MAIN], 140 * 34)]
#[case::beyond_the_last(&[HIGH, HIGH, HIGH], 140 * 44)]
#[case::capacity(&[TWO], 60 * 6)]
// The chain helps slack by 4 / 2, and gives one point to `hold`: 2 / 2.
#[case::both(&[CHAIN], 140 * 12 + 60 * 6)]
fn help_worth(#[case] items: &[&str], #[case] expected: i64) {
    let verdict =
        bench_with(&[&rule("help-worth", "table: help")], None, SEEN).verdict(&[items, &[], &[]]);
    assert_eq!(verdict.worth, expected);
}

#[rstest]
#[case::none("", 0)]
#[case::two(
    "help-worth: {a: {table: help, because: b, source: {own: x}}, b: {when: {case: {level: {is: [low]}}}, table: help, because: b, source: {own: x}}}",
    2
)]
fn help_must_have_one_worth(#[case] rules: &str, #[case] expected: usize) {
    let rules: Vec<&str> = Some(rules)
        .filter(|rules| !rules.is_empty())
        .into_iter()
        .collect();
    let verdict = bench_with(&rules, None, SEEN).verdict(&[&[], &[], &[]]);
    assert!(matches!(verdict.illegal[0].why, Wrong::HelpWorth { speak } if speak == expected));
    assert!(!verdict.stands());
}

// Ids: aid 1, chain 2, one 3, one-halt 4, one-high 5, one-high-halt 6, two 7, two-slow 8.
#[test]
fn tie_is_place_of_exercise_times_place_of_day() {
    let verdict = bench(&[]).verdict(&[&[ONE, HIGH], &[TWO], &[CHAIN]]);
    assert_eq!(verdict.tie, 3 + 5 + 7 * 2 + 2 * 3);
}

#[test]
fn levels_are_kept_apart() {
    let count = |id: &str, least: i64, yields: &str| {
        format!(
            "{id}: {{what: {{everything: true}}, per: week, at-least: {least}, yields: {yields}, because: b, source: {{own: x}}}}"
        )
    };
    let all = [
        count("a", 1, "last"),
        count("b", 2, "middle"),
        count("c", 3, "first"),
        count("d", 4, "never"),
    ]
    .join(", ");
    let verdict = bench(&[&format!("count: {{{all}}}")]).verdict(&[&[], &[], &[]]);
    assert_eq!(verdict.missed, [1, 2, 3]);
    assert_eq!(said(&verdict.misses), "w:1/1 w:2/2 w:3/3");
    assert_eq!(said(&verdict.broken), "w:4/4");
    assert!(!verdict.stands());
}

#[test]
fn a_rule_that_does_not_speak_is_not_held() {
    let silent = yielding(
        "count",
        "when: {case: {level: {is: [high]}}}, what: {everything: true}, per: week, at-least: 9",
    );
    assert_eq!(
        said(&bench(&[&silent]).verdict(&[&[], &[], &[]]).misses),
        ""
    );
    let verdict =
        bench_with(&[&silent], None, "  fields: {level: high}\n").verdict(&[&[], &[], &[]]);
    assert_eq!(said(&verdict.misses), "w:9/9");
}

#[rstest]
#[case::weight("prefer", "what: {everything: true}, weight: 10000, each: set", &["early main one 9000000000000000x1 70-80 1"])]
#[case::share("proportion", "of: {everything: true}, to: {everything: true}, counted-in: sets, percent-at-most: 50, yields: first", &["early main one 900000000000000000x1 70-80 1"])]
#[case::reps("count", "what: {everything: true}, per: week, counted-in: reps, at-most: 1, yields: first", &["early main one 9000000000x9000000000 70-80 1"])]
#[case::seconds("minutes", "at-most: {whole: 60}, yields: first", &["early main one 1x1 70-80 9223372036854775807"])]
fn what_is_too_large_is_never_silent(
    #[case] kind: &str,
    #[case] body: &str,
    #[case] items: &[&str],
) {
    let verdict = bench(&[&rule(kind, body)]).verdict(&[items, &[], &[]]);
    let too_large = |why: &Wrong| matches!(why, Wrong::TooLarge { kind: of, .. } if *of == kind);
    assert!(
        verdict
            .illegal
            .iter()
            .any(|illegal| too_large(&illegal.why)),
        "{:?}",
        verdict.illegal
    );
}

#[test]
fn a_sum_over_rules_that_is_too_large_is_never_silent() {
    let each = |id: &str| {
        format!(
            "{id}: {{what: {{everything: true}}, weight: 10000, each: set, because: b, source: {{own: x}}}}"
        )
    };
    // Each comes to 9 x 10^18 hundredths, which can be counted; both together can't.
    let item = "early main one 9000000000000x1 70-80 1";
    let verdict = bench(&[&format!("prefer: {{{}, {}}}", each("a"), each("b"))]).verdict(&[
        &[item],
        &[],
        &[],
    ]);
    assert!(
        verdict
            .illegal
            .iter()
            .any(|illegal| matches!(illegal.why, Wrong::SumTooLarge))
    );
}
