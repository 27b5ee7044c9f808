//! Rules under another kind than the one whose keys they have.

use rstest::rstest;

use super::api::Code::{self, BadNumber, DanglingId, MissingKey, UnknownKey};
use super::small::assert_problems;

const CAP: &str = "  cap:\n";

/// A cap with an entry before its others.
fn before(entry: &str) -> String {
    format!("{CAP}    {entry}, because: So., source: {{ours: x}}}}\n")
}

#[rstest]
#[case::count("§weekly: {what: {full: [full-pull]}, per: week, at-least: 1, yields: never", &[UnknownKey], "count")]
#[case::what_it_names_is_looked_at("§weekly: {what: {full: [§full-pul]}, per: week, at-least: 1, yields: never", &[UnknownKey, DanglingId], "count")]
#[case::what_is_wrong_with_it_is_told("§weekly: {what: {full: [full-pull]}, per: week, at-least: §many, yields: never", &[UnknownKey, BadNumber], "count")]
#[case::order("§ordered: {first: {roles: [main]}, then: {roles: [extra]}, yields: never", &[UnknownKey], "before")]
#[case::dose("§given: {what: {roles: [extra]}, give: plain", &[UnknownKey], "dose")]
#[case::stress("§daily: {of: back, per: session, at-most: 6, yields: never", &[UnknownKey], "stress")]
fn is_told_once(#[case] entry: &str, #[case] codes: &[Code], #[case] kind: &str) {
    let found = assert_problems(&[(CAP, &before(entry))], codes);
    let first = &found[0];
    let says = format!("those of the kind `{kind}`; `cap` has no ");
    assert!(first.what.contains(&says), "{first}");
    assert!(
        first.help.contains(&format!("move it to `{kind}`")),
        "{first}"
    );
}

#[rstest]
#[case::misspelt("light: {what: {groups: [held]}, §percent-of-reference-at-mots: 85", &[UnknownKey])]
#[case::a_key_of_no_kind("light: {what: {groups: [held]}, §much: 85", &[UnknownKey])]
// Both what excludes and what repeats can be written so.
#[case::two_kinds("light: {what: {groups: [held]}, §yields: never", &[UnknownKey])]
#[case::not_whole("light: §{§first: {roles: [main]}, §yields: never", &[MissingKey, UnknownKey, UnknownKey])]
fn is_told_key_by_key_where_the_kind_is_not_sure(#[case] entry: &str, #[case] codes: &[Code]) {
    for problem in assert_problems(&[(CAP, &before(entry))], codes) {
        assert!(!problem.what.contains("of the kind"), "{problem}");
    }
}

/// What names it finds it where it belongs.
#[test]
fn a_dose_rule_elsewhere_is_known_to_those_that_name_it() {
    let entry = before("§given: {what: {roles: [extra]}, give: plain");
    let edits = [
        (CAP, entry.as_str()),
        ("instead-of: [usual]", "instead-of: [usual, given]"),
    ];
    assert_problems(&edits, &[UnknownKey]);
}
