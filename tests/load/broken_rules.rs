//! Rules, selectors and groups.

use rstest::rstest;

use super::api::Code::{
    self, BeforeCircle, Circle, Contradiction, DanglingId, EmptyMap, MissingKey, OutOfRange,
    UnknownKey, UnknownWord,
};
use super::small::assert_problems;

const MAIN_THEN: &str = "main-then: {first: {roles: [main]}, then: {roles: [extra]}, yields: never";
const DRILLS_FIRST: &str =
    "drills-first: {first: {roles: [drill]}, then: {roles: [main]}, yields: never";
const ALIKE: &str = "not-too-alike: {what: {everything: true}";
const USUAL: &str = "    usual: {what: {everything: true}, give: plain";
const FOR_DRILLS: &str =
    "    for-drills: {what: {roles: [drill]}, give: plain, instead-of: [usual]";

#[rstest]
#[case::dangling_group(&[("{groups: [held]}, directly", "{groups: [§hold]}, directly")], &[DanglingId])]
#[case::dangling_table(&[("{table: help, because", "{table: §hlep, because")], &[DanglingId])]
#[case::dangling_zone_table(&[("table: some-table", "table: §help")], &[DanglingId])]
#[case::dangling_factor(&[("scaled-by: [in-phase]", "scaled-by: [§in-phases]")], &[DanglingId])]
#[case::dangling_dose(&[("give: plain, instead-of", "give: §plan, instead-of")], &[DanglingId])]
#[case::dangling_dose_rule(&[("instead-of: [usual]", "instead-of: [§drills-first]")], &[DanglingId])]
#[case::dangling_skill(&[("{from: push, to: pull", "{from: §puhs, to: pull")], &[DanglingId])]
#[case::dangling_stress(&[("{of: back, per", "{of: §neck, per")], &[DanglingId])]
#[case::dangling_field(&[("when-ruled-out-by: [limits]", "when-ruled-out-by: [§limit]")], &[DanglingId])]
#[case::dangling_deep_inside(&[(ALIKE, "not-too-alike: {what: {any: [{not: [{with-all: [§pause-lo]}]}, {under: [full-pull]}]}")], &[DanglingId])]
#[case::dangling_in_a_condition(&[("{when: {case: {limits: {has: [wrist]}}}, say", "{when: {any: [{phase: [§bas]}, {none: [{focus-skills: [§pul], demand: {§lat: {at-least: 3}}}]}]}, say")], &[DanglingId, DanglingId, DanglingId])]
#[case::composed_without_roles(&[("  count:\n", "  compose:\n    made: {what: {alone: true}, roles: §[], per-cause-at-most: 1, because: So., source: {ours: a start}}\n  count:\n")], &[EmptyMap])]
#[case::composed_none(&[("  count:\n", "  compose:\n    made: {what: {alone: true}, roles: [drill], per-cause-at-most: §0, because: So., source: {ours: a start}}\n  count:\n")], &[OutOfRange])]
#[case::kept_for_good(&[("  count:\n", "  kept:\n    begun: {what: {alone: true}, weeks: 3, §yields: never, because: So., source: {ours: a start}}\n  count:\n")], &[Contradiction])]
#[case::kept_for_a_week(&[("  count:\n", "  kept:\n    begun: {what: {alone: true}, weeks: §1, yields: last, because: So., source: {ours: a start}}\n  count:\n")], &[OutOfRange])]
#[case::kept_where_it_stood(&[("  count:\n", "  kept:\n    begun: {what: {not: [{parts: [§lifts]}]}, weeks: 3, yields: last, because: So., source: {ours: a start}}\n  count:\n")], &[Contradiction])]
#[case::shifted_for_good(&[("  count:\n", "  shift:\n    moves: {of: {alone: true}, to: {everything: true}, up-at-most: 5, §yields: never, because: So., source: {ours: a start}}\n  count:\n")], &[Contradiction])]
#[case::shifted_by_more_than_all(&[("  count:\n", "  shift:\n    moves: {of: {alone: true}, to: {everything: true}, up-at-most: §101, yields: last, because: So., source: {ours: a start}}\n  count:\n")], &[OutOfRange])]
#[case::shifted_in_days(&[("  count:\n", "  shift:\n    moves: {of: {alone: true}, to: {everything: true}, §counted-in: days, up-at-most: 5, yields: last, because: So., source: {ours: a start}}\n  count:\n")], &[Contradiction])]
#[case::shifted_without_a_bound(&[("  count:\n", "  shift:\n    §moves: {of: {alone: true}, to: {everything: true}, yields: last, because: So., source: {ours: a start}}\n  count:\n")], &[MissingKey])]
#[case::shifted_on_days_of_an_effort(&[("  count:\n", "  shift:\n    moves: {of: {efforts: [§heavy]}, to: {everything: true}, up-at-most: 5, yields: last, because: So., source: {ours: a start}}\n  count:\n")], &[Contradiction])]
#[case::stepped_by_nothing(&[("  count:\n", "  load-step:\n    heavier: {what: {alone: true}, points: §0, because: So., source: {ours: a start}}\n  count:\n")], &[OutOfRange])]
#[case::stepped_too_far(&[("  count:\n", "  load-step:\n    heavier: {what: {alone: true}, points: §31, because: So., source: {ours: a start}}\n  count:\n")], &[OutOfRange])]
#[case::stepped_by_what_is_not_known_yet(&[("  count:\n", "  load-step:\n    heavier: {what: {§percent: {at-least: 80}}, points: 2, because: So., source: {ours: a start}}\n  count:\n")], &[Contradiction])]
#[case::empty_selector(&[(ALIKE, "not-too-alike: {what: §{}")], &[EmptyMap])]
#[case::empty_selector_inside(&[(ALIKE, "not-too-alike: {what: {not: [§{}]}")], &[EmptyMap])]
#[case::nothing_that_came(&[(ALIKE, "not-too-alike: {what: {tried: §[]}")], &[EmptyMap])]
#[case::what_cannot_come(&[(ALIKE, "not-too-alike: {what: {tried: [better, §best]}")], &[UnknownWord])]
#[case::empty_list_in_a_selector(&[(ALIKE, "not-too-alike: {what: {alone: true, roles: §[]}")], &[EmptyMap])]
#[case::empty_range_in_a_selector(&[(ALIKE, "not-too-alike: {what: {departing: §{}}")], &[EmptyMap])]
#[case::range_turned_round(&[(ALIKE, "not-too-alike: {what: {departing: §{at-least: 2, at-most: 1}}")], &[Contradiction])]
#[case::everything_and_more(&[(ALIKE, "not-too-alike: {what: §{everything: true, alone: true}")], &[Contradiction])]
#[case::not_everything(&[(ALIKE, "not-too-alike: {what: §{everything: false}")], &[Contradiction])]
#[case::group_circle(&[("says: Held feet., what: {with-any: [feet-still]}", "says: Held feet., what: {groups: [§held-or-paused]}")], &[Circle])]
#[case::group_of_itself(&[("says: Nothing needs it., what: {alone: true}", "says: Nothing needs it., what: {not: [{groups: [§spare]}]}")], &[Circle])]
#[case::full_form_that_is_none(&[("which: {full: [full-pull]}", "which: {full: [§bench-push]}")], &[Contradiction])]
#[case::percent_in_a_dose(&[(FOR_DRILLS, "    for-drills: {what: {§percent: {at-least: 80}}, give: plain, instead-of: [usual]")], &[Contradiction])]
#[case::percent_in_a_cap(&[("not-over: {what: {groups: [held]}", "not-over: {what: {not: [{§percent: {at-least: 80}}]}")], &[Contradiction])]
#[case::percent_in_a_group_of_a_trim(&[("what: {everything: true}, sets-fewer", "what: {groups: [§hard-work]}, sets-fewer")], &[Contradiction])]
#[case::percent_in_a_group_of_a_group(&[("what: {under: [full-pull]}, lightest", "what: {groups: [§spare]}, lightest"), ("what: {alone: true}", "what: {groups: [hard-work]}")], &[Contradiction])]
#[case::rules_out_what_is_not_placed(&[("{what: {new: true, percent: {at-least: 90}}, yields", "{what: {not: [{§roles: [main]}]}, yields")], &[Contradiction])]
#[case::rules_out_what_is_not_placed_deep_inside(&[("{what: {new: true, percent: {at-least: 90}}, yields", "{what: {any: [{not: [{any: [{§percent: {at-least: 3}}]}]}, {alone: true}]}, yields")], &[Contradiction])]
#[case::rules_out_what_is_in_no_placed_group(&[("{what: {new: true, percent: {at-least: 90}}, yields", "{what: {not: [{groups: [§hard-work]}]}, yields")], &[Contradiction])]
#[case::rules_out_by_a_group_what_is_not_placed(&[("{what: {new: true, percent: {at-least: 90}}, yields", "{what: {groups: [§held-or-paused]}, yields"), ("what: {with-any: [feet-still]}}", "what: {not: [{roles: [drill]}]}}")], &[Contradiction])]
#[case::rules_out_on_some_days_what_is_not_placed(&[("{what: {new: true, percent: {at-least: 90}}, yields", "{what: {not: [{roles: [main]}]}, on: {efforts: [heavy]}, yields")], &[])]
#[case::costs_what_is_not_placed(&[("{what: {new: true, percent: {at-least: 90}}, yields: never", "{what: {not: [{roles: [main]}]}, yields: last")], &[])]
#[case::days_of_a_field_that_is_the_same(&[("{case-of-day: {length: {at", "{case-of-day: {§minutes: {at")], &[Contradiction])]
#[case::days_of_a_word(&[("{case-of-day: {length: {at-least: 30}}}", "{case-of-day: {§level: {is: [trained]}}}")], &[Contradiction])]
#[case::days_of_no_field(&[("{case-of-day: {length: {at", "{case-of-day: {§lenth: {at")], &[DanglingId])]
#[case::a_day_is_always_known(&[("{length: {at-least: 30}}", "{length: {§known: true}}")], &[UnknownKey])]
#[case::words_of_a_day(&[("{length: {at-least: 30}}", "{length: {§is: [long]}}")], &[UnknownKey])]
#[case::empty_test_of_a_day(&[("{length: {at-least: 30}}", "{length: §{}}")], &[EmptyMap])]
#[case::no_test_of_a_day(&[("{case-of-day: {length: {at-least: 30}}}", "{case-of-day: §{}}")], &[EmptyMap])]
#[case::empty_when(&[("{when: {case: {limits: {has: [wrist]}}}, say", "{when: §{}, say")], &[EmptyMap])]
#[case::if_unknown_missing(&[("{when: {case: {sleep: {is: [good]}}}, if-unknown: skip,", "{§when: {case: {sleep: {is: [good]}}},")], &[MissingKey])]
#[case::if_unknown_missing_for_a_date(&[("{when: {case: {meet: {at-most: 7}}}, if-unknown: skip,", "{§when: {none: [{case: {meet: {at-most: 7}}}]},")], &[MissingKey])]
#[case::if_unknown_is_said_by_known(&[("{when: {case: {sleep: {is: [good]}}}, if-unknown: skip,", "{when: {case: {sleep: {known: true, is: [good]}}},")], &[])]
#[case::if_unknown_missing_for_an_age(&[("{when: {case: {limits: {has: [wrist]}}}, say", "{§when: {none: [{best-age: {best-pull: {at-least: 3}}}]}, say")], &[MissingKey])]
#[case::age_of_no_best(&[("{when: {case: {limits: {has: [wrist]}}}, say", "{when: {best-age: {§best-pul: {at-least: 3}}}, if-unknown: skip, say")], &[DanglingId])]
#[case::age_of_any_number(&[("{when: {case: {limits: {has: [wrist]}}}, say", "{when: {best-age: {best-pull: §{}}}, if-unknown: skip, say")], &[EmptyMap])]
#[case::if_unknown_for_nothing(&[("{has: [wrist]}}}, say", "{has: [wrist]}}}, §if-unknown: skip, say")], &[UnknownKey])]
#[case::if_unknown_without_when(&[("around: {warm", "around: {§if-unknown: apply, warm")], &[UnknownKey])]
#[case::count_of_nothing(&[("    lift-weekly:", "    §lift-weekly:"), ("at-least: 1, at-most: 4, scaled", "scaled")], &[MissingKey])]
#[case::count_turned_round(&[("at-least: 1, at-most: 4, scaled", "at-least: §5, at-most: 4, scaled")], &[Contradiction])]
#[case::count_in_units_of_nothing(&[("at-least: 1, at-most: 4, scaled", "at-least: 1, unit: §0, scaled")], &[OutOfRange])]
#[case::dangling_fault_of_how_often(&[("faults: [bar-low]", "faults: [§bar-lo]")], &[DanglingId])]
#[case::no_steps(&[("steps: [{from: 20, percent: 50}, {from: 40, percent: 100}]", "steps: §[]")], &[EmptyMap])]
#[case::step_from_nothing(&[("{from: 20, percent: 50}", "{from: §0, percent: 50}")], &[OutOfRange])]
#[case::step_counts_too_much(&[("{from: 40, percent: 100}", "{from: 40, percent: §101}")], &[OutOfRange])]
#[case::steps_that_do_not_rise(&[("{from: 40, percent: 100}", "{from: §20, percent: 100}")], &[OutOfRange])]
#[case::less_for_more(&[("{from: 40, percent: 100}", "{from: 40, percent: §40}")], &[OutOfRange])]
#[case::how_often_asks_for_demand(&[("not-by-chance: {faults", "not-by-chance: {when: {none: [{demand: {§late: {at-least: 3}}}]}, faults")], &[Contradiction])]
#[case::how_often_asks_for_focus(&[("not-by-chance: {faults", "not-by-chance: {when: {focus-skills: [§pull]}, faults")], &[Contradiction])]
#[case::cap_of_nothing(&[("    not-over:", "    §not-over:"), ("percent-of-reference-at-most: 85, ", "")], &[MissingKey])]
#[case::cap_above_its_own_highest(&[("percent-of-reference-at-most: 85", "percent-of-own-highest-at-most: §101")], &[OutOfRange])]
#[case::minutes_of_nothing(&[("    in-time:", "    §in-time:"), ("at-most: {field: minutes}, at-least: {whole: 20}, ", "")], &[MissingKey])]
#[case::minutes_without_amount(&[("at-least: {whole: 20}", "at-least: §{percent: 50}")], &[MissingKey])]
#[case::minutes_with_two_amounts(&[("at-least: {whole: 20}", "at-least: §{whole: 20, field: minutes}")], &[Contradiction])]
#[case::minutes_with_percent_of_nothing(&[("at-least: {whole: 20}", "at-least: {whole: 20, percent: §50}")], &[Contradiction])]
#[case::minutes_of_a_word(&[("at-most: {field: minutes}", "at-most: {field: §level}")], &[Contradiction])]
#[case::proportion_of_nothing(&[("    drills-to-lifts:", "    §drills-to-lifts:"), ("percent-at-most: 150, ", "")], &[MissingKey])]
#[case::proportion_turned_round(&[("percent-at-most: 150", "percent-at-most: 50, percent-at-least: §60")], &[Contradiction])]
#[case::repeat_of_nothing(&[("    come-back:", "    §come-back:"), ("at-least-if-used: 2, ", "")], &[MissingKey])]
#[case::least_load_of_nothing(&[("    full-discs:", "    §full-discs:"), ("lightest-full-diameter: true, ", "")], &[MissingKey])]
#[case::free_days(&[("free-days: 1", "free-days: §7")], &[OutOfRange])]
#[case::focus_on_nothing(&[("per-skill-at-most: 2", "per-skill-at-most: §0")], &[OutOfRange])]
#[case::weight_of_nothing(&[("weight: 3", "weight: §0")], &[OutOfRange])]
#[case::ramp_not_from_zero(&[("{from-percent: 0, seconds: 60}", "§{from-percent: 10, seconds: 60}")], &[OutOfRange])]
#[case::ramp_not_rising(&[("{from-percent: 70, seconds", "§{from-percent: 0, seconds")], &[OutOfRange])]
#[case::carries_over_to_itself(&[("{from: push, to: pull", "{from: push, to: §push")], &[Contradiction])]
#[case::carries_over_too_much(&[("causes: [weak], percent: 20", "causes: [weak], percent: §101")], &[OutOfRange])]
#[case::stand_in_for_a_variation(&[("{of: full-pull,", "{of: §still-pull,")], &[Contradiction])]
#[case::stand_in_under_a_variation(&[("or-of: [bench-push]", "or-of: [§still-pull]")], &[Contradiction])]
#[case::two_stand_ins(&[("  fullest:\n", "  fullest:\n    another: {of: full-pull, when-ruled-out-by: [limits], say: {en: Out.}, because: So., source: {ours: x}}\n"), ("{of: full-pull, or-of", "{of: §full-pull, or-of")], &[Contradiction])]
#[case::two_worths(&[("  help-worth:\n", "  help-worth:\n    another: {table: help, because: So., source: {ours: x}}\n"), ("    worth-of-help:", "    §worth-of-help:")], &[Contradiction])]
#[case::two_doses_for_the_same(&[(FOR_DRILLS, "    §for-drills: {what: {everything: true}, give: plain")], &[Contradiction])]
#[case::two_doses_with_a_way_out(&[(FOR_DRILLS, "    for-drills: {what: {everything: true}, give: plain, instead-of: [usual]")], &[])]
#[case::dose_instead_of_itself(&[("instead-of: [usual]", "instead-of: [§for-drills]")], &[Circle])]
#[case::doses_in_a_circle(&[(USUAL, "    usual: {what: {everything: true}, give: plain, instead-of: [for-drills]"), ("for-drills: {what: {roles: [drill]}, give: plain, instead-of: [usual]", "for-drills: {what: {roles: [drill]}, give: plain, instead-of: [§usual]")], &[Circle])]
#[case::order_in_a_circle(&[("    drills-first:", "    §drills-first:"), (MAIN_THEN, "main-then: {first: {roles: [main]}, then: {roles: [drill]}, yields: never")], &[BeforeCircle])]
#[case::order_in_a_circle_that_yields(&[(MAIN_THEN, "main-then: {first: {roles: [main]}, then: {roles: [drill]}, yields: last")], &[])]
#[case::orders_that_oppose_in_other_words(&[(DRILLS_FIRST, "§drills-first: {first: {exercises: [full-pull]}, then: {under: [bench-push]}, yields: never"), (MAIN_THEN, "main-then: {first: {any: [{exercises: [bench-push]}]}, then: {full: [full-pull]}, yields: never")], &[BeforeCircle])]
#[case::orders_that_oppose_by_groups(&[(DRILLS_FIRST, "§drills-first: {first: {exercises: [full-pull]}, then: {groups: [held]}, yields: never"), (MAIN_THEN, "main-then: {first: {under: [still-pull]}, then: {exercises: [full-pull]}, yields: never"), ("what: {with-any: [feet-still]}}", "what: {under: [still-pull]}}")], &[BeforeCircle])]
#[case::orders_that_oppose_where_one_says_more(&[(DRILLS_FIRST, "§drills-first: {first: {exercises: [full-pull]}, then: {exercises: [still-pull, bench-push]}, yields: never"), (MAIN_THEN, "main-then: {first: {exercises: [bench-push]}, then: {exercises: [full-pull, paused-pull]}, yields: never")], &[BeforeCircle])]
#[case::orders_that_oppose_in_one_role(&[(DRILLS_FIRST, "§drills-first: {first: {roles: [drill]}, then: {roles: [main, extra]}, yields: never"), (MAIN_THEN, "main-then: {first: {roles: [extra]}, then: {roles: [drill]}, yields: never")], &[BeforeCircle])]
#[case::orders_that_oppose_whenever_they_speak(&[(DRILLS_FIRST, "§drills-first: {when: {phase: [peak]}, first: {roles: [drill]}, then: {roles: [main]}, yields: never"), (MAIN_THEN, "main-then: {when: {phase: [peak]}, first: {roles: [main]}, then: {roles: [drill]}, yields: never")], &[BeforeCircle])]
#[case::orders_that_oppose_when_one_speaks(&[(DRILLS_FIRST, "§drills-first: {when: {phase: [peak]}, first: {roles: [drill]}, then: {roles: [main]}, yields: never"), (MAIN_THEN, "main-then: {first: {roles: [main]}, then: {roles: [drill]}, yields: never")], &[BeforeCircle])]
#[case::orders_that_oppose_at_other_times(&[(DRILLS_FIRST, "drills-first: {when: {phase: [peak]}, first: {roles: [drill]}, then: {roles: [main]}, yields: never"), (MAIN_THEN, "main-then: {when: {phase: [base]}, first: {roles: [main]}, then: {roles: [drill]}, yields: never")], &[])]
#[case::orders_of_other_exercises(&[(DRILLS_FIRST, "drills-first: {first: {exercises: [full-pull]}, then: {exercises: [bench-push]}, yields: never"), (MAIN_THEN, "main-then: {first: {exercises: [bench-push]}, then: {exercises: [still-pull]}, yields: never")], &[])]
#[case::orders_that_overlap_in_part(&[(DRILLS_FIRST, "drills-first: {first: {exercises: [full-pull]}, then: {exercises: [still-pull, bench-push]}, yields: never"), (MAIN_THEN, "main-then: {first: {exercises: [bench-push, paused-pull]}, then: {exercises: [full-pull]}, yields: never")], &[])]
#[case::order_of_the_same(&[("    main-then: {first: {roles: [main]}, then: {roles: [extra]}", "    §main-then: {first: {roles: [main, extra]}, then: {roles: [extra, main]}")], &[Contradiction])]
fn a_broken_rule_is_told(#[case] edits: &[(&str, &str)], #[case] codes: &[Code]) {
    assert_problems(edits, codes);
}

#[test]
fn an_order_in_a_circle_is_shown_by_its_rules() {
    let third = "    zz-last: {first: {roles: [extra]}, then: {roles: [drill]}, yields: never, because: So., source: {ours: x}}\n  cap:\n";
    let found = assert_problems(
        &[
            ("    drills-first:", "    §drills-first:"),
            ("  cap:\n", third),
        ],
        &[BeforeCircle],
    );
    assert!(
        found[0]
            .what
            .ends_with("drills-first → main-then → zz-last → drills-first"),
        "{}",
        found[0].what
    );
    assert_eq!(found[0].also.len(), 2);
}
