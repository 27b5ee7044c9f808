//! Tests of the method that hold watched attempts and expect what is made of them.

use drillwright::explain::Instead;
use drillwright::{Error, KnowledgeBase, Work};
use rstest::rstest;

use crate::cli::{assert_told, rules_and, rules_beside};

const TEST: &str = "format: 1
watched-tests:
  behind:
    because: So.
    watched:
      skill: snatch
      attempts:
        - {percent: 70, times: 3, seen: {came-out: lift-made}}
        - {percent: 85, times: 2, seen: {came-out: lift-saved, bar-came-down: bar-behind, steps-taken: 1, bar-at-hip: hit-hard}}
    expect:
      fault: {it: {fault: saved-backward, is: concluded, grade: one-step, from-percent: 85}}
      behind: {swung: {cause: bar-swung-out, more-than: [weight-behind]}}
      looked: {heard: {look: hip-bang-heard, is: true}}
      further: {feet: {look: small-jump-back-every-time}}
";

fn with(from: &str, to: &str) -> Result<KnowledgeBase, Error> {
    rules_and(TEST, from, to)
}

/// Each expectation holds of these attempts, and fails of others or where something else is expected.
#[rstest]
#[case::as_it_is("", "", &[])]
#[case::of_all("more-than: [weight-behind]", "more-than: []", &[])]
#[case::another_verdict("is: concluded, grade: one-step, from-percent: 85", "is: too-seldom", &["fault"])]
#[case::another_grade("grade: one-step", "grade: two-steps", &["fault"])]
#[case::another_onset("from-percent: 85", "from-percent: 70", &["fault"])]
#[case::no_fault("is: concluded, grade: one-step, from-percent: 85", "is: not-seen", &["fault"])]
#[case::not_seen("fault: saved-backward, is: concluded, grade: one-step, from-percent: 85", "fault: saved-forward, is: not-seen", &[])]
#[case::another_cause("cause: bar-swung-out, more-than: [weight-behind]", "cause: weight-behind", &["behind"])]
#[case::another_look("look: hip-bang-heard, is: true", "look: hip-bang-heard, is: false", &["looked"])]
#[case::a_look_that_nobody_took("look: hip-bang-heard, is: true", "look: small-jump-back-every-time, is: true", &["looked"])]
#[case::another_further("feet: {look: small-jump-back-every-time}", "feet: {look: hip-bang-heard}", &["further"])]
#[case::one_odd_attempt("times: 2, seen: {came-out: lift-saved", "seen: {came-out: lift-saved", &["fault", "behind", "looked", "further"])]
fn what_is_made_of_attempts_is_expected(
    #[case] from: &str,
    #[case] to: &str,
    #[case] failed: &[&str],
) {
    let base = with(from, to).unwrap_or_else(|wrong| panic!("{wrong}"));
    let result = base.run_rule_test("behind", Work::default()).unwrap();
    let kinds: Vec<&str> = result.failed.iter().map(|failed| failed.kind).collect();
    assert_eq!(kinds, failed, "{:?}", result.failed);
    assert_eq!(result.held, 4 - failed.len());
    for failed in &result.failed {
        let one_odd = to.starts_with("seen");
        let told = match &failed.instead {
            Instead::Fault(Some((made, _, from))) => {
                *made
                    == if one_odd {
                        "may-be-chance"
                    } else {
                        "concluded"
                    }
                    && *from == Some(85)
            }
            Instead::Behind(causes) => {
                causes
                    .first()
                    .is_none_or(|(cause, _)| cause.as_str() == "bar-swung-out")
                    && causes.is_empty() == one_odd
            }
            Instead::IsTrue(is) => is.is_none() || *is == Some(true),
            Instead::Further(look) => look.is_none() == one_odd,
            other => panic!("{other:?}"),
        };
        assert!(told, "{failed:?}");
    }
}

#[rstest]
#[case("skill: snatch", "skill: snach", "did you mean `snatch`?")]
#[case(
    "came-out: lift-made",
    "came-out: lift-maid",
    "did you mean `lift-made`?"
)]
#[case("percent: 70", "percent: 170", "cannot be at 170 %")]
#[case(
    "fault: saved-backward",
    "fault: saved-backwards",
    "did you mean `saved-backward`?"
)]
#[case("is: concluded", "is: certain", "`concluded`")]
#[case("from-percent: 85", "from-percent: 121", "from 1 to 120")]
#[case("is: concluded", "is: not-seen", "what is not seen has no grade")]
#[case("cause: bar-swung-out", "cause: bar-swings-out", "is no cause")]
#[case(
    "look: small-jump-back-every-time",
    "look: small-jump",
    "is no observation"
)]
fn what_is_wrong_with_it_is_told(#[case] from: &str, #[case] to: &str, #[case] what: &str) {
    assert_told(&with(from, to).unwrap_err(), what);
}

#[test]
fn a_test_of_attempts_that_expects_nothing_is_told() {
    let (_, end) = TEST.split_once("    expect:").unwrap();
    let wrong = rules_and(TEST, &format!("    expect:{end}"), "    expect: {}\n").unwrap_err();
    assert_told(&wrong, "this test expects nothing");
}

/// Tests of every kind have ids of their own.
#[test]
fn a_test_of_the_same_name_is_told() {
    let other = "format: 1
cases:
  behind:
    because: So.
    case: {phase: general, fields: {days: 2}}
    expect: {proof: {proven: {is: claimed}}}
";
    let wrong = rules_beside(&[("other.yaml", other), ("t.yaml", TEST)]).unwrap_err();
    assert_told(&wrong, "there is another test `behind`");
}
