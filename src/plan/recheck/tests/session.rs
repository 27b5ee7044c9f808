//! Kinds that decide about a session, whatever its order.

use rstest::rstest;

use super::pack::{Days, bench, bench_with, said, week, yielding};

const ONE: &str = "early main one 3x1 70-80 100";
const HIGH: &str = "early drill one-high 3x1 70-80 100";
const HALT: &str = "early drill one-halt 3x1 70-80 100";
const TWO: &str = "early main two 3x1 70-80 100";
const CHAIN: &str = "early main chain 3x3 70-80 100";
const AID: &str = "late main aid 3x5 - 100";

fn misses(kind: &str, body: &str, days: &Days) -> String {
    let verdict = bench(&[&yielding(kind, body)]).verdict(days);
    assert!(verdict.broken.is_empty());
    assert_eq!(
        verdict.missed[2],
        verdict.misses.iter().map(|miss| miss.units).sum::<i64>()
    );
    assert!(
        verdict
            .misses
            .iter()
            .all(|miss| miss.kind == kind && !miss.place.is_unknown())
    );
    said(&verdict.misses)
}

#[rstest]
#[case::kept("what: {everything: true}, same: skill, at-most: 2", week(&[ONE, HIGH, TWO], &[], &[]), "")]
// Skill one: one, one-high, chain; skill two: two, chain.
#[case::by_skill("what: {everything: true}, same: skill, at-most: 1", week(&[ONE, HIGH, CHAIN, TWO], &[], &[]), "0:2/2 0:1/1")]
#[case::by_root("what: {roles: [drill]}, same: root, at-most: 1", week(&[ONE, HIGH, HALT], &[], &[]), "0:1/1")]
#[case::root_of_any_component("what: {everything: true}, same: root, at-most: 1", week(&[CHAIN, TWO], &[], &[]), "0:1/1")]
// Under `one` stand one itself, one-high and one-halt; the chain stands under its first component.
#[case::by_parent("what: {everything: true}, same: parent, at-most: 1", week(&[ONE, HIGH, HALT, CHAIN], &[], &[]), "0:2/2")]
#[case::each_session("what: {everything: true}, same: skill, at-most: 1", week(&[ONE, HIGH], &[ONE], &[ONE, HALT]), "0:1/1 2:1/1")]
#[case::only_on("what: {everything: true}, same: skill, at-most: 1, on: {marks: [top]}", week(&[ONE, HIGH], &[], &[ONE, HALT]), "0:1/1")]
fn alike(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("alike", body, &days), expected);
}

#[rstest]
#[case::each_item("what: {skills: [one]}", week(&[ONE, HIGH, TWO], &[], &[ONE]), "0:2/2 2:1/1")]
#[case::only_on("what: {skills: [one]}, on: {efforts: [easy]}", week(&[ONE, HIGH], &[HALT], &[ONE]), "1:1/1")]
#[case::by_role("what: {roles: [drill]}", week(&[ONE, HIGH], &[], &[]), "0:1/1")]
fn exclude(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("exclude", body, &days), expected);
}

#[rstest]
#[case::together("what: {exercises: [aid]}, needs: {skills: [one]}", week(&[ONE, AID], &[], &[]), "")]
#[case::on_another_day_only("what: {exercises: [aid]}, needs: {skills: [one]}", week(&[AID], &[ONE], &[AID]), "0:1/1 2:1/1")]
#[case::not_by_itself("what: {roles: [drill]}, needs: {skills: [one]}", week(&[HIGH], &[], &[]), "0:1/1")]
#[case::by_each_other("what: {roles: [drill]}, needs: {skills: [one]}", week(&[HIGH, HALT], &[], &[]), "")]
#[case::another_skill("what: {roles: [drill]}, needs: {roles: [main]}, same-skill: true", week(&[HIGH, HALT, TWO], &[], &[]), "0:2/2")]
fn needs(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("needs", body, &days), expected);
}

const ONE_75: &str = "early main one 3x1 65-75 100";
const HIGH_70: &str = "early drill one-high 3x1 60-70 100";
const HIGH_66: &str = "early drill one-high 3x1 60-66 100";
const TWO_90: &str = "early drill two 3x1 80-90 100";

#[rstest]
#[case::top_kept("what: {roles: [drill]}, than: {roles: [main]}, against: top", week(&[ONE_75, HIGH_70], &[], &[]), "")]
#[case::low_missed("what: {roles: [drill]}, than: {roles: [main]}, against: low", week(&[ONE_75, HIGH_70], &[], &[]), "0:1/1")]
#[case::low_by_five("what: {roles: [drill]}, than: {roles: [main]}, against: low, above-at-most: 5", week(&[ONE_75, HIGH_70], &[], &[]), "")]
#[case::each_pair("what: {roles: [drill]}, than: {roles: [main]}, against: low", week(&[ONE_75, HIGH_70, HIGH_66], &[], &[]), "0:2/2")]
#[case::another_reference("what: {roles: [drill]}, than: {roles: [main]}, against: top", week(&[ONE_75, TWO_90], &[], &[]), "")]
#[case::no_load("what: {roles: [drill]}, than: {exercises: [aid]}, against: top", week(&[HIGH_70, AID], &[], &[]), "")]
#[case::not_than_itself("what: {everything: true}, than: {everything: true}, against: low", week(&[ONE_75], &[], &[]), "")]
#[case::both_ways("what: {everything: true}, than: {everything: true}, against: low", week(&[ONE_75, HIGH_70], &[], &[]), "0:2/2")]
// Weakest of the chain (100 % of each, less 5): best-two is the lesser best.
#[case::a_complex_by_its_weakest("what: {exercises: [two]}, than: {exercises: [chain]}, against: top", week(&[CHAIN, TWO_90], &[], &[]), "0:1/1")]
fn lighter(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("lighter", body, &days), expected);
}

