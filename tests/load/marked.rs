//! What rule files may not use, and keys that stand twice: the rest of the file is read all the same.

use rstest::rstest;

use super::api::Code::{
    self, Anchor, BadId, BadNumber, DanglingId, DuplicateId, DuplicateKey, KeyNotText, MergeKey,
    MissingKey, Null, OutOfRange, RisingSlope, SecondDocument, SwallowedComment, Syntax, Tag,
    UnknownKey, WrongType,
};
use super::small::{assert_problems, edited, read, told};

/// In the item behind: an id that names nothing.
const OTHER: (&str, &str) = (
    "then: [peak], because: First.",
    "then: [§pek], because: First.",
);
const WEEKS: &str = "weeks: {from: 1, to: 2}";

#[rstest]
#[case::anchor("weeks: §&a {from: 1, to: 2}", Anchor)]
#[case::alias("weeks: {from: 1, to: §*a}", Anchor)]
#[case::tag("weeks: §!a {from: 1, to: 2}", Tag)]
#[case::tag_of_a_number("weeks: {from: §!a 1, to: 2}", Tag)]
#[case::nothing("§weeks: ~", Null)]
#[case::nothing_inside("weeks: {from: 1, §to: }", Null)]
#[case::merge("§<<: {weeks: {from: 1, to: 2}}", MergeKey)]
#[case::key_without_a_word("§~: {from: 1, to: 2}", Null)]
#[case::map_for_a_key("§{weeks: 1}: {from: 1, to: 2}", KeyNotText)]
#[case::twice("weeks: {from: 1, to: 2}, §weeks: {from: 1, to: 2}", DuplicateKey)]
#[case::twice_inside("weeks: {from: 1, to: 2, §to: 3}", DuplicateKey)]
#[case::not_down("weeks: {from: 3, to: 2, §to: 4}", DuplicateKey)]
fn what_is_refused_hides_no_other_item(#[case] written: &str, #[case] code: Code) {
    let edits = [OTHER, (WEEKS, written)];
    if written.contains("*a") {
        // An alias needs its anchor.
        let base = ("weeks: {from: 2, to: 4}", "weeks: {from: 2, to: §&a 4}");
        assert_problems(
            &[OTHER, base, (WEEKS, written)],
            &[Anchor, DanglingId, code],
        );
    } else {
        assert_problems(&edits, &[DanglingId, code]);
    }
}

#[test]
fn each_of_several_is_told() {
    assert_problems(
        &[
            (
                "  base: {names: {en: [base]}",
                "  base: {names: §&n {en: [base]}",
            ),
            OTHER,
            ("because: Then.", "because: §Then #so\n   "),
            (WEEKS, "weeks: {from: §1.5, §from: 1, to: §2.5}"),
        ],
        &[
            Anchor,
            DanglingId,
            BadNumber,
            DuplicateKey,
            BadNumber,
            SwallowedComment,
        ],
    );
}

#[test]
fn what_stands_again_is_read_too() {
    assert_problems(
        &[
            (
                "      effect: {late: 1}\n",
                "      effect: {late: §2.5, weak: §+2, §late: §1.5}\n",
            ),
            (
                "highest: {percent: 100,",
                "highest: {percent: 100, §percent: many,",
            ),
        ],
        &[DuplicateKey, BadNumber, BadNumber, DuplicateKey, BadNumber],
    );
}

#[test]
fn a_key_under_the_name_of_another_is_told_once() {
    let found = assert_problems(
        &[
            ("      with: [feet-still]\n", "      §from: [feet-still]\n"),
            (
                "  plain:\n    sets:",
                "  plain:\n    feel: {from: 1, to: 2}\n    sets:",
            ),
            (
                "    feel: Sure.\n    because: Enough.\n",
                "    §feel: Sure.\n    because: Enough.\n",
            ),
            (
                "because: Then., source: {habit: common}",
                "because: Then., §because: {habit: common}",
            ),
        ],
        &[DuplicateKey, DuplicateKey, DuplicateKey],
    );
    let notes: Vec<&str> = found[2]
        .also
        .iter()
        .map(|(_, note)| note.as_str())
        .collect();
    assert_eq!(
        notes,
        [
            "it stands here first",
            "the key `source` is missing in this map: perhaps it was meant"
        ]
    );
}

