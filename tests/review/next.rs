//! The case that goes on from a log: faults, what was tried, what was done, bests.

use drillwright::report::review_case;
use drillwright::{Case, ErrorKind};
use rstest::rstest;

use super::{CASE, DRILL, HEAD, fault, review, review_by, sets, weeks};
use crate::cli::rules_with;
use crate::corpus::BASE;

fn read(text: &str) -> Case {
    BASE.case_from_text("next.yaml", text)
        .unwrap_or_else(|wrong| panic!("{wrong}\n{text}"))
}

/// A review of a log with this case.
fn next(case: &str, log: &str) -> String {
    let case = BASE.case_from_text("case.yaml", case).unwrap();
    let log = BASE
        .log_from_text("log.csv", &format!("{HEAD}{log}"))
        .unwrap();
    review_case(&BASE.review(&case, &log).unwrap())
}

#[test]
fn what_was_seen_and_done_takes_the_place_of_what_was_said() {
    let mut lines = weeks((0, 6), (2, 8));
    lines.push(String::from("2026-11-18,back squat,100,5,0,,\n"));
    lines.push(String::from("2026-11-18,snatch,70,10,0,lost-overhead,10\n"));
    let case = review_case(&review(&lines));
    for line in [
        "  lifter: \"lifter A (invented)\"\n",
        "  today: \"2026-11-18\"\n",
        "    - fault: saved-backward\n      grade: one-step\n      seen: 8\n      of: 42\n",
        "    - fault: lost-overhead\n      skill: snatch\n      grade:",
        "    - {exercise: no-contact-snatch, came: learned}\n",
        "  did-last-week:\n    - back-squat\n    - no-contact-snatch\n    - snatch\n",
    ] {
        assert!(case.contains(line), "{line}: {case}");
    }
    read(&case);
}

/// All that a case can say is said again as it was.
#[test]
fn what_a_log_does_not_touch_stays_as_it_is_said() {
    let case = r#"format: 1
case:
  lifter: "lifter \"A\" \\ (invented)"
  today: "2027-01-05"
  phase: general
  faults:
    - {fault: hips-shoot-up, skill: clean, grade: clear, seen: 2, of: 5, from-percent: 85}
  observed: [heels-up-before-knee]
  measured: {foot-displacement: -31}
  ruled-out: [early-arms]
  sure-of: [{cause: hips-first, skill: clean}]
  bests: {best-snatch: {weight: 90.5, on: "2026-05-01"}, best-clean-and-jerk: 110}
  gym: {bar: mens-bar, other-bars: [womens-bar], collars: false, pairs: [{weight: 20, pairs: 2}, {weight: 2.5, pairs: 1}]}
  new: [held-feet-snatch, no contact snatch]
  disliked: ["pwr sn, no hook"]
  tried: [{exercise: "hang snatch", came: worse}]
  did-last-week: [front squat]
  training-days: {monday: {minutes: 60}, wednesday: {}, saturday: {minutes: 90}}
  fields: {level: intermediate, limits: []}
  by-skill: {clean: {level: novice}}
"#;
    let first = next(case, "2026-11-17,no-contact-snatch,60,3,0,,\n");
    read(&first);
    for line in [
        "lifter: \"lifter \\\"A\\\" \\\\ (invented)\"",
        // The case's own day is later.
        "today: \"2027-01-05\"",
        "    - fault: hips-shoot-up\n      skill: clean\n      grade: clear\n      seen: 2\n      of: 5\n      from-percent: 85\n",
        "foot-displacement: -31",
        "    - early-arms\n",
        "{cause: hips-first, skill: clean}",
        "best-snatch: {weight: 90.5, on: \"2026-05-01\"}",
        "best-clean-and-jerk: 110",
        "other-bars: [womens-bar]",
        "collars: false",
        "pairs: [{weight: 20, pairs: 2}, {weight: 2.5, pairs: 1}]",
        // What was done is not new any more.
        "  new:\n    - held-feet-snatch\n  disliked:",
        "    - \"pwr sn, no hook\"\n",
        "{exercise: \"hang snatch\", came: worse}",
        "did-last-week:\n    - no-contact-snatch\n",
        "monday: {minutes: 60}",
        "wednesday: {}",
        "    limits: []\n",
        "clean: {level: novice}",
    ] {
        assert!(first.contains(line), "{line}: {first}");
    }
    // Said once more it is the same to the byte.
    assert_eq!(
        next(&first, "2026-11-17,no-contact-snatch,60,3,0,,\n"),
        first
    );
}

#[test]
fn a_fault_that_is_gone_is_left_out_and_one_of_which_little_is_known_stays() {
    let gone = review_case(&review(&weeks((0, 5), (0, 6))));
    assert!(gone.contains("  faults: []\n"), "{gone}");
    assert!(gone.contains("came: better"), "{gone}");
    let few = review_case(&review(&[sets(7, "snatch", 6, 0)]));
    assert!(
        few.contains("- fault: saved-backward\n      grade: one-step\n  "),
        "{few}"
    );
    // One that only a drill showed is no fault of the lift.
    let drill = next(
        &CASE.replace("[{fault: saved-backward, grade: one-step}]", "[]"),
        &sets(7, DRILL, 6, 3),
    );
    assert!(drill.contains("  faults: []\n"), "{drill}");
}

