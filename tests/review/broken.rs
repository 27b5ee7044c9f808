//! Logs and rules of reviews that are wrong: each told with its place and what to do.

use drillwright::base::Code;
use drillwright::{ErrorKind, KnowledgeBase};
use rstest::rstest;

use crate::cli::rule_files;
use crate::corpus::BASE;

const CSV: &str = "date,exercise,load,made,missed,sets,fault,skill,grade,seen
2026-11-16,snatch,80,2,1,1,saved-backward,snatch,one-step,2
2026-11-16,clean and jerk,100,1,0,1,jumps-forward,clean,clear,1

2026-11-17,\"no contact snatch, from the hang\",60,6,0,2,,,,
";

const YAML: &str = "format: 1
log:
  - {date: \"2026-11-16\", exercise: snatch, load: 80, made: 2, missed: 1, fault: [saved-backward, lost-overhead], seen: [2, 1]}
  - {date: \"2026-11-17\", exercise: no contact snatch, made: 3}
";

#[test]
fn the_sound_logs_are_sound() {
    for (name, text) in [("log.csv", CSV), ("log.CSV", CSV), ("log.yaml", YAML)] {
        let read = BASE.log_from_text(name, text);
        read.unwrap_or_else(|wrong| panic!("{name}: {wrong}"));
    }
}

/// From, to, and what is told: line, column, code, what, and what to do.
#[rstest]
#[case(
    "2026-11-16,snatch",
    "16.11.2026,snatch",
    2,
    1,
    Code::BadValue,
    "no day of the calendar",
    "YYYY-MM-DD"
)]
#[case(
    "2026-11-17,",
    "2026-11-31,",
    5,
    1,
    Code::BadValue,
    "no day of the calendar",
    "YYYY-MM-DD"
)]
#[case(
    "2026-11-16,snatch",
    ",snatch",
    2,
    1,
    Code::MissingKey,
    "says no `date`",
    "2026-02-28"
)]
#[case(
    ",snatch,80",
    ",snach,80",
    2,
    12,
    Code::DanglingId,
    "no exercise `snach`",
    "did you mean `snatch`?"
)]
#[case(
    ",snatch,80",
    ",,80",
    2,
    12,
    Code::MissingKey,
    "says no `exercise`",
    "by id or name"
)]
#[case(
    "\"no contact snatch, from the hang\"",
    "\"no contact, from the hang\"",
    5,
    12,
    Code::Ambiguous,
    "",
    ""
)]
#[case(
    ",80,",
    ",80 kg,",
    2,
    19,
    Code::BadNumber,
    "`80 kg` is no load",
    "without a unit"
)]
#[case(
    ",80,",
    ",\"82,5\",",
    2,
    19,
    Code::BadNumber,
    "`82,5` is no load",
    "82.5"
)]
#[case(
    ",80,",
    ",0,",
    2,
    19,
    Code::OutOfRange,
    "a load cannot be 0",
    "above 0"
)]
#[case(
    ",80,",
    ",1001,",
    2,
    19,
    Code::OutOfRange,
    "a load cannot be 1001",
    "1000 at the most"
)]
#[case(
    ",80,2,",
    ",80,two,",
    2,
    22,
    Code::BadNumber,
    "`two` is no number for `made`",
    "such as 3"
)]
#[case(
    ",80,2,",
    ",80,-2,",
    2,
    22,
    Code::BadNumber,
    "`-2` is no number for `made`",
    "such as 3"
)]
#[case(
    ",80,2,",
    ",80,1001,",
    2,
    22,
    Code::OutOfRange,
    "`made` cannot be 1001",
    "0 to 1000"
)]
#[case(
    "60,6,0,2,",
    "60,0,0,2,",
    5,
    50,
    Code::OutOfRange,
    "nothing was made and nothing missed",
    "take the entry out"
)]
#[case(
    "60,6,0,2,",
    "60,6,0,7,",
    5,
    54,
    Code::Contradiction,
    "7 sets cannot have 6",
    "fewer sets"
)]
#[case(
    "60,6,0,2,",
    "60,6,0,0,",
    5,
    54,
    Code::OutOfRange,
    "`sets` cannot be 0",
    "1 to 50"
)]
#[case(
    "saved-backward",
    "saved-backwards",
    2,
    28,
    Code::DanglingId,
    "no fault `saved-backwards`",
    "did you mean `saved-backward`?"
)]
#[case(
    "saved-backward,snatch",
    "saved-backward,clean",
    2,
    43,
    Code::DanglingId,
    "not seen in `clean`",
    "`snatch`"
)]
#[case(
    "one-step",
    "one-stop",
    2,
    50,
    Code::DanglingId,
    "no grade of `saved-backward`",
    "one-step"
)]
#[case(
    "one-step,2",
    "one-step,4",
    2,
    59,
    Code::OutOfRange,
    "seen in 4 of 3 repetitions",
    "1 to 3"
)]
#[case(
    "one-step,2",
    "one-step,many",
    2,
    59,
    Code::BadNumber,
    "`many` is no number of repetitions",
    "such as 2"
)]
#[case(
    "one-step,2",
    "one-step,1|1",
    2,
    59,
    Code::Contradiction,
    "`seen` says 2 things of 1 faults",
    "same order"
)]
#[case(
    "saved-backward,snatch,one-step",
    "saved-backward|saved-backward,,",
    2,
    28,
    Code::DuplicateId,
    "names `saved-backward` twice",
    "once"
)]
#[case(
    "saved-backward,snatch,one-step,2",
    ",,one-step,",
    2,
    30,
    Code::Contradiction,
    "the entry names none",
    "take `grade` out"
)]
#[case(
    "saved-backward,snatch,one-step",
    "clean-caught-behind,,",
    2,
    28,
    Code::Contradiction,
    "not seen in “snatch”",
    "another fault or another exercise"
)]
#[case(
    "2,1,1,saved-backward,snatch,one-step,2",
    "2,1,1,saved-backward,snatch,one-step,2,7",
    2,
    61,
    Code::UnknownKey,
    "more values than the 10 columns",
    "quotes round a value"
)]
#[case(
    "date,",
    "day,",
    1,
    1,
    Code::MissingKey,
    "no column `date`",
    "begin the file with a line"
)]
#[case(
    ",missed",
    ",mised",
    1,
    25,
    Code::UnknownKey,
    "`mised` is no column",
    "did you mean `missed`?"
)]
#[case(
    ",missed",
    ",made",
    1,
    25,
    Code::DuplicateKey,
    "the column `made` stands twice",
    "take one out"
)]
#[case(
    "from the hang\"",
    "from the hang",
    5,
    12,
    Code::Syntax,
    "never closed",
    "close it"
)]
fn tables_that_are_wrong(
    #[case] from: &str,
    #[case] to: &str,
    #[case] line: u32,
    #[case] column: u32,
    #[case] code: Code,
    #[case] what: &str,
    #[case] help: &str,
) {
    assert!(CSV.contains(from), "{from}");
    told(
        "log.csv",
        &CSV.replacen(from, to, 1),
        (line, column),
        code,
        (what, help),
    );
}