#[test]
fn an_unknown_key_hides_no_range_that_falls() {
    let edits = [("sets: {from: 3, to: 5}", "sets: §{from: 9, §x: 4, to: 5}")];
    assert_problems(&edits, &[OutOfRange, UnknownKey]);
    // Which end is meant is not known here.
    let edits = [("sets: {from: 3, to: 5}", "sets: {from: 9, §tp: 5}")];
    assert_problems(&edits, &[UnknownKey]);
}

#[test]
fn an_item_that_stands_twice_hides_no_other_and_is_read() {
    // The first of the two keeps its name; that nothing has the other is told with them.
    let found = assert_problems(
        &[
            ("    paused-still-pull:\n", "    §still-pull:\n"),
            ("      with: [pause-low]\n", "      with: [§pause-lw]\n"),
            ("{do: still-pull, reps: 1,", "{do: §stil-pull, reps: §11,"),
        ],
        &[DuplicateKey, DanglingId, DanglingId, OutOfRange],
    );
    let notes: Vec<String> = found[0]
        .also
        .iter()
        .map(|(place, note)| format!("{place}: {note}"))
        .collect();
    assert_eq!(
        notes,
        [
            "exercises.yaml:24:5: it stands here first",
            "exercises.yaml:40:13: `paused-still-pull` is named here and is nowhere: perhaps it was meant"
        ]
    );
}

#[test]
fn of_more_ids_that_are_nowhere_than_items_that_stand_twice_each_is_told() {
    assert_problems(
        &[
            ("    paused-still-pull:\n", "    §still-pull:\n"),
            ("from: paused-still-pull", "from: §quite-another-lift"),
            (
                "{do: full-pull, reps: 2}",
                "{do: §something-else-again, reps: 2}",
            ),
        ],
        &[DuplicateKey, DanglingId, DanglingId],
    );
}

#[rstest]
#[case::constraint(&[("      feet-wide: {names: {en: [wide feet]}", "      §feet-still: {names: {en: [wide feet]}"), ("      with: [feet-still]\n", "      with: [feet-wide]\n")], &[DuplicateKey])]
#[case::axis(&[("  pauses:\n", "  §feet:\n"), ("departs: 1, because: No hurry", "departs: §11, because: No hurry"), ("effect: {late: -1}", "effect: {§lte: -1}")], &[DuplicateKey, DanglingId, OutOfRange])]
#[case::section(&[("  variations:\n", "  §roots:\n")], &[DuplicateKey])]
#[case::format(&[("format: 1\nphases:", "format: 1\n§format: 1\nphases:"), OTHER], &[DuplicateKey, DanglingId])]
#[case::format_of_nothing(&[("format: 1\nphases:", "§format:\nphases:"), OTHER], &[Null, DanglingId])]
#[case::kind_of_nothing(&[("format: 1\ntables:\n  help:\n    below-zero: 10\n    steps: [{to: 4, each: 8}, {to: 8, each: 3}]\n    because: Less and less.\n    source: {ours: a start}\n", "format: 1\n§tables: ~\n")], &[Null])]
#[case::item_of_nothing(&[("{names: {en: [peak]}, weeks: {from: 1, to: 2}, because: Then., source: {habit: common}}", "~"), ("  peak:", "  §peak:"), ("then: [peak]", "then: [peak, §pek]")], &[DanglingId, Null])]
#[case::bad_id(&[("  base: {names", "  §Base: {names"), OTHER], &[BadId, DanglingId])]
#[case::second_document(&[("format: 1\nphases:", "format: 1\n§---\nphases:")], &[SecondDocument])]
#[case::lost_format(&[("format: 1\nphases:", "§phases:"), OTHER], &[MissingKey, DanglingId])]
#[case::misspelt_format(&[("format: 1\nphases:", "§fromat: 1\nphases:"), OTHER], &[MissingKey, DanglingId])]
#[case::quotation_mark(&[("because: Then.", "because: §Then.\""), OTHER], &[DanglingId, Syntax])]
fn the_rest_of_the_file_is_read(#[case] edits: &[(&str, &str)], #[case] codes: &[Code]) {
    assert_problems(edits, codes);
}