/// A load that was made above the best is the best; the first day on which it was made counts.
#[rstest]
#[case::made(
    "2026-11-17,snatch,92.5,1,0,,\n2026-11-12,snatch,92.5,1,0,,\n",
    "best-snatch: {weight: 92.5, on: \"2026-11-12\"}"
)]
#[case::missed("2026-11-17,snatch,92.5,0,1,,\n", "best-snatch: 90\n")]
#[case::equal("2026-11-17,snatch,90,1,0,,\n", "best-snatch: 90\n")]
#[case::another_form("2026-11-17,power snatch,92.5,1,0,,\n", "best-snatch: 90\n")]
#[case::several_times(
    "2026-11-17,back squat,151,2,0,,\n",
    "best-back-squat: {weight: 151, on: \"2026-11-17\"}"
)]
#[case::only_estimated("2026-11-17,back squat,145,5,0,,\n", "best-back-squat: 150\n")]
fn bests_follow_from_what_was_made(#[case] log: &str, #[case] line: &str) {
    let case = next(CASE, log);
    assert!(case.contains(line), "{line}: {case}");
}

/// What stands in for a best that is not stated is not undone by less.
#[test]
fn a_load_below_what_stands_in_is_no_best() {
    let case = CASE.replace("best-snatch: 90", "best-clean-and-jerk: 112");
    let log = "2026-11-17,clean and jerk,100,1,0,,\n";
    assert!(!next(&case, log).contains("best-clean:"));
    let more = next(&case, "2026-11-17,clean and jerk,113,1,0,,\n");
    for best in ["best-clean-and-jerk", "best-clean", "best-jerk"] {
        let line = format!("{best}: {{weight: 113, on: \"2026-11-17\"}}");
        assert!(more.contains(&line), "{line}: {more}");
    }
}

/// An estimate is told as one, from one set of few repetitions, and becomes a best where the rules say so alone.
#[test]
fn estimates_are_told() {
    let log = |line: &str| format!("{HEAD}2026-11-17,back squat,{line},0,,\n");
    let held = review_by(&BASE, &log("145,5"));
    let [made] = held.estimates.as_slice() else {
        panic!("{:?}", held.estimates);
    };
    // 145 × 36 / 32 = 163.125, rounded down to halves.
    assert_eq!(
        (made.once.to_string().as_str(), made.formula),
        ("163", "Brzycki")
    );
    assert!(made.is_above && !made.becomes_best);
    // Of six repetitions, of one, and of technical lifts there is none.
    assert!(review_by(&BASE, &log("145,6")).estimates.is_empty());
    assert!(review_by(&BASE, &log("145,1")).estimates.is_empty());
    let snatch = format!("{HEAD}2026-11-17,snatch,80,3,0,,\n");
    assert!(review_by(&BASE, &snatch).estimates.is_empty());
    // Nor of several sets in one entry, since nobody knows how many repetitions one had.
    let sets = "date,exercise,load,made,sets\n2026-11-17,back squat,145,4,2\n";
    assert!(review_by(&BASE, sets).estimates.is_empty());
    let other = |formula: &str| {
        let base = rules_with("formula: brzycki", formula);
        let made = review_by(&base, &log("100,5")).estimates.remove(0);
        made.once.to_string()
    };
    // 116.667 and 116.583, rounded down to halves.
    assert_eq!(other("formula: epley"), "116.5");
    assert_eq!(other("formula: wathan"), "116.5");
    let base = rules_with("round-to: 0.5", "round-to: 0.5\n      becomes-best: true");
    let case = review_case(&review_by(&base, &log("145,5")));
    let line = "best-back-squat: {weight: 163, on: \"2026-11-17\"}";
    assert!(case.contains(line), "{case}");
}

/// The next case has a week; with a drill that is learned it is another one.
#[test]
fn the_next_block_starts_from_the_review() {
    let text = std::fs::read_to_string(crate::cli::root().join("tests/cli/log.csv")).unwrap();
    let demo =
        std::fs::read_to_string(crate::cli::root().join("examples/coach/demo.yaml")).unwrap();
    let case = BASE.case_from_text("demo.yaml", &demo).unwrap();
    let log = BASE.log_from_text("log.csv", &text).unwrap();
    let review = BASE.review(&case, &log).unwrap();
    assert_eq!(fault(&review, "saved-backward").full.last.seen, 15);
    let next = read(&review_case(&review));
    let week = BASE.solve(&next).unwrap().into_week().unwrap();
    let learned = |item: &drillwright::explain::Item| {
        item.exercise.as_str() == "held-feet-snatch" && item.role.as_str() == "corrective"
    };
    let mut items = week.sessions.iter().flat_map(|session| &session.items);
    assert!(!items.any(learned));
}

#[test]
fn the_day_can_be_said() {
    let case = BASE.case_from_text("case.yaml", CASE).unwrap();
    let log = format!("{HEAD}2026-11-17,snatch,60,2,0,,\n");
    let log = BASE.log_from_text("log.csv", &log).unwrap();
    let later = BASE.review_on(&case, &log, Some("2026-11-20")).unwrap();
    assert!(review_case(&later).contains("today: \"2026-11-20\""));
    for (day, what) in [
        ("2026-11-16", "after 2026-11-16"),
        ("20 November", "no day"),
    ] {
        let wrong = BASE.review_on(&case, &log, Some(day)).unwrap_err();
        assert_eq!(wrong.kind(), ErrorKind::Log);
        assert!(wrong.to_string().contains(what), "{wrong}");
    }
}
