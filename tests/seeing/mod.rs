//! Watched attempts: what they say, from how much, and what becomes of it.

mod broken;
mod in_rules;
mod signs;

use drillwright::explain::{CauseFinding, FaultFinding, Findings, Verdict};
use drillwright::report::{findings_case, findings_document, findings_text};
use drillwright::{ErrorKind, KnowledgeBase};
use rstest::rstest;

use crate::cli::rules_with;
use crate::cli::schemas::{assert_holds, schema};
use crate::corpus::BASE;

/// A file of attempts at a skill, one a line.
fn file(skill: &str, attempts: &[&str]) -> String {
    let lines: Vec<String> = attempts
        .iter()
        .map(|line| format!("    - {line}\n"))
        .collect();
    format!(
        "format: 1\nwatched:\n  skill: {skill}\n  attempts:\n{}",
        lines.concat()
    )
}

fn seen_by(base: &KnowledgeBase, text: &str) -> Findings {
    let watched = base.watched_from_text("watched.yaml", text);
    base.see(&watched.unwrap_or_else(|wrong| panic!("{wrong}\n{text}")))
        .unwrap()
}

fn seen(skill: &str, attempts: &[&str]) -> Findings {
    seen_by(&BASE, &file(skill, attempts))
}

fn concluded(findings: &Findings) -> Vec<(&str, &str)> {
    let all = findings.faults.iter();
    let all = all.filter(|held| held.verdict == Verdict::Concluded);
    all.map(|held| (held.fault.id.as_str(), held.grade.as_str()))
        .collect()
}

fn fault<'f>(findings: &'f Findings, id: &str) -> &'f FaultFinding {
    let mut all = findings.faults.iter();
    all.find(|held| held.fault.id.as_str() == id).unwrap()
}

fn cause<'f>(findings: &'f Findings, id: &str) -> &'f CauseFinding {
    let mut all = findings.causes.iter();
    all.find(|held| held.cause.id.as_str() == id).unwrap()
}

const MADE: &str = "{percent: 70, times: 2, seen: {came-out: lift-made}}";

/// Lost in front: the height says whether it is path, height or speed.
#[rstest]
#[case::path(
    "bar-reached: high-enough, under-it: in-good-time",
    "saved-forward",
    "path"
)]
#[case::height(
    "bar-reached: stayed-low, under-it: in-good-time",
    "not-high-enough",
    "height"
)]
#[case::speed(
    "bar-reached: high-enough, under-it: came-late",
    "high-enough-not-under",
    "speed"
)]
fn path_height_and_speed_are_told_apart(
    #[case] said: &str,
    #[case] wanted: &str,
    #[case] aspect: &str,
) {
    let lost = format!(
        "{{percent: 90, times: 2, seen: {{came-out: lift-missed, bar-came-down: bar-in-front, {said}}}}}"
    );
    let findings = seen("snatch", &[MADE, &lost]);
    assert_eq!(concluded(&findings), [(wanted, "missed")]);
    assert_eq!(fault(&findings, wanted).aspect, aspect);
    assert!(findings.questions.is_empty(), "{:?}", findings.questions);
}

/// Where the height was not said the path stands, with the question that may change it.
#[test]
fn what_was_not_said_is_asked() {
    let lost =
        "{percent: 90, times: 2, seen: {came-out: lift-missed, bar-came-down: bar-in-front}}";
    let findings = seen("snatch", &[MADE, lost]);
    assert_eq!(concluded(&findings), [("saved-forward", "missed")]);
    let asked: Vec<(&str, u16)> = findings
        .questions
        .iter()
        .map(|question| (question.field.as_str(), question.times))
        .collect();
    assert_eq!(asked, [("bar-reached", 2), ("under-it", 2)]);
    assert!(findings_text(&findings, false).contains("Did the bar get as high"));
}

#[test]
fn one_odd_attempt_makes_no_fault() {
    let odd = "{percent: 90, seen: {came-out: lift-missed, bar-came-down: bar-behind}}";
    let findings = seen(
        "snatch",
        &[
            MADE,
            "{percent: 80, times: 3, seen: {came-out: lift-made}}",
            odd,
        ],
    );
    assert_eq!(concluded(&findings), []);
    assert_eq!(
        fault(&findings, "saved-backward").verdict,
        Verdict::MayBeChance(2)
    );
    assert!(findings.causes.is_empty() && findings.further.is_none());
    assert!(findings_text(&findings, false).contains("may be chance"));
    assert!(findings_case(&findings).contains("faults: []"));
    // Twice of thirty is no chance, and too seldom.
    let many = "{percent: 80, times: 28, seen: {came-out: lift-made}}";
    let findings = seen("snatch", &[many, &odd.replace("90,", "90, times: 2,")]);
    assert_eq!(
        fault(&findings, "saved-backward").verdict,
        Verdict::TooSeldom(20)
    );
}

