//! Sums over the week: `count`, `floor`, `proportion`, `repeat`, and the factors of bounds.

use rstest::rstest;

use super::small::missed;

const THREE: &str = "swaling prime, halt-swaling mend | swaling prime |";

#[rstest]
#[case("per: week, at-most: 2", "", 1)]
#[case("per: week, at-least: 5", "", 2)]
#[case("per: week, at-least: 9, unit: 4", "", 2)]
// Days with at least one: 2. Sets: 4 + 4 + 3. Repetitions: 8 + 8 + 12.
#[case("per: week, counted-in: days, at-least: 3", "", 1)]
#[case("per: week, counted-in: sets, at-most: 10", "", 1)]
#[case("per: week, counted-in: reps, at-least: 30", "", 2)]
// Only the day with the mark: 2.
#[case("per: week, at-most: 0, on: {marks: [feast]}", "", 2)]
// Half of 5 is 2 (rounded down) in autumn; 5 in spring, where nothing is said.
#[case("per: week, at-most: 5, scaled-by: [season]", "phase: autumn", 1)]
#[case("per: week, at-most: 5, scaled-by: [season]", "phase: spring", 0)]
// 150 percent for a green one, 100 for a ripe one and where it is not known.
#[case(
    "per: week, at-least: 3, scaled-by: [rank]",
    "fields: {standing: green}",
    1
)]
#[case(
    "per: week, at-least: 3, scaled-by: [rank]",
    "fields: {standing: ripe}",
    0
)]
#[case("per: week, at-least: 3, scaled-by: [rank]", "", 0)]
// 40 percent from 2 hours on, 80 from 4 on, 100 below 2 and where they are not known. Of 5: 2, 4, 5, 5.
#[case("per: week, at-least: 5, scaled-by: [span]", "fields: {hours: 3}", 0)]
#[case("per: week, at-least: 5, scaled-by: [span]", "fields: {hours: 4}", 1)]
#[case("per: week, at-least: 5, scaled-by: [span]", "fields: {hours: 1}", 2)]
#[case("per: week, at-least: 5, scaled-by: [span]", "", 2)]
// 7 × 150 × 50 / 10000 is 5.25, so 5. 5 × 150 × 50 / 10000 is 3.75, so 3.
#[case(
    "per: week, at-least: 7, scaled-by: [rank, season]",
    "phase: autumn; fields: {standing: green}",
    2
)]
#[case(
    "per: week, at-least: 5, scaled-by: [rank, season]",
    "phase: autumn; fields: {standing: green}",
    0
)]
fn count_of_a_week(#[case] rule: &str, #[case] case: &str, #[case] units: i64) {
    let rules = format!("\n  count: {{it: {{what: {{skills: [swale]}}, {rule}, yields: last}}}}");
    assert_eq!(missed(&rules, case, THREE), units);
}

#[rstest]
// Grace: swaling 3, halt-swaling 3 + 1 = 4: 10 in the week.
#[case("quality: grace, points-at-least: 10", "", THREE, 0)]
#[case("quality: grace, points-at-least: 14", "", THREE, 4)]
#[case("quality: grace, points-at-least: 14, unit: 3", "", THREE, 2)]
#[case(
    "quality: grace, points-at-least: 21, scaled-by: [season]",
    "phase: autumn",
    THREE,
    0
)]
// Force: light tarning 3 - 1 = 2; mooring 1, of which a side role counts 0; a plain one 1.
#[case(
    "quality: force, points-at-least: 5",
    "",
    "| light-tarning mend, mooring side end |",
    3
)]
#[case(
    "quality: force, points-at-least: 5",
    "",
    "| light-tarning mend, mooring plain end |",
    2
)]
// The complex gives the most of its components: 3.
#[case("quality: grace, points-at-least: 4", "", "tied-then-free mend | |", 1)]
fn floor(#[case] rule: &str, #[case] case: &str, #[case] week: &str, #[case] units: i64) {
    assert_eq!(
        missed(
            &format!("\n  floor: {{it: {{{rule}, yields: last}}}}"),
            case,
            week
        ),
        units
    );
}

#[rstest]
// 1 of 3: 100 against 20 × 3 = 60 and 33 × 3 = 99: above by less than a hundred. 34 × 3 = 102 is enough.
#[case("percent-at-most: 20", THREE, 1)]
#[case("percent-at-most: 33", THREE, 1)]
#[case("percent-at-most: 34", THREE, 0)]
// 100 × 2 against 0: two units.
#[case("percent-at-most: 0", "halt-swaling mend | halt-swaling mend |", 2)]
// At least 90 percent of 3 is 270: 170 short, two units; by twos one.
#[case("percent-at-least: 90", THREE, 2)]
#[case("percent-at-least: 90, unit: 2", THREE, 1)]
// Repetitions: 8 of 28. 100 × 8 against 20 × 28 = 560: 240 above, three units.
#[case("percent-at-most: 20, counted-in: reps", THREE, 3)]
// Days: 1 of 2. 100 against 40 × 2.
#[case("percent-at-most: 40, counted-in: days", THREE, 1)]
// Nothing of nothing.
#[case("percent-at-least: 90", "| |", 0)]
fn proportion(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!(
        "\n  proportion: {{it: {{of: {{roles: [mend]}}, to: {{skills: [swale]}}, {rule}, yields: last}}}}"
    );
    assert_eq!(missed(&rules, "", week), units);
}

