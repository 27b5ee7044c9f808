//! `dose`, `trim`, `cap`, `ramp`, `timing`, and what an effort picks.

use drillwright::explain::Placing;
use rstest::rstest;

use super::small::{case, judge, missed, pack, week};
use crate::oracle::Oracle;
use crate::oracle::dose::Done;

fn done(rules: &str, day: usize, exercise: &str, role: &str, part: &str) -> Done {
    Oracle::new(&pack(rules), &case(""))
        .item(day, part, role, exercise)
        .unwrap()
        .done
}

fn as_done(sets: i64, reps: i64, percent: Option<(i64, i64)>, seconds: i64) -> Done {
    Done {
        sets,
        reps,
        percent,
        asked: percent,
        seconds,
    }
}

#[rstest]
// Stout: sets 3 + 2 × 70 % = 4.4, reps 2, 60 + 20 × 60 % = 72 to 80, rest 200: 4 × 220.
#[case(0, "swaling", "prime", "main", as_done(4, 2, Some((72, 80)), 880))]
// Mild: 3 sets of 4, 60 to 60 + 20 × 40 % = 68, rest 100 + 100 × 40 % = 140: 3 × 160.
#[case(1, "swaling", "prime", "main", as_done(3, 4, Some((60, 68)), 480))]
// A complex does its own 1 + 2 each set.
#[case(1, "tied-then-free", "mend", "main", as_done(3, 3, Some((60, 68)), 480))]
// The bare dose stands instead of the usual one: 2 × 100 seconds, no load.
#[case(1, "mooring", "side", "end", as_done(2, 8, None, 200))]
fn efforts(
    #[case] day: usize,
    #[case] exercise: &str,
    #[case] role: &str,
    #[case] part: &str,
    #[case] expected: Done,
) {
    assert_eq!(done("", day, exercise, role, part), expected);
}

const TWO: &str = "
  dose:
    give-usual: {what: {skills: [swale]}, give: usual}
    give-bare: {what: {skills: [tarn]}, give: bare}
    give-tied: {what: {with-any: [tether]}, give: bare, instead-of: [give-usual]}
    give-halt: {what: {with-any: [halting]}, give: usual}
  count: {it: {what: {everything: true}, per: week, counted-in: sets, at-most: 0, yields: last}}";

#[rstest]
// Usual: 4 sets. Bare: 2. Tied: bare instead of usual.
#[case("swaling prime | |", 4)]
#[case("tarning prime | |", 2)]
#[case("tied-swaling mend | |", 2)]
fn dose(#[case] week: &str, #[case] sets: i64) {
    assert_eq!(missed(TWO, "", week), sets);
}

#[rstest]
fn exactly_one_dose_must_be_left() {
    // None for the moor; two for the halting one: no candidates.
    assert_eq!(judge(TWO, "", "| mooring side end |").hard_broken, ["dose"]);
    // The crate does not leave out what its rules leave open, but says so.
    let (files, case, week) = (pack(TWO), case(""), week("halt-swaling mend | |"));
    let oracle = Oracle::new(&files, &case);
    assert_eq!(oracle.evaluate(&week).hard_broken, ["dose"]);
    let base = drillwright::KnowledgeBase::from_texts(files).unwrap();
    let case = base.case_from_text("case.yaml", &case).unwrap();
    let week = [
        vec![Placing::new("main", "mend", "halt-swaling")],
        vec![],
        vec![],
    ];
    let error = base.recheck_placed(&case, &week).unwrap_err();
    assert_eq!(error.kind(), drillwright::ErrorKind::Open);
    assert!(error.to_string().contains("`give-halt`"), "{error}");
}

#[rstest]
// 4 sets on a stout day, 3 on a mild one.
#[case(
    "one: {what: {skills: [swale]}, sets-fewer: 1, sets-at-least: 1}",
    3,
    2
)]
// Trims add: 2 fewer; the largest least holds.
#[case(
    "one: {what: {skills: [swale]}, sets-fewer: 1, sets-at-least: 1}, two: {what: {everything: true}, sets-fewer: 1, sets-at-least: 2}",
    2,
    2
)]
// What does not match neither trims nor holds.
#[case(
    "one: {what: {skills: [swale]}, sets-fewer: 3, sets-at-least: 1}, two: {what: {skills: [tarn]}, sets-fewer: 1, sets-at-least: 3}",
    1,
    1
)]
// A trim for mild days only.
#[case(
    "one: {what: {efforts: [mild]}, sets-fewer: 1, sets-at-least: 1}",
    4,
    2
)]
fn trim(#[case] rules: &str, #[case] stout: i64, #[case] mild: i64) {
    let rules = format!(
        "\n  trim: {{{rules}}}
  count: {{it: {{what: {{everything: true}}, per: week, counted-in: sets, at-most: 0, yields: last}}}}"
    );
    assert_eq!(missed(&rules, "", "swaling prime | |"), stout);
    assert_eq!(missed(&rules, "", "| swaling prime |"), mild);
}

