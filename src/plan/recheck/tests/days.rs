//! Kinds that decide about two days or about one thing over the days.
//!
//! Days 1, 2 and 5 of the week: 0 free days between the first two (5 the other way
//! round), 2 between the second and the third (3), 3 between the first and the third (2).

use rstest::rstest;

use super::pack::{Days, bench, said, week, yielding};

const ONE: &str = "early main one 3x1 70-80 100";
const HIGH: &str = "early drill one-high 3x1 70-80 100";
const HALT: &str = "early drill one-halt 3x1 70-80 100";
const HIGH_HALT: &str = "early drill one-high-halt 3x1 70-80 100";
const TWO: &str = "early main two 3x1 70-80 100";
const SLOW: &str = "early drill two-slow 3x1 70-80 100";
const CHAIN: &str = "early main chain 3x3 70-80 100";

fn misses(kind: &str, body: &str, days: &Days) -> String {
    let verdict = bench(&[&yielding(kind, body)]).verdict(days);
    assert!(verdict.broken.is_empty());
    said(&verdict.misses)
}

#[rstest]
#[case::next_day("what: {skills: [one]}, from: {skills: [two]}, free-days: 1", week(&[ONE], &[TWO], &[]), "0:1/1")]
#[case::other_way("what: {skills: [one]}, from: {skills: [two]}, free-days: 1", week(&[TWO], &[ONE], &[]), "0:1/1")]
#[case::once_for_two_days("what: {skills: [one]}, from: {skills: [two]}, free-days: 1", week(&[ONE, TWO], &[TWO, ONE, HIGH], &[]), "0:1/1")]
#[case::same_day_is_no_two_days("what: {skills: [one]}, from: {skills: [two]}, free-days: 1", week(&[ONE, TWO], &[], &[]), "")]
#[case::far_enough("what: {skills: [one]}, from: {skills: [two]}, free-days: 2", week(&[ONE], &[], &[TWO]), "")]
#[case::near_over_the_end("what: {skills: [one]}, from: {skills: [two]}, free-days: 3", week(&[ONE], &[], &[TWO]), "0:1/1")]
#[case::does_not_wrap("what: {skills: [one]}, from: {skills: [two]}, free-days: 3, wraps: false", week(&[ONE], &[], &[TWO]), "")]
#[case::each_two_days("what: {skills: [one]}, from: {skills: [one]}, free-days: 3", week(&[ONE], &[HIGH], &[HALT]), "0:1/1 0:1/1 1:1/1")]
#[case::after("what: {skills: [one]}, from: {skills: [two]}, free-days: 1, way: after", week(&[ONE], &[TWO], &[]), "0:1/1")]
#[case::not_before("what: {skills: [one]}, from: {skills: [two]}, free-days: 1, way: after", week(&[TWO], &[ONE], &[]), "")]
// From day 5 to day 1 of the next week there are two free days; from day 1 to day 5 three.
#[case::after_over_the_end("what: {skills: [one]}, from: {skills: [two]}, free-days: 3, way: after", week(&[TWO], &[], &[ONE]), "0:1/1")]
#[case::after_within("what: {skills: [one]}, from: {skills: [two]}, free-days: 3, way: after", week(&[ONE], &[], &[TWO]), "")]
#[case::after_does_not_wrap("what: {skills: [one]}, from: {skills: [two]}, free-days: 3, way: after, wraps: false", week(&[TWO], &[], &[ONE]), "")]
#[case::same_skill("what: {roles: [drill]}, from: {roles: [main]}, free-days: 1, same-skill: true", week(&[HIGH], &[TWO], &[]), "")]
#[case::same_skill_of_a_complex("what: {roles: [drill]}, from: {roles: [main]}, free-days: 1, same-skill: true", week(&[SLOW], &[CHAIN], &[]), "0:1/1")]
#[case::same_exercise("what: {everything: true}, from: {everything: true}, free-days: 1, same-exercise: true", week(&[ONE, HIGH], &[TWO, HIGH], &[]), "0:1/1")]
#[case::no_same_exercise("what: {everything: true}, from: {everything: true}, free-days: 1, same-exercise: true", week(&[ONE], &[TWO, HIGH], &[]), "")]
fn apart(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("apart", body, &days), expected);
}