#[rstest]
// Swaling twice, halt-swaling once, the others not at all.
#[case("at-least-if-used: 2", THREE, 1)]
#[case("at-most: 1", THREE, 1)]
#[case("at-least-if-used: 3", THREE, 3)]
#[case("at-least-if-used: 3", "| |", 0)]
fn repeat(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!("\n  repeat: {{it: {{what: {{everything: true}}, {rule}, yields: last}}}}");
    assert_eq!(missed(&rules, "", week), units);
}

#[rstest]
fn repeat_counts_items_that_are_meant() {
    // Halt-swaling is a mend once and plain once: one item of `what`.
    let rules = "\n  repeat: {it: {what: {roles: [mend]}, at-least-if-used: 2, yields: last}}";
    assert_eq!(
        missed(rules, "", "halt-swaling mend | halt-swaling plain |"),
        1
    );
}

/// Swaling for one week, halt-swaling as a mend for three, tarning without a load.
const BEFORE: &str = "week-before: [{exercise: swaling, role: prime, sets: 4, reps: 2, percent: 80}, {exercise: halt-swaling, role: mend, sets: 5, reps: 2, percent: 70, weeks: 3}, {exercise: halt-swaling, role: mend, sets: 3, reps: 4, percent: 65, weeks: 3}, {exercise: tarning, role: plain, sets: 3, reps: 3, weeks: 2}]";

#[rstest]
// Fewer than three weeks: swaling and tarning; the latter is not there.
#[case("what: {everything: true}, weeks: 3", THREE, 1)]
// Fewer than four: halt-swaling too, once, however many lines it had.
#[case("what: {everything: true}, weeks: 4", "| |", 3)]
#[case("what: {everything: true}, weeks: 4", THREE, 1)]
// What is asked is asked of then and of now: a mend again, not the same lift as something else.
#[case("what: {roles: [mend]}, weeks: 4", "halt-swaling mend | |", 0)]
#[case("what: {roles: [mend]}, weeks: 4", "halt-swaling plain | |", 1)]
// Of then only what had such a load: halt-swaling at 70; now it has 80 on a stout day.
#[case(
    "what: {percent: {at-least: 70, at-most: 75}}, weeks: 4",
    "halt-swaling mend | |",
    1
)]
#[case(
    "what: {percent: {at-least: 70}}, weeks: 4",
    "halt-swaling mend, swaling prime | |",
    0
)]
#[case("what: {skills: [moor]}, weeks: 4", "| |", 0)]
fn kept(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!("\n  kept: {{it: {{{rule}, yields: last}}}}");
    assert_eq!(missed(&rules, BEFORE, week), units);
    assert_eq!(missed(&rules, "", week), 0);
}

#[rstest]
// Then 2 of 4 lines were mends, 50 percent; now 1 of 3: 100 against 50 × 3.
#[case("up-at-most: 0", THREE, 0)]
#[case("down-at-most: 0", THREE, 1)]
#[case("down-at-most: 16", THREE, 1)]
#[case("down-at-most: 17", THREE, 0)]
// Sets: then 8 of 15, 53.3 percent, so at most 54 and at least 53. Now 4 of 4: 400 against 216, 184 above.
#[case("counted-in: sets, up-at-most: 0", "halt-swaling mend | |", 2)]
#[case("counted-in: sets, up-at-most: 21", "halt-swaling mend | |", 1)]
#[case("counted-in: sets, up-at-most: 0, unit: 2", "halt-swaling mend | |", 1)]
// 4 of 11 now: 400 against 53 × 11 = 583.
#[case("counted-in: sets, down-at-most: 0", THREE, 2)]
// Repetitions: then 22 of 39, 56.4 percent: 57 and 56. Now 8 of 28.
#[case("counted-in: reps, up-at-most: 5, down-at-most: 5", THREE, 7)]
#[case("counted-in: reps, up-at-most: 0", "halt-swaling mend | |", 4)]
// Nothing of nothing.
#[case("down-at-most: 0", "| |", 0)]
fn shift(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!(
        "\n  shift: {{it: {{of: {{roles: [mend]}}, to: {{everything: true}}, {rule}, yields: last}}}}"
    );
    assert_eq!(missed(&rules, BEFORE, week), units);
    assert_eq!(missed(&rules, "", week), 0);
}

#[test]
fn a_share_of_nothing_bounds_nothing() {
    let rules =
        "\n  shift: {it: {of: {roles: [mend]}, to: {skills: [moor]}, up-at-most: 0, yields: last}}";
    assert_eq!(
        missed(rules, BEFORE, "halt-swaling mend | mooring plain |"),
        0
    );
}