#[test]
fn nothing_is_concluded_from_too_little() {
    let lost = "{percent: 90, times: 2, seen: {came-out: lift-missed, bar-came-down: bar-behind}}";
    let findings = seen("snatch", &[lost]);
    assert_eq!(
        fault(&findings, "saved-backward").verdict,
        Verdict::TooFewAttempts
    );
    assert_eq!((findings.attempts, findings.attempts_at_least), (2, 3));
    assert!(findings_text(&findings, false).contains("Nothing is concluded from fewer than 3"));
    // What was never looked at is neither seen nor free of it.
    let silent = "{percent: 90, times: 9}";
    let findings = seen("snatch", &[silent]);
    assert!(findings.faults.is_empty() && findings.not_seen.is_empty());
}

/// The load of onset is the lightest with the fault, if two lighter ones were free of it.
#[rstest]
#[case::found(&[("75", "lift-made"), ("80", "lift-made"), ("90", "lift-missed"), ("92", "lift-missed")], Some(90))]
#[case::one_lighter(&[("80", "lift-made"), ("90", "lift-missed"), ("92", "lift-missed")], None)]
#[case::at_all_loads(&[("75", "lift-missed"), ("80", "lift-made"), ("85", "lift-made"), ("90", "lift-missed")], None)]
#[case::heavier_ones_free(&[("80", "lift-missed"), ("82", "lift-missed"), ("85", "lift-made"), ("90", "lift-made")], None)]
fn the_load_of_onset_is_found(#[case] attempts: &[(&str, &str)], #[case] wanted: Option<u8>) {
    let lines: Vec<String> = attempts
        .iter()
        .map(|(percent, came)| {
            let place = if *came == "lift-made" {
                ""
            } else {
                ", bar-came-down: bar-behind"
            };
            format!("{{percent: {percent}, seen: {{came-out: {came}{place}}}}}")
        })
        .collect();
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    let findings = seen("snatch", &lines);
    assert_eq!(fault(&findings, "saved-backward").from_percent, wanted);
}

/// A load is as good as the percent that it is of the best, rounded down.
#[test]
fn loads_are_percents_of_the_best() {
    let by_load = file(
        "snatch",
        &[
            "{load: 62.5, times: 2, seen: {came-out: lift-made}}",
            "{load: 80.9, times: 2, seen: {came-out: lift-missed, bar-came-down: bar-behind}}",
        ],
    )
    .replace("  attempts:", "  best: 90\n  attempts:");
    let by_percent = by_load
        .replace("load: 62.5", "percent: 69")
        .replace("load: 80.9", "percent: 89");
    let findings = seen_by(&BASE, &by_load);
    assert_eq!(fault(&findings, "saved-backward").from_percent, Some(89));
    assert_eq!(findings, seen_by(&BASE, &by_percent));
}

/// The severest grade that was seen twice, it or a worse one.
#[rstest]
#[case(&[1, 0, 2], "missed")]
#[case(&[2, 0, 1], "one-step")]
#[case(&[1, 1, 1], "two-steps")]
#[case(&[0, 2, 0], "two-steps")]
fn the_grade_is_the_worst_that_is_no_chance(#[case] times: &[u16; 3], #[case] wanted: &str) {
    let how = [
        "came-out: lift-saved, steps-taken: 1",
        "came-out: lift-saved, steps-taken: 3",
        "came-out: lift-missed",
    ];
    let lines: Vec<String> = times
        .iter()
        .zip(how)
        .filter(|(times, _)| **times > 0)
        .map(|(times, how)| {
            format!("{{percent: 85, times: {times}, seen: {{{how}, bar-came-down: bar-behind}}}}")
        })
        .chain([MADE.to_owned()])
        .collect();
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    assert_eq!(
        concluded(&seen("snatch", &lines)),
        [("saved-backward", wanted)]
    );
}

