//! Errors say where, what, and what was most likely meant.

use rstest::rstest;

use super::{Folder, coach};

#[rstest]
#[case::exercise(&["ladder", "no-contact-snach"], "no-contact-snatch")]
#[case::name(&["name", "hang snathc"], "snatch")]
#[case::new(&["week", "--phase", "general", "--new", "pwr snach"], "snatch")]
#[case::disliked(&["week", "--phase", "general", "--disliked", "back-squt"], "back-squat")]
#[case::under(&["exercises", "--under", "muscel snatch"], "muscle")]
#[case::cause(&["ladder", "no-contact-snatch", "--cause", "bar-swung-oot"], "bar-swung-out")]
#[case::fault(&["exercises", "--fault", "saved-bakward"], "saved-backward")]
#[case::skill(&["exercises", "--skill", "snath"], "snatch")]
#[case::schema(&["schema", "weak"], "week")]
#[case::phase(&["week", "--phase", "genral"], "general")]
#[case::field(&["week", "--phase", "general", "--field", "dayz=3"], "days")]
#[case::value(&["week", "--phase", "general", "--field", "limits=sholder"], "shoulder")]
#[case::best(&["week", "--phase", "general", "--best", "best-snach=90"], "best-snatch")]
fn a_misspelt_word_gets_the_nearest(#[case] arguments: &[&str], #[case] meant: &str) {
    let ran = coach(arguments);
    assert_eq!(ran.code, 2, "{arguments:?}: {}", ran.out);
    let says = format!("did you mean `{meant}`?");
    assert!(ran.err.contains(&says), "{arguments:?}: {}", ran.err);
    // The same for programs.
    let json = coach(&[arguments, &["--as", "json"]].concat());
    let whole = json.json().to_string();
    assert!(whole.contains(&says), "{arguments:?}: {whole}");
    assert_eq!((json.code, json.err.as_str()), (2, ""));
}

const CASE: &str = "format: 1
case:
  phase: genral
  faults:
    - {fault: saved-bakward, grade: one-step}
  disliked: [back-squt]
  fields: {days: 3, dayz: 4}
";

#[test]
fn a_case_file_is_told_file_line_and_column_of_every_problem() {
    let folder = Folder::new("case");
    let path = folder.write("case.yaml", CASE);
    let ran = coach(&["week", &path]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    // Places counted by hand in the text above.
    for (at, meant) in [
        ("3:10", "general"),
        ("5:15", "saved-backward"),
        ("6:14", "back-squat"),
        ("7:21", "days"),
    ] {
        let place = format!("--> {path}:{at}");
        let help = format!("did you mean `{meant}`?");
        let after = ran.err.split_once(&place);
        let (_, after) = after.unwrap_or_else(|| panic!("{place} is missing: {}", ran.err));
        let own = after.split("error[").next().unwrap();
        assert!(own.contains(&help), "{place}: {own}");
    }
    assert!(ran.err.ends_with("4 problems\n"), "{}", ran.err);
}

#[test]
fn one_mistyped_value_hides_nothing_of_its_case() {
    let folder = Folder::new("mistyped");
    let path = folder.write(
        "case.yaml",
        "format: 1
case:
  phase: genral
  bests: {best-clean: abc}
  fields: {days: 9}
",
    );
    let ran = coach(&["week", &path]);
    for place in ["3:10", "4:23", "5:18"] {
        let place = format!("--> {path}:{place}\n");
        assert!(ran.err.contains(&place), "{place}: {}", ran.err);
    }
    assert!(ran.err.ends_with("3 problems\n"), "{}", ran.err);
}

#[rstest]
#[case::best(&["--best", "best-snatch=90", "--best", "best-snatch=100"], "`best-snatch`")]
#[case::field(&["--field", "limits=knee", "--field", "limits=wrist"], "`limits`")]
#[case::field_and_flag(&["--field", "days=3", "--days", "4"], "`--days`")]
#[case::the_same_value(&["--field", "level=novice", "--level", "novice"], "`--level`")]
fn what_flags_say_twice_is_refused(#[case] flags: &[&str], #[case] names: &str) {
    let arguments = [&["week", "--phase", "general"], flags].concat();
    let ran = coach(&arguments);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{}", ran.err);
    assert!(ran.err.contains("is said twice"), "{}", ran.err);
    assert!(ran.err.contains(names), "{}", ran.err);
    assert!(ran.err.contains("say each once"), "{}", ran.err);
}

#[test]
fn very_many_problems_are_counted_and_the_first_shown() {
    let folder = Folder::new("many");
    let ids: String = (0..60_000).map(|at| format!("    - x{at}\n")).collect();
    let text = format!("format: 1\ncase:\n  phase: general\n  observed:\n{ids}");
    let path = folder.write("case.yaml", text);
    let start = std::time::Instant::now();
    let ran = coach(&["week", &path]);
    // A second or two; with the whole text laid out for each, it does not end in a minute.
    assert!(start.elapsed().as_secs() < 30);
    assert_eq!(ran.code, 2);
    assert!(
        ran.err
            .ends_with("60000 problems; these are the first 200\n")
    );
    assert_eq!(ran.err.matches("error[dangling-id]").count(), 200);
    // Programs are told of all.
    let json = coach(&["week", &path, "--as", "json"]).json();
    assert_eq!(json["problems"].as_array().map(Vec::len), Some(60_000));
}

#[test]
fn a_case_file_that_is_no_yaml_is_told_where() {
    let folder = Folder::new("no-yaml");
    let path = folder.write("case.yaml", "format: 1\ncase: {phase: [general\n");
    let ran = coach(&["week", &path]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains(&format!("--> {path}:")), "{}", ran.err);
}

#[test]
fn an_exercise_that_is_no_exercise_of_these_rules_is_named() {
    let ran = coach(&["ladder", "held-feet-snatch-then-snatch"]);
    assert!(
        ran.err.contains("is a complex and has no ladder"),
        "{}",
        ran.err
    );
}
