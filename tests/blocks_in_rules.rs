//! Tests of the method that make a training block and expect something of its weeks.

use drillwright::explain::{Instead, TestResult};
use drillwright::{Error, ErrorKind, KnowledgeBase, Work};
use rstest::rstest;

use crate::cli::{assert_told, rules_and, rules_beside};

const TEST: &str = "format: 1
cases:
  short:
    because: So.
    case: {phase: general, fields: {days: 2, minutes: 45}}
    weeks: 4
    expect:
      phase: {all-of-it: {is: general}}
      figure: {loads: {figure: mean-load, at-least: 60, at-most: 78, in: [week-1, week-4]}}
      contains: {snatch: {what: {full: [snatch]}, in: [week-3]}}
      compare: {lighter: {what: {percent: {at-least: 1}}, counted-in: reps, more-in: week-3, fewer-in: week-4}}
";

fn with(from: &str, to: &str) -> Result<KnowledgeBase, Error> {
    rules_and(TEST, from, to)
}

fn ran(base: &KnowledgeBase) -> TestResult {
    base.run_rule_test("short", Work::default()).unwrap()
}

/// Four weeks of the phase, two figures, one item and one comparison.
const ALL: usize = 4 + 2 + 1 + 1;

#[rstest]
#[case::as_it_is("", "", 0)]
#[case::of_one_week("{is: general}", "{is: general, in: [week-2]}", 0)]
#[case::another_phase("{is: general}", "{is: specific}", 4)]
#[case::another_phase_of_one("{is: general}", "{is: specific, in: [week-2]}", 1)]
#[case::another_figure("at-least: 60, at-most: 78", "at-least: 99", 2)]
#[case::no_such_item(
    "full: [snatch]",
    "exercises: [no-contact-snatch], roles: [corrective]",
    1
)]
#[case::the_other_way_round(
    "more-in: week-3, fewer-in: week-4",
    "more-in: week-4, fewer-in: week-3",
    1
)]
fn weeks_are_asked(#[case] from: &str, #[case] to: &str, #[case] failed: usize) {
    let base = with(from, to).unwrap_or_else(|wrong| panic!("{wrong}"));
    let result = ran(&base);
    let few = if to.contains("[week-2]") { 3 } else { 0 };
    assert_eq!(result.failed.len(), failed, "{:?}", result.failed);
    assert_eq!(result.held + failed + few, ALL);
    for failed in &result.failed {
        let variant = failed.variant.as_ref().unwrap().as_str();
        let told = match &failed.instead {
            Instead::Phase(phase) => phase.as_str() == "general",
            Instead::Figure(value) => value.is_some_and(|value| value < 99),
            Instead::NoSuchItem(standing) => variant == "week-3" && !standing.is_empty(),
            Instead::Compared { more, fewer } => variant == "week-4" && more < fewer,
            other => panic!("{other:?}"),
        };
        assert!(told, "{variant}: {:?}", failed.instead);
    }
}

/// Where a week cannot be made, that is what stands in place of it and of every week after it.
#[test]
fn a_block_that_stops_fails_from_there_on() {
    let rule = "format: 1
rules:
  exclude:
    none-in-a-lighter-week:
      when: {case: {week-load: {is: [lighter-week]}}}
      what: {everything: true}
      yields: never
      because: So.
      source: {common-practice: so}
";
    let base = rules_beside(&[("more.yaml", rule), ("t.yaml", TEST)]);
    let base = base.unwrap_or_else(|wrong| panic!("{wrong}"));
    let result = ran(&base);
    let failed: Vec<_> = result.failed.iter().collect();
    assert_eq!(failed.len(), 3, "{failed:?}");
    for failed in failed {
        let Instead::NoWeek(clash) = &failed.instead else {
            panic!("{failed:?}");
        };
        assert!(
            clash.iter().any(|id| id == "none-in-a-lighter-week"),
            "{clash:?}"
        );
    }
}

#[test]
fn a_limit_that_hides_weeks_leaves_them_unanswered() {
    let base = with("", "").unwrap();
    let result = base.run_rule_test("short", Work::nodes(1)).unwrap();
    assert_eq!((result.held, result.failed.len()), (0, 0));
    let unanswered = result.unanswered.iter().flatten();
    let unanswered: Vec<&str> = unanswered.map(|id| id.as_str()).collect();
    assert_eq!(unanswered, ["week-1", "week-2", "week-3", "week-4"]);
}

#[rstest]
#[case("weeks: 4", "weeks: 40", "no block of the rules has 40 weeks")]
#[case("weeks: 4", "weeks: 0", "no block of the rules has 0 weeks")]
#[case("    weeks: 4\n", "", "this test has no `weeks`")]
#[case(
    "    weeks: 4\n",
    "    weeks: 4\n    variants: {other: {phase: specific}}\n",
    "a test of a block has no `variants`"
)]
#[case(
    "    weeks: 4\n",
    "    weeks: 4\n    log: [{date: \"2026-11-02\", exercise: snatch, made: 3}]\n",
    "a test of a block has no `log`"
)]
#[case("in: [week-3]", "in: [week-5]", "this test has no variant `week-5`")]
#[case("fewer-in: week-4", "fewer-in: week-44", "did you mean `week-4`?")]
#[case(
    "figure: mean-load, at-least: 60, at-most: 78",
    "figure: mean-load",
    "`loads` asks for nothing"
)]
#[case("figure: mean-load", "figure: mean-lode", "did you mean `mean-load`?")]
#[case("{is: general}", "{is: generel}", "did you mean `general`?")]
fn a_mistake_in_such_a_test_is_told(#[case] from: &str, #[case] to: &str, #[case] said: &str) {
    let error = with(from, to).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Rules);
    assert_told(&error, said);
}

/// A test that cannot be asked says which it is, and where it stands.
#[test]
fn a_test_that_cannot_be_asked_is_named() {
    let base = with("weeks: 4", "weeks: 13").unwrap();
    let error = base.run_rule_test("short", Work::default()).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Open);
    let told = error.to_string();
    assert!(told.contains("the test `short` (t.yaml:3:3)"), "{told}");
    assert!(told.contains("13 weeks"), "{told}");
}
