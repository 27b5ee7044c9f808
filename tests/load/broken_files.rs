//! Files, sections and ids.

use rstest::rstest;

use super::api::Code::{
    self, BadId, Contradiction, DanglingId, DuplicateId, DuplicateKey, EmptyMap, MissingKey, Null,
    SharedName, Syntax, UnknownFormat, UnknownKey, WrongType,
};
use super::api::{KnowledgeBase, read_bytes_as_case};
use super::small::assert_problems;

const MARKS: &str = "format: 1\nmarks:";
const ALL_MARKS: &str =
    "format: 1\nmarks: {top-day: {names: {en: [top day]}, means: The heaviest.}}";
const ALL_STRESSES: &str = "stresses: {back: {names: {en: [back]}, means: One point is one hard item., source: {ours: a start}}}";
const BARS: &str = "format: 1\nbars:";

#[rstest]
#[case::no_format(&[(MARKS, "§marks:")], &[MissingKey])]
#[case::next_format(&[(MARKS, "format: §2\nmarks:")], &[UnknownFormat])]
#[case::format_in_words(&[(MARKS, "format: §one\nmarks:")], &[Code::BadNumber])]
#[case::format_alone(&[(ALL_MARKS, "§format: 1"), ("marks: [top-day], ", "")], &[MissingKey])]
#[case::unknown_kind(&[(MARKS, "format: 1\n§mark:")], &[UnknownKey])]
#[case::second_kind(&[(BARS, "format: 1\nmeasures: {lb: {unit: lb, pieces: [{weight: 45}], in-pairs: true, round: down, source: {habit: so}}}\n§bars:")], &[Contradiction])]
#[case::unknown_section(&[("  capacity:\n", "  §capacities:\n")], &[UnknownKey])]
#[case::unknown_rule_kind(&[("  adjacent:\n", "  §adjacents:\n")], &[UnknownKey])]
#[case::empty_kind(&[(ALL_STRESSES, "§stresses: {}")], &[EmptyMap])]
#[case::empty_section(&[("sources:\n", "sources:\n  §published: {}\n"), ("  published: {some-paper: {cite: \"Nobody, Nothing, 1900\", read: memory}}\n", "")], &[EmptyMap])]
#[case::section_without_value(&[("  dates:\n    meet: {names: {en: [meet]}}\n", "  §dates:\n  # meet is to come\n")], &[Null])]
#[case::kind_is_a_list(&[(ALL_STRESSES, "stresses: §[back]")], &[WrongType])]
#[case::no_yaml(&[(ALL_MARKS, "format: 1
marks: top-day
§} x: 1")], &[Syntax])]
#[case::same_key_twice(&[("    look: Look at the bar.
", "    look: Look at the bar.
    §look: Again.