const SWUNG: [&str; 4] = [
    MADE,
    "{percent: 80, seen: {came-out: lift-made, bar-at-hip: hit-hard}}",
    "{percent: 84, seen: {came-out: lift-saved, bar-came-down: bar-behind, steps-taken: 1, bar-at-hip: hit-hard}}",
    "{percent: 90, times: 2, seen: {came-out: lift-missed, bar-came-down: bar-behind, bar-at-hip: hit-hard}}",
];

/// Attempts in any order, together or one by one, say the same.
#[test]
fn order_and_counts_say_nothing() {
    let one = seen("snatch", &SWUNG);
    let mut turned: Vec<&str> = SWUNG.to_vec();
    turned.reverse();
    let single = turned.iter().flat_map(|line| {
        let times = if line.contains("times: 2, ") { 2 } else { 1 };
        std::iter::repeat_n(line.replace("times: 2, ", ""), times)
    });
    let single: Vec<String> = single.collect();
    let single: Vec<&str> = single.iter().map(String::as_str).collect();
    let other = seen("snatch", &single);
    assert_eq!(findings_case(&one), findings_case(&other));
    assert_eq!(
        (&one.causes, &one.further, &one.looks),
        (&other.causes, &other.further, &other.looks)
    );
}

/// What is behind it is worked out as in a week, with what speaks for and against.
#[test]
fn causes_come_with_what_speaks_for_and_against_them() {
    let findings = seen("snatch", &SWUNG);
    assert_eq!(concluded(&findings), [("saved-backward", "missed")]);
    // 40 % and 25 for the hip bang, three times as severe, seen in three of six.
    assert_eq!(cause(&findings, "bar-swung-out").demand, 195);
    assert_eq!(cause(&findings, "weight-behind").demand, 90);
    assert_eq!(findings.causes[0].cause.id.as_str(), "bar-swung-out");
    assert_eq!(findings.causes[0].for_it.len(), 2);
    let close = SWUNG.map(|line| line.replace("hit-hard", "brushed-past"));
    let close: Vec<&str> = close.iter().map(String::as_str).collect();
    let findings = seen("snatch", &close);
    let ruled_out = cause(&findings, "bar-swung-out");
    assert_eq!(ruled_out.demand, 0);
    assert_eq!(ruled_out.against_it.len(), 2, "{ruled_out:?}");
    // The same figures as the week's own.
    let case = BASE
        .case()
        .seen(&findings)
        .phase("general")
        .field("days", "3")
        .build()
        .unwrap();
    let plan = BASE.solve(&case).unwrap().into_week().unwrap();
    assert!(
        plan.focus
            .iter()
            .all(|worked| worked.cause.as_str() != "bar-swung-out")
    );
    for worked in &plan.focus {
        assert_eq!(
            worked.demand,
            cause(&findings, worked.cause.as_str()).demand
        );
    }
}

/// The further look does what it is said to do.
#[test]
fn the_further_look_moves_two_causes_apart() {
    let attempts = [
        MADE,
        "{percent: 85, times: 3, seen: {came-out: lift-missed, bar-came-down: bar-behind}}",
    ];
    let findings = seen("snatch", &attempts);
    let further = findings.further.as_ref().unwrap();
    assert_eq!(
        (further.one.id.as_str(), further.other.id.as_str()),
        ("bar-swung-out", "weight-behind")
    );
    let before = further.now.0 - further.now.1;
    let after = further.if_true.0 - further.if_true.1;
    assert_ne!(before, after);
    let looked = format!(
        "{}  looks: {{{}: true}}\n",
        file("snatch", &attempts),
        further.look.id
    );
    let then = seen_by(&BASE, &looked);
    let now = (
        cause(&then, further.one.id.as_str()).demand,
        cause(&then, further.other.id.as_str()).demand,
    );
    assert_eq!(now, further.if_true);
    // What has been looked at is not asked again, true or not.
    for answer in ["true", "false"] {
        let looked = looked.replace("true}", &format!("{answer}}}"));
        let asked = seen_by(&BASE, &looked).further.map(|asked| asked.look.id);
        assert_ne!(asked.as_ref(), Some(&further.look.id));
    }
}