#[rstest]
#[case(
    "log:",
    "lug:",
    2,
    1,
    Code::UnknownKey,
    "means nothing",
    "did you mean `log`?"
)]
#[case("date: \"2026-11-17\", ", "", 4, 5, Code::MissingKey, "`date`", "")]
#[case("made: 3}", "made: three}", 4, 61, Code::BadNumber, "", "")]
#[case("made: 3}", "made: 3, mad: 1}", 4, 64, Code::UnknownKey, "`mad`", "")]
#[case(
    "exercise: no contact snatch",
    "exercise: no contact",
    4,
    36,
    Code::Ambiguous,
    "",
    ""
)]
#[case(
    "seen: [2, 1]",
    "seen: 2",
    3,
    120,
    Code::Contradiction,
    "`seen` says 1 things of 2 faults",
    "same order"
)]
fn lists_that_are_wrong(
    #[case] from: &str,
    #[case] to: &str,
    #[case] line: u32,
    #[case] column: u32,
    #[case] code: Code,
    #[case] what: &str,
    #[case] help: &str,
) {
    assert!(YAML.contains(from), "{from}");
    told(
        "log.yaml",
        &YAML.replacen(from, to, 1),
        (line, column),
        code,
        (what, help),
    );
}

fn told(name: &str, text: &str, at: (u32, u32), code: Code, (what, help): (&str, &str)) {
    let wrong = BASE.log_from_text(name, text).unwrap_err();
    assert_eq!(wrong.kind(), ErrorKind::Log);
    let mut all = wrong.diagnostics().iter();
    let found = all.find(|told| {
        (told.place.line, told.place.column) == at
            && told.code == code
            && told.what.contains(what)
            && told.help.contains(help)
    });
    assert!(found.is_some(), "{what}: {wrong}");
}

