//! The tests that stand beside the built-in method, run.

use std::thread;

use drillwright::explain::TestResult;
use drillwright::report::rule_tests_text;
use drillwright::{KnowledgeBase, Work};

fn run(base: &KnowledgeBase, names: &[String]) -> Vec<TestResult> {
    let run = |name: &String| base.run_rule_test(name, Work::default()).unwrap();
    names.iter().map(run).collect()
}

#[test]
fn of_the_built_in_method_hold() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/rules");
    let base = KnowledgeBase::from_folder(folder).unwrap();
    let names: Vec<String> = base.rule_tests().iter().map(ToString::to_string).collect();
    let results: Vec<TestResult> = thread::scope(|scope| {
        let threads: Vec<_> = names
            .chunks(names.len().div_ceil(2))
            .map(|names| scope.spawn(|| run(&base, names)))
            .collect();
        threads
            .into_iter()
            .flat_map(|thread| thread.join().unwrap())
            .collect()
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
    let rules = crate::corpus::texts("rules");
    let tests = crate::corpus::texts("rules/tests");
    assert!(tests.len() >= 3);
    let with = KnowledgeBase::from_texts(rules.iter().chain(&tests).map(|(n, t)| (n, t))).unwrap();
    assert_eq!(with.fingerprint(), crate::corpus::BASE.fingerprint());
    assert!(crate::corpus::BASE.rule_tests().is_empty());
    let changed = rules.iter().map(|(name, text)| (name, format!("{text}\n")));
    let other = KnowledgeBase::from_texts(changed).unwrap();
    assert_ne!(with.fingerprint(), other.fingerprint());
}