const LONG: &str = "early main one 3x1 70-80 3000";

// A session is 600 seconds of warm-up and its items.
#[rstest]
#[case::kept("at-least: {whole: 60}, at-most: {whole: 60}, on: {marks: [top]}", "", week(&[LONG], &[], &[]), "")]
#[case::a_second_short("at-least: {whole: 65}, on: {marks: [top]}", "", week(&[LONG], &[], &[]), "0:1/300")]
#[case::a_started_unit("at-least: {whole: 66}, on: {marks: [top]}", "", week(&[LONG], &[], &[]), "0:2/360")]
#[case::an_empty_one_takes_none("at-least: {whole: 60}, on: {marks: [top]}", "", week(&[], &[], &[]), "0:12/3600")]
#[case::an_empty_one_is_not_too_long("at-most: {whole: 5}", "", week(&[], &[], &[]), "")]
#[case::too_long("at-most: {whole: 60}, unit: 10", "", week(&[LONG], &[LONG, ONE], &[LONG, LONG]), "1:1/100 2:5/3000")]
// 90 percent of 75 minutes is 67.5, rounded down to 67: 4020 seconds.
#[case::percent_of_a_field("at-least: {field: minutes, percent: 90}, on: {marks: [top]}", "  fields: {minutes: 75}\n", week(&[LONG], &[], &[]), "0:2/420")]
#[case::an_open_field_is_silent("at-least: {field: minutes}", "", week(&[], &[], &[]), "")]
fn minutes(#[case] body: &str, #[case] case: &str, #[case] days: Days, #[case] expected: &str) {
    let verdict = bench_with(&[&yielding("minutes", body)], None, case).verdict(&days);
    assert_eq!(said(&verdict.misses), expected);
}

const LIGHT_3X6: &str = "early main one 3x6 60-65 100";
const LIGHT_2X5: &str = "early drill one-high 2x5 60-69 100";
const LIGHT_TWO: &str = "early main two 2x5 60-65 100";
const HEAVY_4X3: &str = "early main one 4x3 75-80 100";
const NO_ZONE: &str = "early main one 9x9 40-50 100";

// Light: at most 5 in a set and 20 in all. Heavy: at most 2 in a set and 8 in all.
#[rstest]
#[case::set_and_total("what: {everything: true}, table: zones, together: item", week(&[HEAVY_4X3], &[], &[]), "0:1/1 0:4/4")]
#[case::set_alone("what: {everything: true}, table: zones, together: item", week(&[LIGHT_3X6, LIGHT_2X5], &[], &[]), "0:1/1")]
// 18 and 10 of the first skill, 10 of the second.
#[case::by_skill("what: {everything: true}, table: zones, together: skill", week(&[LIGHT_3X6, LIGHT_2X5, LIGHT_TWO], &[], &[]), "0:1/1 0:8/8")]
#[case::by_session("what: {everything: true}, table: zones, together: session", week(&[LIGHT_3X6, LIGHT_2X5, LIGHT_TWO], &[], &[]), "0:1/1 0:18/18")]
#[case::units_of_five("what: {everything: true}, table: zones, together: session, unit: 5", week(&[LIGHT_3X6, LIGHT_2X5, LIGHT_TWO], &[], &[]), "0:1/1 0:4/18")]
#[case::in_no_zone("what: {everything: true}, table: zones, together: session", week(&[NO_ZONE, AID], &[], &[]), "")]
#[case::zones_apart("what: {everything: true}, table: zones, together: session", week(&["early main one 2x4 60-65 9", "early main two 4x2 70-75 9"], &[], &[]), "")]
#[case::sessions_apart("what: {everything: true}, table: zones, together: session", week(&[LIGHT_2X5], &[LIGHT_2X5], &[LIGHT_2X5]), "")]
#[case::what_only("what: {skills: [two]}, table: zones, together: session", week(&[HEAVY_4X3, LIGHT_TWO], &[], &[]), "")]
// Sets of 3 from the complex: 3 x 3 in the heavy zone.
#[case::a_complex("what: {everything: true}, table: zones, together: skill", week(&[CHAIN], &[], &[]), "0:1/1 0:1/1 0:1/1")]
fn volume(#[case] body: &str, #[case] days: Days, #[case] expected: &str) {
    assert_eq!(misses("volume", body, &days), expected);
}