#[test]
fn all_problems_are_told_at_once() {
    let text = CSV
        .replacen("2026-11-16,snatch", "yesterday,snach", 1)
        .replacen("jumps-forward", "jumps-foward", 1)
        .replacen("60,6,0", "60,x,y", 1);
    let wrong = BASE.log_from_text("log.csv", &text).unwrap_err();
    let lines: Vec<u32> = wrong
        .diagnostics()
        .iter()
        .map(|told| told.place.line)
        .collect();
    assert_eq!(lines, [2, 2, 3, 5, 5], "{wrong}");
}

/// Nothing is read without bound.
#[test]
fn logs_have_limits() {
    let wrong = |name: &str, text: &str| BASE.log_from_text(name, text).unwrap_err().to_string();
    assert!(wrong("log.csv", "").contains("the file is empty"));
    assert!(wrong("log.csv", "date,exercise,made\n").contains("no entry"));
    assert!(wrong("log.yaml", "format: 1\nlog: []\n").contains("no entry"));
    let line = "2026-11-16,snatch,2\n";
    let many = format!("date,exercise,made\n{}", line.repeat(10_001));
    assert!(wrong("log.csv", &many).contains("10000 at the most"));
    let line = "2026-11-16,snatch,1000\n";
    let many = format!("date,exercise,made\n{}", line.repeat(11));
    assert!(wrong("log.csv", &many).contains("more than 10000 repetitions"));
    let long = format!("date,exercise,made\n{}", "x".repeat(1024 * 1024));
    assert!(wrong("log.csv", &long).contains("bytes"));
    let bad = format!("date,exercise,made\n{}", "x,y,z\n".repeat(500));
    assert!(wrong("log.csv", &bad).contains("what follows was not read"));
    let faults = ["saved-backward"; 9].join("|");
    let many = format!("date,exercise,made,fault\n2026-11-16,snatch,2,{faults}\n");
    assert!(wrong("log.csv", &many).contains("8 at the most"));
    let garbled = BASE.log_from_bytes("log.csv", b"date,exercise,made\n2026-11-16,\xff,2\n");
    assert_eq!(garbled.unwrap_err().kind(), ErrorKind::Log);
}

/// No text makes it panic: each line of the sound ones cut anywhere.
#[test]
fn any_part_of_a_log_is_read_or_told() {
    for (name, text) in [("log.csv", CSV), ("log.yaml", YAML)] {
        for (at, _) in text.char_indices() {
            let _read = BASE.log_from_text(name, &text[..at]);
            let _read = BASE.log_from_text(name, &text[at..]);
        }
    }
}

