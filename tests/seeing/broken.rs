//! Files of watched attempts that are wrong: each told with its place and what to do.

use drillwright::ErrorKind;
use drillwright::base::Code;
use rstest::rstest;

use crate::corpus::BASE;

const SOUND: &str = "format: 1
watched:
  skill: snatch
  best: 90
  attempts:
    - {percent: 80, times: 2, seen: {came-out: lift-made}}
    - {load: 80, seen: {came-out: lift-saved, steps-taken: 2, bar-came-down: bar-behind}, faults: {lost-overhead: slight}}
  looks: {hip-bang-heard: true}
  measured: {foot-displacement: -30}
";

#[test]
fn the_sound_file_is_sound() {
    assert!(BASE.watched_from_text("watched.yaml", SOUND).is_ok());
}

/// From, to, and what is told: the line, its code, what, and what to do.
#[rstest]
#[case(
    "watched:",
    "watchd:",
    2,
    Code::UnknownKey,
    "`watchd` means nothing",
    "did you mean `watched`?"
)]
#[case(
    "skill: snatch",
    "skill: snach",
    3,
    Code::DanglingId,
    "`snach` is no skill",
    "did you mean `snatch`?"
)]
#[case("  skill: snatch\n", "", 3, Code::MissingKey, "`skill`", "add")]
#[case(
    "  best: 90\n",
    "",
    6,
    Code::MissingKey,
    "a load says little without the best",
    "add `best:`"
)]
#[case(
    "best: 90",
    "best: 0",
    4,
    Code::OutOfRange,
    "a best cannot be 0",
    "above 0"
)]
#[case(
    "{load: 80,",
    "{load: 80, percent: 88,",
    7,
    Code::Contradiction,
    "both `percent` and `load`",
    "take one of them out"
)]
#[case(
    "{load: 80,",
    "{load: 180,",
    7,
    Code::OutOfRange,
    "200 % of the best",
    "1 to 120"
)]
#[case(
    "percent: 80",
    "percent: 121",
    6,
    Code::OutOfRange,
    "121 % of the best",
    "1 to 120"
)]
#[case(
    "times: 2",
    "times: 0",
    6,
    Code::OutOfRange,
    "`times` cannot be 0",
    "1 to 1000"
)]
#[case(
    "times: 2",
    "times: 1000",
    2,
    Code::OutOfRange,
    "these are 1001 attempts",
    "1000 at the most"
)]
#[case(
    "came-out: lift-made",
    "came-oute: lift-made",
    6,
    Code::DanglingId,
    "`came-oute` is no attempt field",
    "did you mean `came-out`?"
)]
#[case(
    "came-out: lift-made",
    "came-out: lift-mad",
    6,
    Code::DanglingId,
    "`lift-mad` is no value of `came-out`",
    "did you mean `lift-made`?"
)]
#[case(
    "came-out: lift-made",
    "came-out: [lift-made]",
    6,
    Code::WrongType,
    "holds one value, not a list",
    "without brackets"
)]
#[case(
    "came-out: lift-made",
    "rack-met: bar-met",
    6,
    Code::Contradiction,
    "`rack-met` is not said of attempts of `snatch`",
    "it is said of `clean`"
)]
#[case(
    "steps-taken: 2",
    "steps-taken: 11",
    7,
    Code::OutOfRange,
    "`steps-taken` cannot be `11`",
    "from 0 to 10"
)]
#[case(
    "steps-taken: 2",
    "steps-taken: two",
    7,
    Code::OutOfRange,
    "`steps-taken` cannot be `two`",
    "whole number of steps"
)]
#[case(
    "lost-overhead: slight",
    "lost-overhed: slight",
    7,
    Code::DanglingId,
    "`lost-overhed` is no fault",
    "did you mean `lost-overhead`?"
)]
#[case(
    "lost-overhead: slight",
    "lost-overhead: sligt",
    7,
    Code::DanglingId,
    "`sligt` is no grade of `lost-overhead`",
    "did you mean `slight`?"
)]
#[case(
    "lost-overhead: slight",
    "bar-crashes: slight",
    7,
    Code::Contradiction,
    "`bar-crashes` is not seen in `snatch`",
    "another fault"
)]
#[case(
    "hip-bang-heard: true",
    "hip-bang: true",
    8,
    Code::DanglingId,
    "`hip-bang` is no observation",
    "observations"
)]
#[case(
    "hip-bang-heard: true",
    "hip-bang-heard: yes",
    8,
    Code::WrongType,
    "yes",
    "true"
)]
#[case(
    "foot-displacement: -30",
    "foot: -30",
    9,
    Code::DanglingId,
    "`foot` is no track measure",
    "track-measures"
)]
#[case(
    "  attempts:",
    "  attemps:",
    5,
    Code::UnknownKey,
    "`attemps`",
    "did you mean `attempts`?"
)]
fn what_is_wrong_is_told(
    #[case] from: &str,
    #[case] to: &str,
    #[case] line: u32,
    #[case] code: Code,
    #[case] what: &str,
    #[case] help: &str,
) {
    assert_eq!(SOUND.matches(from).count(), 1);
    let text = SOUND.replacen(from, to, 1);
    let wrong = BASE.watched_from_text("watched.yaml", &text).unwrap_err();
    assert_eq!(wrong.kind(), ErrorKind::Watched);
    let told = wrong.diagnostics();
    let found = told.iter().find(|told| told.code == code);
    let found = found.unwrap_or_else(|| panic!("{wrong}"));
    assert_eq!(&*found.place.file, "watched.yaml");
    assert_eq!(found.place.line, line, "{wrong}");
    assert!(found.what.contains(what), "{wrong}");
    assert!(found.help.contains(help), "{}", found.help);
}

/// All that is wrong is told at once, and what could not be read hides nothing that was.
#[test]
fn one_problem_hides_no_other() {
    let text = SOUND
        .replace("times: 2", "times: [2]")
        .replace("steps-taken: 2", "steps-taken: 12")
        .replace("hip-bang-heard", "hip-bang-herd");
    let wrong = BASE.watched_from_text("watched.yaml", &text).unwrap_err();
    let lines: Vec<u32> = wrong
        .diagnostics()
        .iter()
        .map(|told| told.place.line)
        .collect();
    assert_eq!(lines, [6, 7, 8], "{wrong}");
}

#[test]
fn no_attempt_is_a_problem_of_its_own() {
    let text = "format: 1\nwatched: {skill: snatch, attempts: []}\n";
    let wrong = BASE.watched_from_text("watched.yaml", text).unwrap_err();
    assert!(
        wrong.to_string().contains("no attempt is listed"),
        "{wrong}"
    );
    let garbled = BASE.watched_from_bytes("watched.yaml", b"format: 1\nwatched: \xff");
    assert_eq!(garbled.unwrap_err().kind(), ErrorKind::Watched);
}