/// The case file that is written is read again, and is the case that the builder makes.
#[test]
fn what_is_concluded_goes_on_as_a_case() {
    let text = format!(
        "{}  measured: {{foot-displacement: -40}}\n",
        file("snatch", &SWUNG)
    )
    .replace(
        "  skill:",
        "  lifter: \"lifter A, \\\"invented\\\" \\\\\"\n  skill:",
    );
    let findings = seen_by(&BASE, &text);
    let written = findings_case(&findings);
    let from_file = BASE.case_on_bytes("case.yaml", written.as_bytes()).unwrap();
    let from_file = from_file
        .phase("general")
        .field("days", "3")
        .build()
        .unwrap();
    assert_eq!(from_file.lifter(), "lifter A, \"invented\" \\");
    let from_code = BASE.case().lifter(from_file.lifter()).seen(&findings);
    let from_code = from_code
        .phase("general")
        .field("days", "3")
        .build()
        .unwrap();
    let (one, other) = (
        BASE.solve(&from_file).unwrap(),
        BASE.solve(&from_code).unwrap(),
    );
    assert_eq!(one, other);
    let plan = one.into_week().unwrap();
    assert_eq!(plan.seen[0].times, Some((3, 6)));
    assert_eq!(plan.seen[0].from_percent, Some(84));
    assert_holds(
        &schema("findings"),
        &serde_json::to_value(findings_document(&findings)).unwrap(),
        "findings",
    );
}

/// What a file says is not said again.
#[test]
fn a_file_is_not_contradicted() {
    let text =
        "format: 1\ncase:\n  phase: general\n  bests: {best-snatch: 90}\n  fields: {days: 3}\n";
    let case = BASE.case_on_bytes("case.yaml", text.as_bytes()).unwrap();
    let wrong = case
        .phase("specific")
        .best("best-snatch", "80")
        .field("days", "4")
        .build()
        .unwrap_err();
    assert_eq!(wrong.kind(), ErrorKind::Case);
    let told: Vec<(u32, &str)> = wrong
        .diagnostics()
        .iter()
        .map(|told| (told.place.line, told.what.as_str()))
        .collect();
    assert_eq!(
        told,
        [
            (3, "the case file says the phase already"),
            (4, "the case file says `best-snatch` already"),
            (5, "the case file says `days` already"),
        ]
    );
}

/// Every number of a judgement decides something.
#[rstest]
#[case(
    "attempts-at-least: 3",
    "attempts-at-least: 7",
    Verdict::TooFewAttempts
)]
#[case(
    "fault-seen-at-least: 2",
    "fault-seen-at-least: 4",
    Verdict::MayBeChance(4)
)]
#[case(
    "fault-percent-at-least: 20",
    "fault-percent-at-least: 51",
    Verdict::TooSeldom(51)
)]
#[case(
    "fault-percent-at-least: 20",
    "fault-percent-at-least: 50",
    Verdict::Concluded
)]
fn thresholds_are_data(#[case] from: &str, #[case] to: &str, #[case] wanted: Verdict) {
    let findings = seen_by(&rules_with(from, to), &file("snatch", &SWUNG));
    assert_eq!(fault(&findings, "saved-backward").verdict, wanted);
}

#[test]
fn thresholds_of_grades_looks_and_onset_are_data() {
    let swung = file("snatch", &SWUNG);
    let grade = seen_by(
        &rules_with("grade-seen-at-least: 2", "grade-seen-at-least: 3"),
        &swung,
    );
    assert_eq!(fault(&grade, "saved-backward").grade.as_str(), "one-step");
    let looks = seen_by(
        &rules_with("look-seen-at-least: 2", "look-seen-at-least: 4"),
        &swung,
    );
    assert_eq!(
        looks
            .looks
            .iter()
            .find(|look| look.look.id.as_str() == "hip-bang-heard")
            .unwrap()
            .is_true,
        None
    );
    let onset = seen_by(
        &rules_with(
            "sound-below-onset-at-least: 2",
            "sound-below-onset-at-least: 4",
        ),
        &swung,
    );
    assert_eq!(fault(&onset, "saved-backward").from_percent, None);
    let half = swung.replacen(
        "steps-taken: 1, bar-at-hip: hit-hard",
        "steps-taken: 1, bar-at-hip: no-touch",
        1,
    );
    let is_true = |base: &KnowledgeBase| {
        let findings = seen_by(base, &half);
        let held = findings
            .looks
            .into_iter()
            .find(|look| look.look.id.as_str() == "hip-bang-heard");
        held.unwrap().is_true
    };
    assert_eq!(is_true(&BASE), Some(true));
    assert_eq!(
        is_true(&rules_with(
            "look-percent-at-least: 50",
            "look-percent-at-least: 70"
        )),
        Some(false)
    );
}