")], &[DuplicateKey])]
#[case::id_twice_over_files(&[("groups: {spare:", "groups: {§held:")], &[DuplicateId])]
#[case::exercise_id_twice(&[("    two-pulls:\n", "    §full-pull:\n")], &[DuplicateId])]
#[case::constraint_id_twice(&[("      pause-high:", "      §feet-wide:"), ("[pause-low, pause-high]", "[pause-low]"), (", with: [pause-high]", "")], &[DuplicateId])]
#[case::cause_id_twice(&[("    weak:
", "    §weak:
"), ("    early:
", "    weak:
"), ("opposes: [early]", "opposes: [weak]")], &[DuplicateId])]
#[case::case_field_id_twice(&[("    meet:", "    §days:"), ("{meet: {at-most", "{days: {at-most"), ("if-unknown: skip, what: {everything: true}, sets", "what: {everything: true}, sets")], &[DuplicateId])]
#[case::factor_id_twice(&[("{of-level: {field", "{§in-phase: {field"), ("of-days, of-level]", "of-days]")], &[DuplicateId])]
#[case::source_id_twice(&[("expert-set: {ours:", "expert-set: {§habit: {by: nobody, date: \"2026-01-10\"}, ours:")], &[DuplicateId])]
#[case::rule_ids_are_their_kinds_own(&[("    full-discs:", "    drills-lighter:")], &[])]
#[case::bad_id(&[("  held-or-paused:", "  §Held_or_paused:")], &[BadId])]
#[case::bad_id_of_a_reference(&[("give: plain, because", "give: §Plain, because")], &[BadId])]
#[case::bad_id_that_others_name(&[("    still-pull:\n", "    §Still Pull:\n")], &[BadId])]
#[case::bad_id_of_digits(&[("    still-pull:\n", "    §12:\n")], &[BadId])]
#[case::bad_id_of_nothing(&[("    still-pull:\n", "    §\"\":\n")], &[BadId])]
#[case::bad_id_of_a_constraint(&[("      feet-still:\n", "      §Feet Still:\n")], &[BadId])]
#[case::bad_id_of_a_constraint_in_digits(&[("      feet-still:\n", "      §2:\n")], &[BadId])]
#[case::bad_id_of_a_stage(&[("[start, middle, finish]", "[§Start, middle, finish]")], &[BadId])]
#[case::bad_id_leaves_other_sorts_checked(&[("    still-pull:\n", "    §12:\n"), ("of: back, per", "of: §neck, per")], &[BadId, DanglingId])]
#[case::tab_on_the_line_below(&[("    look: Look at the bar.\n    measured:", "    look: Look at the bar.\n§\tmeasured:")], &[Syntax])]
#[case::quotation_mark_at_the_end_only(&[("look: Look at the bar.", "look: §Look at the bar.\"")], &[Syntax])]
#[case::quoted_words_at_the_end(&[("look: Look at the bar.", "look: Look at the \"bar\"")], &[])]
#[case::comma_for_a_point(&[("collar: 2.5", "collar: 2,§5")], &[Null])]
#[case::tab_before_a_key(&[("    look: Look at the bar.\n", "§\tlook: Look at the bar.\n")], &[Syntax])]
#[case::tab_after_spaces(&[("    look: Look at the bar.\n", "    §\tlook: Look at the bar.\n")], &[Syntax])]
#[case::tab_before_an_id(&[("  bar-fast:\n", "§\tbar-fast:\n")], &[Syntax])]
#[case::list_names_one_twice(&[("roles: [main, extra]", "roles: [main, §main]")], &[DuplicateId])]
#[case::shared_name(&[("en: [paused pull]", "en: [§Still-Pull]")], &[SharedName])]
#[case::shared_synonym(&[("en: [wide feet]", "en: [wide feet, §FLAT  feet]")], &[SharedName])]
#[case::name_twice(&[("en: [head down]", "en: [head down, §head-down]")], &[SharedName])]
#[case::shared_name_of_values(&[("{good: {}, bad: {}}", "{good: {en: [fine]}, bad: {en: [§fine]}}")], &[SharedName])]
#[case::names_of_other_kinds_are_free(&[("en: [paused pull]", "en: [still feet]")], &[])]
#[case::former_id_lives(&[("formerly: [old-pull]", "formerly: [§bench-push]")], &[Contradiction])]
#[case::former_id_twice(&[("en: [bench push]}", "en: [bench push], formerly: [§old-pull]}")], &[DuplicateId])]
#[case::former_id_is_none(&[("formerly: [old-pull]", "formerly: [§Old Pull]")], &[BadId])]
fn a_broken_file_is_told(#[case] edits: &[(&str, &str)], #[case] codes: &[Code]) {
    assert_problems(edits, codes);
}

#[test]
fn a_bad_id_is_told_with_the_one_that_is_meant() {
    let found = assert_problems(&[("    still-pull:\n", "    §Still Pull:\n")], &[BadId]);
    assert!(found[0].what.contains("small letters a to z"), "{found:?}");
    assert_eq!(found[0].help, "write it as `still-pull`");
}

#[test]
fn a_tab_is_told_as_one() {
    let tab = (
        "    look: Look at the bar.\n",
        "  §\tlook: Look at the bar.\n",
    );
    let found = assert_problems(&[tab], &[Syntax]);
    assert!(found[0].what.contains("tab"), "{found:?}");
    assert!(found[0].help.starts_with("use spaces"), "{found:?}");
}

#[test]
fn bytes_that_are_no_text_are_told_at_the_first() {
    let bytes = b"format: 1\nmarks:\n  x: {names: {en: [caf\xe9]}}\n";
    let of_rules = KnowledgeBase::from_bytes([("marks.yaml", bytes.as_slice())]).unwrap_err();
    let of_case = read_bytes_as_case(bytes);
    for (error, file) in [(of_rules, "marks.yaml"), (of_case, "case.yaml")] {
        let found = &error.diagnostics()[0];
        assert_eq!(found.code, Code::NotUtf8);
        assert_eq!(found.place.to_string(), format!("{file}:3:23"));
    }
}

#[test]
fn beside_a_file_that_is_no_text_the_others_are_told_what_is_theirs() {
    let mut files: Vec<(&str, Vec<u8>)> = super::small::FILES
        .iter()
        .map(|(name, text)| (*name, text.as_bytes().to_vec()))
        .collect();
    for (name, bytes) in &mut files {
        match *name {
            // What others name of it is in what can be had of its text.
            "phases.yaml" => bytes.splice(0..0, *b"# caf\xe9\n").for_each(drop),
            "doses.yaml" => bytes.extend_from_slice(b"  Bad Id: 1\n"),
            _ => {}
        }
    }
    let error = KnowledgeBase::from_bytes(files).unwrap_err();
    let told: Vec<String> = error
        .diagnostics()
        .iter()
        .map(|found| format!("{} {}", found.place.file, found.code))
        .collect();
    assert_eq!(
        told.first().map(String::as_str),
        Some("doses.yaml bad-id"),
        "{told:?}"
    );
    assert_eq!(
        told.last().map(String::as_str),
        Some("phases.yaml not-utf8"),
        "{told:?}"
    );
    assert!(
        told.iter().all(|one| !one.ends_with("dangling-id")),
        "{told:?}"
    );
}
