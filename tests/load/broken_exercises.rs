//! Axes, exercises and complexes.

use rstest::rstest;

use super::api::Code::{
    self, Circle, Contradiction, DanglingId, DropsNothing, EmptyMap, MissingKey, NoRoot,
    OutOfRange, TwoValuesOnAxis,
};
use super::small::assert_problems;

const PAUSED_STILL: &str = "from: still-pull\n      with: [pause-low]";

#[rstest]
#[case::dangling_constraint(&[("with: [feet-still]\n", "with: [§feet-stil]\n")], &[DanglingId])]
#[case::dangling_parent(&[("from: full-pull", "from: §ful-pull")], &[DanglingId])]
#[case::dangling_component(&[("{do: full-pull, reps: 2}", "{do: §full-pul, reps: 2}")], &[DanglingId])]
#[case::dangling_role(&[("roles: [main, drill]\n      use", "roles: [main, §drills]\n      use")], &[DanglingId])]
#[case::dangling_quality(&[("trains: {height: 3}", "trains: {§heigth: 3}")], &[DanglingId])]
#[case::dangling_cause(&[("effect: {late: 2}", "effect: {§lat: 2}")], &[DanglingId])]
#[case::dangling_stage(&[("cuts: [start]", "cuts: [§begin]")], &[DanglingId])]
#[case::dangling_stage_in_which(&[("during: [start]", "during: [§begin]")], &[DanglingId])]
#[case::dangling_reference(&[("reference: best-pull", "reference: §best-lift")], &[DanglingId])]
#[case::dangling_source(&[("source: {habit: a test of one repetition}\n  best-push", "source: {§habits: a test of one repetition}\n  best-push")], &[DanglingId])]
#[case::unset_missing(&[("  feet:\n", "  §feet:\n"), ("    unset: feet-free\n", "")], &[MissingKey])]
#[case::unset_on_many(&[("holds: many", "holds: many\n    unset: §pause-low")], &[Contradiction])]
#[case::unset_of_another_axis(&[("unset: feet-free", "unset: §pause-low")], &[Contradiction])]
#[case::unset_is_nothing(&[("unset: feet-free", "unset: §feet-fre")], &[DanglingId])]
#[case::two_values(&[("with: [feet-still]\n", "with: [feet-still, §feet-wide]\n")], &[TwoValuesOnAxis])]
#[case::two_values_in_a_component(&[("with: [pause-high]", "with: [feet-free, pause-high, §feet-wide]")], &[TwoValuesOnAxis])]
#[case::drops_what_is_not_there(&[("drops: [feet-still]", "drops: [§feet-wide]")], &[DropsNothing])]
#[case::drops_what_is_not_there_of_many(&[("drops: [feet-still]", "drops: [§pause-high]")], &[DropsNothing])]
#[case::drops_the_unset(&[("with: [feet-still]\n", "drops: [§feet-free]\n"), ("drops: [feet-still]", "drops: [pause-low]")], &[DropsNothing])]
#[case::drops_on_an_axis_of_many(&[("drops: [feet-still]", "drops: [pause-low]")], &[])]
#[case::adds_what_is_there(&[("drops: [feet-still]", "with: [§pause-low]")], &[Contradiction])]
#[case::adds_what_is_there_in_a_component(&[("{do: still-pull, reps: 1, with: [pause-high]}", "{do: paused-pull, reps: 1, with: [§pause-low]}")], &[Contradiction])]
#[case::replaces_on_an_axis_of_one(&[("drops: [feet-still]", "with: [feet-wide]")], &[])]
#[case::drops_and_adds(&[("drops: [feet-still]", "with: [feet-still]\n      drops: [§feet-still]")], &[Contradiction])]
#[case::circle_of_two(&[("from: full-pull", "from: paused-still-pull"), (PAUSED_STILL, "from: §still-pull\n      with: [pause-low]")], &[Circle])]
#[case::circle_of_one(&[("from: paused-still-pull", "from: §paused-pull")], &[Circle])]
#[case::from_a_complex(&[("from: full-pull", "from: §two-pulls")], &[NoRoot])]
#[case::component_is_a_complex(&[("{do: full-pull, reps: 2}", "{do: §two-pulls, reps: 2}")], &[Contradiction])]
#[case::one_component(&[("components: [{do: full-pull, reps: 2}, {do", "components: §[{do")], &[OutOfRange])]
#[case::component_reps(&[("{do: full-pull, reps: 2}", "{do: full-pull, reps: §11}")], &[OutOfRange])]
#[case::complex_without_role(&[("roles: [drill]\n      percent-less", "roles: §[]\n      percent-less")], &[EmptyMap])]
#[case::root_without_skill(&[("skills: [push]\n      form", "skills: §[]\n      form")], &[EmptyMap])]
#[case::roles_may_be_none(&[("roles: [main, extra]", "roles: []")], &[])]
#[case::effect_without_because(&[("      effect: {late: 1}\n      because: Both together do more.", "      §effect: {late: 1}")], &[MissingKey])]
#[case::effect_too_large(&[("effect: {late: -1}", "effect: {late: §-4}")], &[OutOfRange])]
#[case::own_effect_too_large(&[("effect: {weak: 1}", "effect: {weak: §4}")], &[OutOfRange])]
#[case::departs_too_far(&[("departs: 2", "departs: §10")], &[OutOfRange])]
#[case::load_of_nothing(&[("load-percent: 90", "load-percent: §0")], &[OutOfRange])]
#[case::highest_too_high(&[("highest: {percent: 100", "highest: {percent: §201")], &[OutOfRange])]
#[case::axis_without_constraints(&[("      pause-low:\n        names: {en: [low pause]}\n        effect: {late: -1}\n        cuts: [start]\n        because: No swing.\n        source: {ours: a start}\n      pause-high: {names: {en: [high pause]}, departs: 1, because: No hurry., source: {ours: a start}}\n", ""), ("    holds: many\n    constraints:\n", "    holds: many\n    constraints: §{}\n"), (PAUSED_STILL, "from: still-pull"), ("reps: 1, with: [pause-high]", "reps: 1"), ("{with-any: [pause-low, pause-high]}", "{alone: true}")], &[EmptyMap])]
fn a_broken_exercise_is_told(#[case] edits: &[(&str, &str)], #[case] codes: &[Code]) {
    assert_problems(edits, codes);
}

#[test]
fn a_circle_is_shown_whole_with_what_hangs_below() {
    // The least of them is named first, and the place is where it leads on.
    let edits = [
        ("from: full-pull", "from: paused-pull"),
        ("from: paused-still-pull", "from: §paused-still-pull"),
    ];
    let found = assert_problems(&edits, &[Circle]);
    assert!(
        found[0]
            .what
            .ends_with("paused-pull → paused-still-pull → still-pull → paused-pull"),
        "{}",
        found[0].what
    );

    let found = assert_problems(&[("from: full-pull", "from: §still-pull")], &[Circle]);
    let also: Vec<&str> = found[0]
        .also
        .iter()
        .map(|(_, note)| note.as_str())
        .collect();
    assert_eq!(
        also,
        [
            "so `paused-still-pull` goes back to no root either",
            "so `paused-pull` goes back to no root either"
        ]
    );
}
