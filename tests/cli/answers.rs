//! Every command answers, and its exit status says what came out.

use rstest::rstest;

use super::{coach, kept};

#[rstest]
#[case::alone(&[], "Training week for lifter A (invented)")]
#[case::case_file(&["week", "tests/cases/three-days-half-an-hour.yaml"], "Training week for lifter N (invented)")]
#[case::flags(&["week", "--phase", "general", "--days", "3", "--minutes", "45"], "Training week for a lifter")]
#[case::check(&["check", "rules"], "No problems: ")]
#[case::own_rules(&["faults", "--rules", "rules"], "saved-backward: snatch lands behind")]
#[case::faults(&["faults"], "saved-backward: snatch lands behind")]
#[case::exercises(&["exercises"], "no-contact-snatch: no-contact snatch")]
#[case::of_a_skill(&["exercises", "--skill", "jerk"], "jerk-balance: jerk balance")]
#[case::ranked(&["exercises", "--fault", "saved-backward", "--skill", "snatch"], "No-contact snatch")]
#[case::ladder(&["ladder", "no-contact-snatch"], "take away: no contact")]
#[case::blocker_last(&["ladder", "no-contact-snatch", "--cause", "bar-swung-out"], "which works against the cause")]
#[case::schema(&["schema", "week"], "\"$schema\"")]
#[case::help(&["--help"], "Usage: coach")]
fn answered_is_0(#[case] arguments: &[&str], #[case] says: &str) {
    let ran = coach(arguments);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{arguments:?}");
    assert!(ran.out.contains(says), "{arguments:?}: {}", ran.out);
}

#[test]
fn no_week_is_1_and_names_rules_and_fields_that_clash() {
    let ran = coach(&["week", &kept("acute-pain")]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    // The rule and the case field, each with where it is said, and what could be changed.
    for says in [
        "No week satisfies the hard rules for this case.",
        "rules.exclude.acute-pain-no-week (rules-limits.yaml:",
        "the case says: acute pain",
        "What could be changed",
        "Please see a clinician first.",
    ] {
        assert!(ran.out.contains(says), "{says}: {}", ran.out);
    }
}

#[test]
fn none_found_within_the_limit_is_3() {
    let ran = coach(&["--nodes", "1"]);
    assert_eq!((ran.code, ran.err.as_str()), (3, ""));
    assert!(ran.out.contains("within the limit of work"), "{}", ran.out);
    // The same question with more work is answered.
    assert_eq!(coach(&["--nodes", "60000000"]).code, 0);
}

#[rstest]
#[case::no_such_flag(&["--no-such-flag"])]
#[case::no_such_command(&["weak"])]
#[case::no_such_file(&["week", "tests/cases/no-such-case.yaml"])]
#[case::no_phase(&["week"])]
#[case::grade_missing(&["week", "--phase", "general", "--fault", "saved-backward"])]
#[case::file_and_flags(&["week", "tests/cases/acute-pain.yaml", "--days", "3"])]
#[case::no_pair(&["week", "--phase", "general", "--best", "90"])]
#[case::no_such_folder(&["check", "no-such-folder"])]
#[case::no_such_rules(&["--rules", "no-such-folder"])]
#[case::no_rules_in_it(&["check", "src"])]
#[case::no_such_exercise(&["ladder", "no-such-thing-at-all"])]
#[case::a_complex(&["ladder", "held-feet-snatch-then-snatch"])]
#[case::no_such_cause(&["ladder", "no-contact-snatch", "--cause", "no-such-thing-at-all"])]
#[case::no_such_fault(&["exercises", "--fault", "no-such-thing-at-all"])]
#[case::no_such_skill(&["exercises", "--skill", "no-such-thing-at-all"])]
#[case::no_such_schema(&["schema", "no-such-thing-at-all"])]
fn bad_input_is_2_and_says_why(#[case] arguments: &[&str]) {
    let ran = coach(arguments);
    assert_eq!(ran.code, 2, "{arguments:?}: {}{}", ran.out, ran.err);
    assert!(
        ran.out.contains("error") || ran.err.contains("error"),
        "{arguments:?}: {}{}",
        ran.out,
        ran.err
    );
}

#[test]
fn a_case_by_flags_is_the_case_of_the_file() {
    let flags = [
        "week",
        "--phase",
        "general",
        "--fault",
        "feet-land-wide",
        "--skill",
        "snatch",
        "--grade",
        "slight",
        "--best",
        "best-snatch=50",
        "--best",
        "best-clean-and-jerk=65",
        "--best",
        "best-back-squat=90",
        "--level",
        "intermediate",
        "--days",
        "3",
        "--minutes",
        "30",
        "--bar",
        "womens-bar",
        "--lifter",
        "lifter N (invented)",
        "--today",
        "2026-11-25",
    ];
    let by_flags = coach(&flags);
    assert_eq!(by_flags.code, 0, "{}", by_flags.err);
    assert_eq!(
        by_flags.out,
        coach(&["week", &kept("three-days-half-an-hour")]).out
    );
}

#[test]
fn fields_of_any_kind_can_be_given_by_flag() {
    let free = ["week", "--phase", "general", "--days", "3", "--as", "json"];
    let sore = [&free[..], &["--field", "limits=shoulder,wrist"]].concat();
    let (free, sore) = (coach(&free).json(), coach(&sore).json());
    let overhead = |week: &serde_json::Value| week.to_string().contains("\"jerk");
    assert!(overhead(&free) && !overhead(&sore), "{sore}");
    assert!(!sore["stand_ins"].as_array().unwrap().is_empty());
}

#[test]
fn a_field_of_many_values_can_be_given_with_none() {
    let week = ["week", "--phase", "general", "--days", "3"];
    let bare = coach(&[&week[..], &["--field", "equipment="]].concat());
    assert!(bare.out.contains("equipment: none"), "{}", bare.out);
    assert!(!coach(&week).out.contains("equipment: none"));
    // A best is never nothing.
    let none = coach(&[&week[..], &["--best", "best-snatch="]].concat());
    assert_eq!(none.code, 2);
    assert!(none.err.contains("and a value"), "{}", none.err);
}
