//! Kinds that hold a sum against a bound.

use rstest::rstest;

use super::pack::{Days, bench, bench_with, rule, said, week, yielding};

const ONE: &str = "early main one 3x2 70-80 100";
const HIGH: &str = "early drill one-high 4x1 60-65 100";
const TWO: &str = "early main two 3x1 70-80 100";
const TWO_LIGHT: &str = "early main two 3x1 60-65 100";
const CHAIN: &str = "early main chain 2x3 70-80 100";
const AID: &str = "late main aid 3x5 - 100";

fn misses(kind: &str, body: &str, days: &Days) -> String {
    let verdict = bench(&[&yielding(kind, body)]).verdict(days);
    assert!(verdict.broken.is_empty());
    said(&verdict.misses)
}

#[rstest]
#[case::session_least("what: {skills: [one]}, per: session, at-least: 1", week(&[ONE], &[TWO], &[]), "1:1/1 2:1/1")]
#[case::session_most("what: {skills: [one]}, per: session, at-most: 1", week(&[ONE, HIGH, CHAIN], &[ONE], &[]), "0:2/2")]
#[case::session_on("what: {skills: [one]}, per: session, at-least: 1, on: {efforts: [easy]}", week(&[], &[TWO], &[]), "1:1/1")]
#[case::week("what: {skills: [one]}, per: week, at-least: 4", week(&[ONE], &[ONE, TWO], &[]), "w:2/2")]
#[case::week_on("what: {skills: [one]}, per: week, at-least: 2, on: {efforts: [hard]}", week(&[ONE], &[ONE, HIGH], &[]), "w:1/1")]
#[case::sets("what: {skills: [one]}, per: week, counted-in: sets, at-most: 8", week(&[ONE, HIGH], &[CHAIN], &[]), "w:1/1")]
// 3 x 2 + 4 x 1 + 2 x 3 = 16.
#[case::reps("what: {skills: [one]}, per: week, counted-in: reps, at-least: 20", week(&[ONE, HIGH], &[CHAIN], &[]), "w:4/4")]
#[case::a_started_unit("what: {skills: [one]}, per: week, counted-in: reps, at-least: 20, unit: 3", week(&[ONE, HIGH], &[CHAIN], &[]), "w:2/4")]
#[case::days("what: {skills: [one]}, per: week, counted-in: days, at-least: 3", week(&[ONE, HIGH], &[CHAIN], &[]), "w:1/1")]
#[case::days_of_a_session("what: {skills: [one]}, per: session, counted-in: days, at-least: 1, on: {marks: [top]}", week(&[ONE, HIGH], &[], &[]), "")]
// 5 x 66 x 50 / 10000 = 1.65, rounded down once.
#[case::scaled("what: {skills: [one]}, per: week, at-least: 5, scaled-by: [two-thirds, by-level]", week(&[], &[], &[]), "w:1/1")]
// 5 x 66 / 100 = 3.3.
#[case::scaled_most("what: {skills: [one]}, per: week, at-most: 5, scaled-by: [two-thirds]", week(&[ONE, HIGH], &[ONE, HIGH], &[]), "w:1/1")]
fn count(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("count", body, &days), expected);
}

// Nothing under `one` may be done by who is sore, so nothing stands in.
#[rstest]
#[case::there("{full: [one]}", "[]", "w:2/2")]
#[case::gone("{full: [one]}", "[sore]", "")]
#[case::one_of_two_gone("{full: [one, two]}", "[sore]", "w:2/2")]
#[case::not_at_the_top("{any: [{full: [one]}]}", "[sore]", "w:2/2")]
#[case::another_selector("{exercises: [one]}", "[sore]", "w:2/2")]
fn fullest(#[case] what: &str, #[case] limits: &str, #[case] expected: &str) {
    let fullest = rule(
        "fullest",
        "of: one, when-ruled-out-by: [limits], say: {en: said}",
    );
    let count = yielding("count", &format!("what: {what}, per: week, at-least: 2"));
    let case = format!("  fields: {{limits: {limits}}}\n");
    let verdict = bench_with(&[&fullest, &count], None, &case).verdict(&[&[], &[], &[]]);
    assert_eq!(said(&verdict.misses), expected);
}

// `power`: one 3, two 2; a drill counts half, rounded down. `hold`: two 1, from 70 percent on.
#[rstest]
#[case::kept("quality: power, points-at-least: 8", week(&[ONE, TWO], &[ONE], &[]), "")]
// 3 + 3 x 50 / 100 = 4.
#[case::by_role("quality: power, points-at-least: 8", week(&[ONE, HIGH], &[], &[]), "w:4/4")]
#[case::a_started_unit("quality: power, points-at-least: 8, unit: 3", week(&[ONE, HIGH], &[], &[]), "w:2/4")]
#[case::counts_when("quality: hold, points-at-least: 2", week(&[TWO], &[TWO_LIGHT], &[]), "w:1/1")]
// A chain has the most of any component: 1 point.
#[case::of_a_complex("quality: hold, points-at-least: 2", week(&[TWO], &[CHAIN], &[]), "")]
// 10 x 66 / 100 = 6.6.
#[case::scaled("quality: power, points-at-least: 10, scaled-by: [two-thirds]", week(&[ONE], &[], &[]), "w:3/3")]
fn floor(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("floor", body, &days), expected);
}

// `back`: one 2, two 3, aid 1, chain 3; a drill counts half: one-high 1.
#[rstest]
#[case::session("of: back, per: session, at-most: 4", week(&[ONE, TWO, AID], &[ONE, HIGH], &[]), "0:2/2")]
#[case::session_on("of: back, per: session, at-most: 1, on: {efforts: [easy]}", week(&[ONE, TWO, AID], &[ONE, HIGH], &[]), "1:2/2")]
#[case::week("of: back, per: week, at-most: 4, unit: 3", week(&[ONE, TWO], &[HIGH], &[CHAIN]), "w:2/5")]
#[case::week_on("of: back, per: week, at-most: 4, on: {efforts: [hard]}", week(&[ONE, TWO], &[TWO, TWO], &[]), "w:1/1")]
fn stress(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("stress", body, &days), expected);
}

#[rstest]
// 100 x 1 against 30 x 3: 10 hundredths too much, a started item.
#[case::most("of: {skills: [two]}, to: {everything: true}, percent-at-most: 30", week(&[ONE, TWO, AID], &[], &[]), "w:1/10")]
#[case::most_kept("of: {skills: [two]}, to: {everything: true}, percent-at-most: 34", week(&[ONE, TWO, AID], &[], &[]), "")]
// 100 x 3 against 90 x 6 in sets of the week.
#[case::least("of: {skills: [two]}, to: {skills: [one, two]}, counted-in: sets, percent-at-least: 90", week(&[ONE], &[TWO], &[]), "w:3/240")]
#[case::units_of_two("of: {skills: [two]}, to: {skills: [one, two]}, counted-in: sets, percent-at-least: 90, unit: 2", week(&[ONE], &[TWO], &[]), "w:2/240")]
#[case::of_nothing("of: {skills: [two]}, to: {skills: [one]}, percent-at-least: 90", week(&[], &[], &[]), "")]
#[case::days("of: {skills: [two]}, to: {skills: [one]}, counted-in: days, percent-at-least: 100", week(&[ONE, TWO], &[ONE, HIGH], &[]), "w:1/100")]
fn proportion(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("proportion", body, &days), expected);
}