#[rstest]
// Stout is 72 to 80. Capped at 75: both ends go down by 5.
#[case("one: {what: {everything: true}, percent-of-reference-at-most: 75}", "swaling", (67, 75))]
// A cap that is not reached does nothing.
#[case("one: {what: {everything: true}, percent-of-reference-at-most: 80}", "swaling", (72, 80))]
// Highest of tied-swaling is 80: 91 percent of it are 72 (72.8 rounded down).
#[case("one: {what: {everything: true}, percent-of-own-highest-at-most: 91}", "tied-swaling", (64, 72))]
// The least of all counts: 72 and 70.
#[case("one: {what: {everything: true}, percent-of-own-highest-at-most: 91, percent-of-reference-at-most: 70}", "tied-swaling", (62, 70))]
#[case("one: {what: {everything: true}, percent-of-reference-at-most: 78}, two: {what: {roles: [mend]}, percent-of-reference-at-most: 71}", "halt-swaling", (63, 71))]
// The low end is 1 at least.
#[case("one: {what: {everything: true}, percent-of-reference-at-most: 5}", "swaling", (1, 5))]
fn cap(#[case] rules: &str, #[case] exercise: &str, #[case] percent: (i64, i64)) {
    let role = if exercise == "swaling" {
        "prime"
    } else {
        "mend"
    };
    let rules = format!("\n  cap: {{{rules}}}");
    assert_eq!(
        done(&rules, 0, exercise, role, "main"),
        as_done(4, 2, Some(percent), 880)
    );
}

#[rstest]
// Stout is 72 to 80, mild 60 to 68. Steps of all that speak add.
#[case("one: {what: {everything: true}, points: 3}", 0, Some((75, 83)))]
#[case("one: {what: {everything: true}, points: 3}, two: {what: {skills: [swale]}, points: -8}", 0, Some((67, 75)))]
#[case("one: {what: {efforts: [mild]}, points: -10}", 0, Some((72, 80)))]
#[case("one: {what: {efforts: [mild]}, points: -10}", 1, Some((50, 58)))]
#[case("one: {what: {everything: true}, on: {marks: [feast]}, points: 5}", 0, Some((77, 85)))]
#[case("one: {what: {everything: true}, on: {marks: [feast]}, points: 5}", 1, Some((60, 68)))]
fn load_step(#[case] rules: &str, #[case] day: usize, #[case] percent: Option<(i64, i64)>) {
    let rules = format!("\n  load-step: {{{rules}}}");
    assert_eq!(
        done(&rules, day, "swaling", "prime", "main").percent,
        percent
    );
}

/// A cap holds what comes of a step, and what has no load gets none.
#[rstest]
fn a_load_step_stays_below_a_cap() {
    let rules = "\n  load-step: {one: {what: {everything: true}, points: 9}}\n  cap: {one: {what: {everything: true}, percent-of-reference-at-most: 82}}";
    assert_eq!(
        done(rules, 0, "swaling", "prime", "main").percent,
        Some((74, 82))
    );
    assert_eq!(done(rules, 1, "mooring", "side", "end").percent, None);
}

const RAMPS: &str = "
  ramp:
    long: {what: {everything: true}, steps: [{from-percent: 0, seconds: 100}, {from-percent: 68, seconds: 200}, {from-percent: 81, seconds: 400}]}
    short: {what: {roles: [mend]}, steps: [{from-percent: 0, seconds: 60}]}";

#[rstest]
// Top 80: 200. Top 68: 200 too. Without a load the first: 100. Two ramps: the shorter.
#[case(0, "swaling", "prime", "main", 1080)]
#[case(1, "swaling", "prime", "main", 680)]
#[case(1, "mooring", "side", "end", 300)]
#[case(0, "halt-swaling", "mend", "main", 940)]
fn ramp(
    #[case] day: usize,
    #[case] exercise: &str,
    #[case] role: &str,
    #[case] part: &str,
    #[case] seconds: i64,
) {
    assert_eq!(done(RAMPS, day, exercise, role, part).seconds, seconds);
}

#[rstest]
// 600 + 2 × (880 + 60) = 2480: 41 minutes and 20 seconds are 41 started minutes above one.
#[case(
    "one: {warm-up-seconds: 600, changeover-seconds: 60}",
    "swaling prime, tarning prime | |",
    41
)]
// Of two, each value's largest: 600 + 880 + 90 = 1570, 26 started minutes above one.
#[case(
    "one: {warm-up-seconds: 600, changeover-seconds: 60}, two: {warm-up-seconds: 60, changeover-seconds: 90}",
    "swaling prime | |",
    26
)]
// A session with no item takes none.
#[case("one: {warm-up-seconds: 600, changeover-seconds: 60}", "| |", 0)]
fn timing(#[case] rules: &str, #[case] week: &str, #[case] minutes: i64) {
    let rules = format!(
        "\n  timing: {{{rules}}}\n  minutes: {{it: {{at-most: {{whole: 1}}, unit: 1, yields: last}}}}"
    );
    assert_eq!(missed(&rules, "", week), minutes);
}
