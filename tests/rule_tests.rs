//! The tests that stand beside the built-in method, run.

use drillwright::explain::TestResult;
use drillwright::report::rule_tests_text;
use drillwright::{KnowledgeBase, Work};

use crate::corpus::{self, on_two_threads};

#[test]
fn of_the_built_in_method_hold() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/rules");
    let base = KnowledgeBase::from_folder(folder).unwrap();
    let results = on_two_threads(&base.rule_tests(), |test| {
        base.run_rule_test(test.as_str(), Work::default()).unwrap()
    });
    let wrong: Vec<TestResult> = results
        .iter()
        .filter(|result| !result.failed.is_empty() || !result.unanswered.is_empty())
        .cloned()
        .collect();
    assert!(wrong.is_empty(), "{}", rule_tests_text(&wrong, false));
    assert!(results.len() >= 125, "{} tests", results.len());
    // A test that holds nothing shows nothing.
    assert!(results.iter().all(|result| result.held > 0));
}

/// Tests change no answer, so rules with and without them are the same rules.
#[test]
fn are_no_part_of_the_rules() {
    let rules = corpus::texts("rules");
    let tests = corpus::texts("rules/tests");
    assert!(tests.len() >= 3);
    let with = KnowledgeBase::from_texts(rules.iter().chain(&tests).map(|(n, t)| (n, t))).unwrap();
    assert_eq!(with.fingerprint(), corpus::BASE.fingerprint());
    assert!(corpus::BASE.rule_tests().is_empty());
    let changed = rules.iter().map(|(name, text)| (name, format!("{text}\n")));
    let other = KnowledgeBase::from_texts(changed).unwrap();
    assert_ne!(with.fingerprint(), other.fingerprint());
}