/// What reviews are made by is checked when rules are read.
#[rstest]
#[case(
    "interval-percent: 95",
    "interval-percent: 100",
    Code::OutOfRange,
    "interval-percent"
)]
#[case("last-weeks: 4", "last-weeks: 0", Code::OutOfRange, "last-weeks")]
#[case(
    "      rank: 20\n",
    "      rank: 10\n",
    Code::Contradiction,
    "two decisions have the rank 10"
)]
#[case(
    "decides: look-again",
    "decides: keep",
    Code::Contradiction,
    "must hold always and be `look-again`"
)]
#[case(
    "      rank: 1000\n",
    "      rank: 15\n",
    Code::Contradiction,
    "must hold always"
)]
#[case(
    "full-trend: {falls-at-least: 15}",
    "full-trend: {apart: true}",
    Code::EmptyMap,
    "asks for nothing"
)]
#[case(
    "full-trend: {falls-at-least: 15}",
    "full-trend: {falls-at-least: 15, rises-at-least: 3}",
    Code::Contradiction,
    "both falls and rises"
)]
#[case(
    "full: {repetitions-at-least: 10}",
    "full: {}",
    Code::EmptyMap,
    "asks for nothing"
)]
#[case("came: learned", "came: mastered", Code::UnknownWord, "mastered")]
#[case("formula: brzycki", "formula: guess", Code::UnknownWord, "guess")]
#[case("round-to: 0.5", "round-to: 0", Code::OutOfRange, "multiple of 0")]
#[case(
    "repetitions-at-most: 5",
    "repetitions-at-most: 21",
    Code::OutOfRange,
    "repetitions-at-most"
)]
#[case(
    "references: [best-back-squat, best-front-squat]",
    "references: [best-back-squat, best-press]",
    Code::DanglingId,
    "of which exercises `best-press`"
)]
#[case(
    "faults: [snatch-press-out, lost-overhead]",
    "faults: [snatch-press-out, saved-backward]",
    Code::Contradiction,
    "`saved-backward` stands twice"
)]
#[case("stages: [fixation]", "stages: [fixaton]", Code::DanglingId, "fixaton")]
#[case(
    "reference: best-jerk, exercises",
    "reference: best-clean, exercises",
    Code::Contradiction,
    "`best-clean` stands twice"
)]
fn rules_that_are_wrong(
    #[case] from: &str,
    #[case] to: &str,
    #[case] code: Code,
    #[case] what: &str,
) {
    let mut files = rule_files();
    let held = files.iter_mut().find(|(name, _)| name == "reviews.yaml");
    let held = held.unwrap();
    assert!(held.1.contains(from), "{from}");
    held.1 = held.1.replacen(from, to, 1);
    let wrong = KnowledgeBase::from_texts(files).unwrap_err();
    let mut all = wrong.diagnostics().iter();
    let found =
        all.any(|told| told.code == code && told.to_string().contains(what) && told.place.line > 1);
    assert!(found, "{what}: {wrong}");
}

/// A second window, or none beside decisions, is told.
#[test]
fn there_is_one_window() {
    let edited = |edit: fn(&str) -> String| {
        let mut files = rule_files();
        let held = files.iter_mut().find(|(name, _)| name == "reviews.yaml");
        let held = held.unwrap();
        held.1 = edit(&held.1);
        KnowledgeBase::from_texts(files).unwrap_err().to_string()
    };
    let two = edited(|text| {
        let window = "  windows:\n    two-weeks: {interval-percent: 90, last-weeks: 2, first-weeks: 2, because: So., source: {expert-set: all}}\n";
        text.replacen("  windows:\n", window, 1)
    });
    assert!(
        two.contains("both say how much of a log is looked at"),
        "{two}"
    );
    let none = edited(|text| {
        let from = text.find("  windows:").unwrap();
        let to = text.find("  seen-where:").unwrap();
        format!("{}{}", &text[..from], &text[to..])
    });
    assert!(
        none.contains("nothing says how much of a log is looked at"),
        "{none}"
    );
}
