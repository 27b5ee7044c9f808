//! Kinds that decide about the order of a session. All items stand on the first day.

use rstest::rstest;

use super::pack::{bench, said, yielding};

const ONE: &str = "early main one 3x1 70-80 100";
const HIGH: &str = "early drill one-high 3x1 70-80 100";
const TWO: &str = "early main two 3x1 70-80 100";
const CHAIN: &str = "early main chain 3x3 70-80 100";
const LATE_AID: &str = "late main aid 3x5 - 100";
const LATE_TWO: &str = "late main two 3x1 70-80 100";

fn misses(kind: &str, body: &str, items: &[&str]) -> String {
    let verdict = bench(&[&yielding(kind, body)]).verdict(&[items, &[], &[]]);
    assert!(verdict.broken.is_empty());
    let said = said(&verdict.misses);
    assert_eq!(verdict.missed[2] > 0, !said.is_empty());
    said
}

#[rstest]
#[case::kept("first: {roles: [drill]}, then: {roles: [main]}", &[HIGH, ONE, TWO], "")]
#[case::two_pairs("first: {roles: [drill]}, then: {roles: [main]}", &[ONE, TWO, HIGH], "0:2/2")]
#[case::one_shares_a_skill("first: {roles: [drill]}, then: {roles: [main]}, same-skill: true", &[ONE, TWO, HIGH], "0:1/1")]
// The chain has a component of the second skill too.
#[case::a_complex_shares_by_any_component("first: {exercises: [two]}, then: {exercises: [chain]}, same-skill: true", &[CHAIN, TWO], "0:1/1")]
// Both train the second skill.
#[case::free_both_ways("first: {skills: [two]}, then: {under: [two]}", &[TWO, CHAIN], "")]
// The chain trains both skills, so two of them fit both ways; `two` first, it fits one way only.
#[case::free_only_where_both_fit("first: {skills: [one]}, then: {skills: [two]}", &[CHAIN, CHAIN, TWO], "")]
#[case::not_free_where_one_fits("first: {skills: [one]}, then: {skills: [two]}", &[TWO, CHAIN, ONE], "0:3/3")]
#[case::across_parts("first: {exercises: [aid]}, then: {exercises: [one]}", &[ONE, LATE_AID], "0:1/1")]
fn before(#[case] body: &str, #[case] items: &[&str], #[case] expected: &str) {
    assert_eq!(misses("before", body, items), expected);
}

#[rstest]
#[case::first("what: {exercises: [one]}, where: first, of: session", &[ONE, TWO], "")]
#[case::not_first("what: {exercises: [one]}, where: first, of: session", &[TWO, ONE], "0:1/1")]
#[case::two_of_it_displaced("what: {skills: [one]}, where: first, of: session", &[TWO, ONE, HIGH], "0:2/2")]
#[case::its_own_kind_is_no_other("what: {skills: [one]}, where: first, of: session", &[HIGH, ONE, TWO], "")]
#[case::last("what: {exercises: [two]}, where: last, of: session", &[TWO, LATE_AID], "0:1/1")]
#[case::last_of_its_part("what: {exercises: [two]}, where: last, of: part", &[ONE, TWO, LATE_AID], "")]
#[case::not_last_of_its_part("what: {exercises: [two]}, where: last, of: part", &[TWO, ONE, LATE_AID], "0:1/1")]
#[case::first_of_the_later_part("what: {exercises: [aid]}, where: first, of: part", &[ONE, LATE_TWO, LATE_AID], "0:1/1")]
fn position(#[case] body: &str, #[case] items: &[&str], #[case] expected: &str) {
    assert_eq!(misses("position", body, items), expected);
}

#[rstest]
#[case::before("what: {roles: [drill]}, directly: before, which: {roles: [main]}", &[HIGH, ONE], "")]
#[case::something_between("what: {roles: [drill]}, directly: before, which: {exercises: [one]}", &[HIGH, TWO, ONE], "0:1/1")]
#[case::nothing_next("what: {roles: [drill]}, directly: before, which: {everything: true}", &[ONE, HIGH], "0:1/1")]
#[case::after("what: {exercises: [aid]}, directly: after, which: {exercises: [one]}", &[ONE, LATE_AID], "")]
#[case::nothing_previous("what: {exercises: [one]}, directly: after, which: {everything: true}", &[ONE, LATE_AID], "0:1/1")]
#[case::another_skill("what: {roles: [drill]}, directly: before, which: {roles: [main]}, same-skill: true", &[HIGH, TWO], "0:1/1")]
#[case::two_of_it("what: {skills: [one]}, directly: before, which: {exercises: [aid]}", &[HIGH, ONE, TWO, LATE_AID], "0:2/2")]
fn adjacent(#[case] body: &str, #[case] items: &[&str], #[case] expected: &str) {
    assert_eq!(misses("adjacent", body, items), expected);
}
