//! Tests of a method that could not be asked, or could never fail.

use rstest::rstest;

use super::api::Code::{
    self, BadValue, DanglingId, DuplicateKey, EmptyMap, MissingKey, UnknownKey, UnknownWord,
    WrongType,
};
use super::small::assert_problems;

const FEW: &str = "few: {what: {everything: true}, per: session, at-most: 9}";
const CALM: &str = "calm: {fields: {level: beginner}}";

#[rstest]
#[case::dangling_in_a_selector(&[("some-pull: {in: [calm], what: {under: [full-pull, still-pull]}}", "some-pull: {in: [calm], what: {under: [§ful-pull, still-pull]}}")], &[DanglingId])]
#[case::dangling_variant(&[("{in: [calm], what", "{in: [§clam], what")], &[DanglingId])]
#[case::dangling_variant_of_a_comparison(&[("fewer-in: calm", "fewer-in: §nobody")], &[DanglingId])]
#[case::dangling_rule(&[("kept: [lift-weekly]", "kept: [§lift-wekly]")], &[DanglingId])]
#[case::dangling_rule_of_a_clash(&[("{rules: [drills-first], fields", "{rules: [§drill-first], fields")], &[DanglingId])]
#[case::dangling_cause(&[("works-on: [late]", "works-on: [§lat]")], &[DanglingId])]
#[case::dangling_field(&[("fields: [limits]", "fields: [§limit]")], &[DanglingId])]
#[case::dangling_in_the_case(&[("{phase: base, faults: [{fault: bar-away, grade: some}]}", "{phase: base, faults: [{fault: §bar-awy, grade: some}]}")], &[DanglingId])]
#[case::dangling_in_a_variant(&[(CALM, "calm: {fields: {level: §beginer}}")], &[DanglingId])]
#[case::unknown_key_in_the_case(&[("{phase: base, faults", "{§phaze: base, faults")], &[UnknownKey])]
#[case::unknown_kind(&[("      proof: {best", "      §prof: {best")], &[UnknownKey])]
#[case::empty_selector(&[("{roles: [drill]}, causes", "§{}, causes")], &[EmptyMap])]
#[case::nothing_expected(&[("      no-week: {because-of-it: {rules: [drills-first], fields: [limits]}}", "      {}"), ("  none:\n", "  §none:\n")], &[EmptyMap])]
#[case::count_that_cannot_fail(&[(FEW, "§few: {what: {everything: true}, per: session, at-least: 0}")], &[EmptyMap])]
#[case::count_of_nothing(&[(FEW, "§few: {what: {everything: true}, per: session}")], &[EmptyMap])]
#[case::dose_of_nothing(&[("not-much: {what: {roles: [main]}, sets: {at-most: 9}}", "§not-much: {what: {roles: [main]}}")], &[EmptyMap])]
#[case::compared_with_itself(&[("more-when-eager: {what: {roles: [main]}, more-in: eager, fewer-in: calm}", "§more-when-eager: {what: {roles: [main]}, more-in: calm, fewer-in: calm}")], &[EmptyMap])]
#[case::reason_of_nothing(&[("for-late: {what: {roles: [drill]}, causes: [late]}", "§for-late: {what: {roles: [drill]}}")], &[EmptyMap])]
#[case::focus_on_nothing(&[("on-late: {skill: pull, works-on: [late]}", "§on-late: {skill: pull}")], &[EmptyMap])]
#[case::missed_of_nothing(&[("nothing: {last-at-most: 0, kept: [lift-weekly]}", "§nothing: {}")], &[EmptyMap])]
#[case::said_of_nothing(&[("wrist: {rules: [sore-wrist]}", "§wrist: {}")], &[EmptyMap])]
#[case::no_case(&[("    case: {phase: base}\n", ""), ("  none:\n    because", "  none:\n    §because")], &[MissingKey])]
#[case::no_reason(&[("because: No week at all.", "because: §''")], &[BadValue])]
#[case::proof_that_is_no_word(&[("{is: claimed}", "{is: §certain}")], &[UnknownWord])]
#[case::cases_as_a_list(&[("    case: {phase: base}\n", "    case: §[base]\n")], &[WrongType])]
#[case::twice(&[("  none:\n", "  §all-kinds:\n")], &[DuplicateKey])]
fn are_refused(#[case] edits: &[(&str, &str)], #[case] codes: &[Code]) {
    assert_problems(edits, codes);
}
