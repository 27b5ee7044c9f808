//! `coach rules test`: what fails, where, and what stood there instead.

use super::schemas::{assert_holds, schema};
use super::{Folder, coach, rule_files};

/// The built-in rules with a file of tests.
fn folder(name: &str, tests: &str) -> Folder {
    let folder = Folder::new(name);
    for (name, text) in rule_files() {
        folder.write(&name, &text);
    }
    if !tests.is_empty() {
        folder.write("some-tests.yaml", tests);
    }
    folder
}

const TWO: &str = "format: 1
cases:
  lifts-are-there:
    because: Both lifts are in a week.
    case: {phase: general, fields: {days: 2, minutes: 60}}
    expect:
      contains: {the-snatch: {what: {full: [snatch]}}}
  squats-are-not:
    because: No week has a squat, which is wrong.
    case: {phase: general, fields: {days: 2, minutes: 90}}
    expect:
      lacks: {no-squat: {what: {groups: [squats]}}}
      focus: {on-a-swing: {skill: snatch, works-on: [bar-swung-out]}}
      proof: {proven: {is: claimed}}
";

#[test]
fn what_fails_is_told_with_its_place_and_what_stood_there() {
    let folder = folder("failing-tests", TWO);
    let ran = coach(&["rules", "test", folder.path()]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""), "{}", ran.out);
    for told in [
        "some-tests.yaml:12:15",
        "some-tests.yaml:13:15",
        "lacks.no-squat",
        "squat: back squat",
        "No cause is worked on",
        "2 tests: 2 expectations hold, 2 do not.",
    ] {
        assert!(ran.out.contains(told), "{told}: {}", ran.out);
    }
    assert!(!ran.out.contains("lifts are there"), "{}", ran.out);
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn one_alone_is_run_and_documents_fit_their_schema() {
    let folder = folder("one-test", TWO);
    let only = |name: &str| {
        coach(&[
            "rules",
            "test",
            folder.path(),
            "--only",
            name,
            "--as",
            "json",
        ])
    };
    let schema = schema("rule-tests");
    let held = only("lifts-are-there");
    assert_eq!(held.code, 0, "{}", held.err);
    assert_holds(&schema, &held.json(), "one that holds");
    assert_eq!(held.json()["tests"][0]["held"], 1);
    let failed = only("squats-are-not");
    assert_eq!(failed.code, 1);
    assert_holds(&schema, &failed.json(), "one that fails");
    let failed = &failed.json()["tests"][0]["failed"];
    assert_eq!(failed[0]["expectation"], "no-squat");
    assert_eq!(failed[0]["place"]["line"], 12);
    assert!(!failed[0]["items"].as_array().unwrap().is_empty());
}

#[test]
fn a_name_that_is_none_is_2_and_the_nearest_is_told() {
    let folder = folder("no-such-test", TWO);
    let ran = coach(&["rules", "test", folder.path(), "--only", "lifts-are-thare"]);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("did you mean `lifts-are-there`?"),
        "{}",
        ran.err
    );
}

#[test]
fn a_folder_without_tests_fails() {
    let folder = folder("no-tests", "");
    let ran = coach(&["rules", "test", folder.path()]);
    assert_eq!((ran.code, ran.out.as_str()), (1, ""));
    assert!(ran.err.contains("there is no test in"), "{}", ran.err);
}

#[test]
fn a_limit_that_hides_an_answer_is_3() {
    let folder = folder("limited-tests", TWO);
    let ran = coach(&[
        "rules",
        "test",
        folder.path(),
        "--only",
        "lifts-are-there",
        "--nodes",
        "1",
    ]);
    assert_eq!(ran.code, 3, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("No answer to the case"), "{}", ran.out);
}

#[test]
fn check_tells_what_is_wrong_with_a_test() {
    let folder = folder("broken-test", &TWO.replace("[squats]", "[squatts]"));
    let ran = coach(&["check", folder.path()]);
    assert_eq!(ran.code, 2);
    for told in ["some-tests.yaml:12:42", "squatts", "did you mean `squats`"] {
        assert!(ran.out.contains(told), "{told}: {}", ran.out);
    }
}
