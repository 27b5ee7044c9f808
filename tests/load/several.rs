//! Several things wrong at once: each is told once, and none hides or makes another.

use super::api::Code::{
    BadId, BadNumber, Contradiction, DanglingId, DropsNothing, DuplicateId, MissingKey, Null,
    OutOfRange, TwoValuesOnAxis, UnknownKey, UnknownWord, WrongType,
};
use super::small::assert_problems;

const FULL_PULL: &str = "    full-pull:\n      names: {en: [full pull], formerly: [old-pull]}\n      skills: [pull]\n      form: competition\n";
const FULL_PULL_WITHOUT_FORM: &str =
    "    full-pull:\n      §names: {en: [full pull], formerly: [old-pull]}\n      skills: [pull]\n";

#[test]
fn every_problem_of_every_file_is_told_once_in_order() {
    let edits = [
        // Two in one axis, which is then broken: what names its constraints stays silent.
        ("holds: one", "§hold: one"),
        ("departs: 2", "departs: §two"),
        ("effect: {late: -1}", "effect: {§latr: -1}"),
        // A root that lacks a key is still there for its variations.
        (FULL_PULL, FULL_PULL_WITHOUT_FORM),
        (
            "{do: still-pull, reps: 1, with: [pause-high]}",
            "{do: still-pull, reps: §11, with: [§pause-hi]}",
        ),
        ("severity: 3", "severity: §4"),
        ("raised-by: {head-down: 20}", "raised-by: {§headdown: 20}"),
        // A file that could not be read: any word of it may be what is named elsewhere.
        ("    look: Look at the head.", "    §look:"),
        ("{weight: 10}, {weight: 2.5}", "{weight: 10}, §disc"),
    ];
    let codes = [
        UnknownKey, BadNumber, DanglingId, MissingKey, OutOfRange, DanglingId, OutOfRange,
        DanglingId, Null, WrongType,
    ];
    assert_problems(&edits, &codes);
}

#[test]
fn what_names_a_broken_item_is_not_told() {
    let edits = [
        (
            "    stages: [dip, drive]\n",
            "    stages: [dip, drive]\n    §more: x\n",
        ),
        (
            "    says: Work on a cause.\n",
            "    says: Work on a cause.\n    §more: x\n",
        ),
        (
            "      look-for: A wait.\n",
            "      look-for: A wait.\n      §more: x\n",
        ),
        (
            "    means: How much.\n",
            "    means: How much.\n    §more: x\n",
        ),
        (
            "    set-seconds: 20\n",
            "    set-seconds: 20\n    §more: x\n",
        ),
        ("    below-zero: 10\n", "    below-zero: 10\n    §more: x\n"),
        ("in-phase: {percents", "in-phase: {§more: x, percents"),
        (
            "level: {names: {en: [level]}",
            "level: {§more: x, names: {en: [level]}",
        ),
        (
            "held: {names: {en: [held]}",
            "held: {§more: x, names: {en: [held]}",
        ),
        (
            "habit: {note: said widely}",
            "habit: {note: said widely, §more: x}",
        ),
        ("usual: {what", "usual: {§more: x, what"),
        ("base: {names", "base: {§more: x, names"),
    ];
    assert_problems(&edits, &[UnknownKey; 12]);
}

#[test]
fn a_broken_parent_silences_what_hangs_on_it() {
    let edits = [
        ("      with: [feet-still]\n", "      with: §feet-still\n"),
        // What a broken parent has is not known, so it may have this.
        ("drops: [feet-still]", "drops: [feet-wide]"),
        (
            "reference: best-push\n",
            "reference: best-push\n      with: [pause-low, §pause-low]\n",
        ),
    ];
    assert_problems(&edits, &[DuplicateId, WrongType]);
    let edits = [
        ("from: paused-still-pull", "from: bench-push"),
        ("drops: [feet-still]", "drops: [§feet-still]"),
    ];
    assert_problems(&edits, &[DropsNothing]);
}

#[test]
fn an_unknown_key_of_a_parent_hides_nothing_of_what_hangs_on_it() {
    let edits = [
        (
            "      use: Against hurry.\n",
            "      use: Against hurry.\n      §bogus: 1\n",
        ),
        ("drops: [feet-still]", "drops: [§feet-wide]"),
    ];
    assert_problems(&edits, &[UnknownKey, DropsNothing]);
    // Meant for what the parent takes away: then nobody knows what it has.
    let edits = [
        (
            "      use: Against hurry.\n",
            "      use: Against hurry.\n      §drop: [feet-wide]\n",
        ),
        ("drops: [feet-still]", "drops: [feet-wide]"),
    ];
    assert_problems(&edits, &[UnknownKey]);
}

#[test]
fn a_broken_constraint_leaves_its_axis_known() {
    let edits = [
        ("departs: 2\n", "departs: §two\n"),
        (
            "      with: [feet-still]\n",
            "      with: [feet-still, §feet-wide]\n",
        ),
    ];
    assert_problems(&edits, &[BadNumber, TwoValuesOnAxis]);
    // Whether the axis holds one is not known here.
    let edits = [
        (
            "    holds: one\n    unset: feet-free\n",
            "    §hold: one\n    unset: feet-free\n",
        ),
        (
            "      with: [feet-still]\n",
            "      with: [feet-still, feet-wide]\n",
        ),
    ];
    assert_problems(&edits, &[UnknownKey]);
}

#[test]
fn a_part_of_a_broken_id_may_be_what_others_name() {
    let edits = [("  base: {names", "  §base camp: {names")];
    let found = assert_problems(&edits, &[BadId]);
    assert_eq!(found.len(), 1);
}

#[test]
fn an_unknown_key_hides_no_other_problem_of_its_item() {
    let edits = [(
        "      components: [{do: full-pull, reps: 2}, {do: still-pull, reps: 1, with: [pause-high]}]\n",
        "      §bogus: 1\n      components: [{do: §full-pul, reps: §11}, {do: still-pull, reps: 1, with: [§pause-hi]}]\n",
    )];
    assert_problems(&edits, &[UnknownKey, DanglingId, OutOfRange, DanglingId]);
}

#[test]
fn an_error_in_one_rule_leaves_the_others_checked() {
    let edits = [
        ("same: root", "same: §rooot"),
        ("{field: minutes}", "§{field: days, whole: 3}"),
        ("weight: 3", "weight: §0"),
    ];
    assert_problems(&edits, &[UnknownWord, Contradiction, OutOfRange]);
}
