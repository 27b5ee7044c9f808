//! Tests of the method that hold a log and expect what is decided from it.

use drillwright::explain::{Decided, Instead};
use drillwright::{Error, KnowledgeBase, Work};
use rstest::rstest;

use crate::cli::{assert_told, rules_and};

const TEST: &str = "format: 1
cases:
  little:
    because: So.
    case: {phase: general, faults: [{fault: saved-backward, grade: one-step}], fields: {days: 2, minutes: 45}}
    log:
      - {date: \"2026-11-02\", exercise: no contact snatch, made: 3}
      - {date: \"2026-11-02\", exercise: snatch, made: 2, missed: 1, fault: saved-backward}
    expect:
      decides:
        again: {fault: saved-backward, skill: snatch, exercise: no-contact-snatch, is: look-again, by: too-little-seen}
";

fn with(from: &str, to: &str) -> Result<KnowledgeBase, Error> {
    rules_and(TEST, from, to)
}

/// What is decided holds; another decision, rule, exercise or fault does not, and what stood there is told.
#[rstest]
#[case::as_it_is("", "", None)]
#[case::another("is: look-again", "is: swap", Some(1))]
#[case::by_another("by: too-little-seen", "by: fault-is-gone", Some(1))]
#[case::of_another(
    "exercise: no-contact-snatch, is",
    "exercise: held-feet-snatch, is",
    Some(0)
)]
#[case::another_log(
    "made: 3}",
    "made: 3}\n      - {date: \"2026-11-02\", exercise: snatch, made: 60}\n      - {date: \"2026-10-26\", exercise: snatch, made: 60}",
    Some(1)
)]
fn a_decision_is_expected(#[case] from: &str, #[case] to: &str, #[case] stood: Option<usize>) {
    let base = with(from, to).unwrap_or_else(|wrong| panic!("{wrong}"));
    let result = base.run_rule_test("little", Work::default()).unwrap();
    let instead = result.failed.first().map(|failed| match &failed.instead {
        Instead::Decided(all) => all.len(),
        other => panic!("{other:?}"),
    });
    assert_eq!(instead, stood);
    assert_eq!(result.held, usize::from(stood.is_none()));
    if let Some(Instead::Decided(all)) = result.failed.first().map(|failed| &failed.instead) {
        let withdrawn = to.contains("made: 60");
        let wanted = if withdrawn {
            Decided::Withdraw
        } else {
            Decided::LookAgain
        };
        assert!(all.iter().all(|(decided, _)| *decided == wanted), "{all:?}");
    }
}

/// A test with a log is read like a log, and expects something of it.
#[rstest]
#[case(
    "exercise: no contact snatch, made",
    "exercise: no contact snach, made",
    "snach"
)]
#[case(
    "date: \"2026-11-02\", exercise: snatch",
    "date: \"2026-11-32\", exercise: snatch",
    "no day of the calendar"
)]
#[case(
    "fault: saved-backward}",
    "fault: saved-backwards}",
    "did you mean `saved-backward`?"
)]
#[case("is: look-again", "is: look-twice", "look-twice")]
#[case("by: too-little-seen", "by: too-little", "too-little")]
#[case(
    "exercise: no-contact-snatch, is",
    "exercise: no-contact-snach, is",
    "no-contact-snach"
)]
#[case(
    "decides:\n        again: {fault: saved-backward, skill: snatch, exercise: no-contact-snatch, is: look-again, by: too-little-seen}",
    "proof:\n        claimed: {is: claimed}",
    "expects nothing to be decided"
)]
#[case(
    "    log:\n      - {date: \"2026-11-02\", exercise: no contact snatch, made: 3}\n      - {date: \"2026-11-02\", exercise: snatch, made: 2, missed: 1, fault: saved-backward}\n",
    "",
    "has no `log`"
)]
fn what_is_wrong_with_it_is_told(#[case] from: &str, #[case] to: &str, #[case] what: &str) {
    let wrong = with(from, to).unwrap_err();
    assert_told(&wrong, what);
}