#[rstest]
#[case::kept("what: {everything: true}, shared-at-most: 1", week(&[ONE, TWO], &[ONE, HIGH], &[TWO]), "")]
#[case::each_pair("what: {everything: true}, shared-at-most: 1", week(&[ONE, TWO, HIGH], &[ONE, HIGH], &[TWO, HIGH, ONE]), "0:1/1 0:2/2 1:1/1")]
#[case::what_only("what: {roles: [drill]}, shared-at-most: 0", week(&[ONE, HIGH], &[ONE, HIGH], &[]), "0:1/1")]
fn differ(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("differ", body, &days), expected);
}

#[rstest]
#[case::unused("what: {exercises: [aid]}, at-least-if-used: 2", week(&[ONE], &[], &[]), "")]
#[case::too_few("what: {roles: [drill]}, at-least-if-used: 3", week(&[HIGH, HALT], &[HIGH, ONE], &[]), "w:2/2 w:1/1")]
#[case::too_many("what: {everything: true}, at-most: 1", week(&[ONE, TWO], &[ONE], &[ONE]), "w:2/2")]
#[case::kept("what: {everything: true}, at-least-if-used: 2, at-most: 2", week(&[ONE], &[ONE], &[]), "")]
fn repeat(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("repeat", body, &days), expected);
}

const STRONG: &str = "what: {strong: {at-least: 1}}, by: {everything: true}";

#[rstest]
#[case::by_the_full_form("within: session", week(&[HALT, ONE], &[], &[]), "")]
#[case::not_by_what_stands_before("within: session", week(&[ONE, HALT], &[], &[]), "0:1/1")]
#[case::not_within_the_session("within: session", week(&[HALT], &[ONE], &[]), "0:1/1")]
#[case::within_the_week("within: week", week(&[HALT], &[], &[ONE]), "")]
#[case::not_earlier_in_the_week("within: week", week(&[ONE], &[], &[HALT]), "2:1/1")]
#[case::not_by_another_skill("within: session", week(&[HALT, TWO], &[], &[]), "0:1/1")]
// one-halt departs by `halt` alone, one-high by `high` alone: neither is freer.
#[case::not_by_what_departs_otherwise("within: session", week(&[HALT, HIGH], &[], &[]), "0:1/1")]
#[case::by_what_departs_less("within: session", week(&[HIGH_HALT, HIGH], &[], &[]), "")]
// one-halt departs less than one-high-halt, but by something strong; and nothing follows it either.
#[case::not_by_something_strong("within: session", week(&[HIGH_HALT, HALT], &[], &[]), "0:2/2")]
// A chain leads back by itself: its second component is freer than its first.
#[case::within_a_complex("within: session", week(&[CHAIN], &[], &[]), "")]
// The chain's second component, one-high, is freer than one-high-halt; nothing in it is freer than one-halt but `two`, of another skill.
#[case::by_a_component("within: session", week(&[HIGH_HALT, CHAIN], &[], &[]), "")]
#[case::by_no_component("within: session", week(&[HALT, CHAIN], &[], &[]), "0:1/1")]
#[case::not_freer_but_later("within: session, freer: false", week(&[HALT, HIGH], &[], &[]), "")]
#[case::not_freer_but_of_the_skill("within: session, freer: false", week(&[HALT, TWO], &[], &[]), "0:1/1")]
fn followed(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(
        misses("followed", &format!("{STRONG}, {body}"), &days),
        expected
    );
}

#[rstest]
#[case::by_holds(&[HALT, ONE], "")]
#[case::by_does_not(&[HALT, "early drill one 3x1 70-80 100"], "0:1/1")]
fn followed_by(#[case] items: &'static [&'static str], #[case] expected: &str) {
    let body = "what: {exercises: [one-halt]}, by: {roles: [main]}, within: session";
    assert_eq!(misses("followed", body, &[items, &[], &[]]), expected);
}