#[test]
fn only_what_is_no_yaml_loses_the_rest() {
    let found = read(&edited(&[
        (WEEKS, "weeks: {from: 1, to: 2"),
        ("then: [peak]", "then: [pek]"),
    ]));
    let found = found.unwrap_err();
    assert_eq!(found.len(), 1, "{:?}", told(&found));
    assert_eq!(found[0].code, Syntax);
}

#[test]
fn an_item_in_another_file_with_the_same_id_is_checked_too() {
    let mut files = edited(&[]);
    let text = "format: 1\ntables:\n  help:\n    below-zero: 10\n    steps: [{to: 4, each: x}]\n    \
                because: Less.\n    source: {orus: a start}\n";
    files.push((String::from("zz-tables.yaml"), String::from(text)));
    let found = read(&files).unwrap_err();
    let wanted = [
        format!("zz-tables.yaml:3:3 {DuplicateId}"),
        format!("zz-tables.yaml:5:27 {BadNumber}"),
        format!("zz-tables.yaml:7:14 {DanglingId}"),
    ];
    assert_eq!(told(&found), wanted);
}

#[rstest]
#[case::stages(&[("    stages: [start, middle, finish]\n", "    §stags: [start, middle, finish]\n")], &[UnknownKey])]
#[case::stages_no_list(&[("    stages: [start, middle, finish]\n", "    stages: §3\n")], &[WrongType])]
#[case::stages_and_a_dangling_one(&[("    stages: [start, middle, finish]\n", "    §stags: [start, middle, finish]\n"), ("      cuts: [start]\n", "      cuts: [§strt]\n")], &[DanglingId, UnknownKey])]
#[case::constraints(&[("    unset: feet-free\n    constraints:\n", "    unset: feet-free\n    §constrants:\n")], &[UnknownKey])]
#[case::day_out_of_range(&[("{day: 1, effort", "{day: §9, effort")], &[OutOfRange])]
#[case::day_not_read(&[("{day: 1, effort", "{day: §x, effort"), ("{day: 4, effort", "{day: 1, effort")], &[BadNumber])]
#[case::part_for_nothing(&[("at-least: 1, at-most: 3}", "at-least: 1, at-most: §0}")], &[OutOfRange])]
#[case::end_of_a_load(&[("load-to-percent: 100", "load-to-percent: §x")], &[BadNumber])]
#[case::days_in_order(&[("{day: 1, effort", "{day: 5, effort"), ("{day: 4, effort", "{day: §4, effort")], &[OutOfRange])]
fn what_was_not_read_is_no_second_problem(#[case] edits: &[(&str, &str)], #[case] codes: &[Code]) {
    assert_problems(edits, codes);
}

#[test]
fn a_slope_that_rises_is_told_beside_a_table_that_stands_twice() {
    let twice = "  help:\n    below-zero: 10\n    steps: [{to: 4, each: 8}, §{to: 8, each: 9}]\n    because: Less and less.\n    source: {ours: a start}\n  §help: {below-zero: 9, steps: [{to: 1, each: 1}], because: So., source: {ours: a start}}\n";
    let once = "  help:\n    below-zero: 10\n    steps: [{to: 4, each: 8}, {to: 8, each: 3}]\n    because: Less and less.\n    source: {ours: a start}\n";
    assert_problems(&[(once, twice)], &[RisingSlope, DuplicateKey]);
}
