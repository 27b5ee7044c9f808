//! What is told where a file of the folder is lost, or what many things name.

use rstest::rstest;

use super::api::Code::{DanglingId, Syntax, UnknownWord};
use super::api::remarks;
use super::small::{assert_problems, edited, read, told, unmarked};

/// The small pack without one file.
fn without(name: &str) -> Vec<(String, String)> {
    let mut files = edited(&[]);
    files.retain(|(file, _)| file != name);
    files
}

#[rstest]
#[case(
    "sources.yaml",
    "axes.yaml:8:77",
    "no file defines any source; 79 places name one, the first is `habit` here",
    "`sources`"
)]
#[case(
    "skills.yaml",
    "axes.yaml:14:18",
    "no file defines any skill or stage; 17 places name one, the first is `start` here",
    "`skills`"
)]
#[case(
    "axes.yaml",
    "exercises.yaml:27:14",
    "no file defines any constraint; 8 places name one, the first is `feet-still` here",
    "`axes`"
)]
#[case(
    "stresses.yaml",
    "exercises.yaml:9:16",
    "no file defines any stress; 2 places name one, the first is `back` here",
    "`stresses`"
)]
#[case(
    "measured.yaml",
    "looks.yaml:10:20",
    "no file defines any track measure, and `speed` is named here",
    "`track-measures`"
)]
fn a_lost_kind_is_told_once(
    #[case] file: &str,
    #[case] place: &str,
    #[case] what: &str,
    #[case] kind: &str,
) {
    let found = read(&without(file)).unwrap_err();
    assert_eq!(told(&found), [format!("{place} dangling-id")]);
    assert_eq!(found[0].what, what);
    assert!(found[0].help.contains(kind), "{}", found[0].help);
}

#[test]
fn what_many_places_name_is_told_once() {
    // The roles are named by parts, exercises, rules and tests.
    let found = assert_problems(
        &[
            ("  drill:\n", "  dril:\n"),
            (
                "roles: [main, drill]\n      use: Against hurry.",
                "roles: [main, §drill]\n      use: Against hurry.",
            ),
        ],
        &[DanglingId],
    );
    let [one] = found.as_slice() else {
        unreachable!("{found:?}")
    };
    assert_eq!(one.what, "`drill` is no role, and 11 places name it");
    assert!(one.help.starts_with("did you mean `dril`?"), "{one}");
    assert_eq!(one.also.len(), 2, "{one}");
}

#[test]
fn a_value_that_many_places_name_is_told_once() {
    let found = assert_problems(
        &[(
            "asks: {case: {level: {is: [trained]}}}",
            "asks: {any: [{case: {level: {is: [§traind]}}}, {case: {level: {is: [traind]}}}, {case: {level: {is-not: [traind]}}}]}",
        )],
        &[DanglingId],
    );
    assert_eq!(
        found[0].what,
        "`traind` is no value of `level`, and 3 places name it"
    );
    assert!(found[0].help.starts_with("did you mean `trained`?"));
    assert_eq!(found[0].also.len(), 2);
}

#[test]
fn a_grade_that_many_places_name_is_told_once() {
    let variants = "{fields: {level: trained}, faults: [{fault: bar-away, grade: sme}]}";
    let found = assert_problems(
        &[
            (
                "case: {phase: base, faults: [{fault: bar-away, grade: some}]}",
                "case: {phase: base, faults: [{fault: bar-away, grade: §sme}]}",
            ),
            (
                "eager: {fields: {level: trained}}",
                &format!("eager: {variants}\n      keen: {variants}"),
            ),
        ],
        &[DanglingId],
    );
    assert!(
        found[0]
            .what
            .ends_with("is no grade of `bar-away`, and 3 places name it"),
        "{}",
        found[0].what
    );
}

#[test]
fn what_a_few_places_name_is_told_at_each() {
    assert_problems(
        &[
            ("give: plain, instead-of", "give: §plan, instead-of"),
            (
                "usual: {what: {everything: true}, give: plain",
                "usual: {what: {everything: true}, give: §plan",
            ),
        ],
        &[DanglingId, DanglingId],
    );
}

#[rstest]
#[case::minutes(&[("  minutes:\n    in-time: {at-most: {field: minutes}, at-least: {whole: 20}, yields: never, because: So., source: {ours: a start}}\n", ""), ("    minutes: {names", "    §minutes: {names"), ("  plain:\n", "  §plain:\n")], &["nothing reads the case field `minutes`", "sets and rests take time, and there is no rule of the kind `minutes`: nothing bounds how long a session is"])]
#[case::stress(&[("  stress:\n    back-in-a-day: {of: back, per: session, at-most: 6, yields: never, because: So., source: {ours: a start}}\n", ""), ("stresses: {back", "stresses: {§back")], &["there are kinds of stress, and there is no rule of the kind `stress`: nothing bounds how much of them a day or a week has"])]
#[case::volume(&[("  volume:\n    by-zones: {what: {skills: [pull]}, table: some-table, together: skill, yields: middle, because: So., source: {ours: a start}}\n", ""), ("  some-table:\n", "  §some-table:\n")], &["there are zone tables, and there is no rule of the kind `volume`: nothing holds a week to them"])]
#[case::factor(&[("scaled-by: [of-days, of-level], ", "scaled-by: [of-days], "), ("{of-level: {", "{§of-level: {")], &["nothing reads the factor `of-level`"])]
#[case::cap(&[("highest: {percent: 100", "highest: {percent: §100")], &["exercises state how much can be lifted in them at the most, and there is no rule of the kind `cap`: no load is held below it"])]
fn what_nothing_reads_is_remarked_on(#[case] edits: &[(&str, &str)], #[case] wanted: &[&str]) {
    // The small pack caps by the reference alone, so its highest would be remarked on each time.
    let capped = (
        "percent-of-reference-at-most: 85",
        "percent-of-own-highest-at-most: 85",
    );
    let of_cap = wanted[0].starts_with("exercises");
    let edits: Vec<(&str, &str)> = edits
        .iter()
        .copied()
        .chain((!of_cap).then_some(capped))
        .collect();
    let mut files = edited(&edits);
    let places = unmarked(&mut files);
    let found = remarks(&read(&files).unwrap());
    let wanted: Vec<String> = places
        .iter()
        .zip(wanted)
        .map(|(place, what)| format!("{place} {what}"))
        .collect();
    let told: Vec<String> = found
        .iter()
        .map(|remark| format!("{} {}", remark.place, remark.what))
        .collect();
    assert_eq!(told, wanted);
    assert!(found.iter().all(|remark| !remark.help.is_empty()));
}

#[test]
fn the_built_in_method_has_nothing_that_is_not_read() {
    let found = remarks(&read(&super::builtin::files()).unwrap());
    assert!(found.is_empty(), "{found:?}");
}

#[test]
fn what_a_broken_file_may_hold_is_not_lost() {
    // The file of the rules can't be read, and tests name rules of it.
    assert_problems(&[("  cap:\n", "§} cap:\n")], &[Syntax]);
    // Nor is a rule that is there and could not be read.
    assert_problems(
        &[(
            "then: {roles: [main]}, yields: never",
            "then: {roles: [main]}, yields: §nver",
        )],
        &[UnknownWord],
    );
}

#[test]
fn a_copy_of_a_file_is_told_once() {
    let mut files = edited(&[]);
    let (_, axes) = files[0].clone();
    files.push((String::from("axes-old.yaml"), axes));
    let found = read(&files).unwrap_err();
    assert_eq!(told(&found), ["axes.yaml:3:3 duplicate-id"]);
    let what = "the axis `feet` is there twice, and so are 6 more of `axes-old.yaml`";
    assert_eq!(found[0].what, what);
    assert!(found[0].help.contains("copy"), "{}", found[0].help);
}

#[test]
fn a_case_file_among_the_rules_is_told_as_one() {
    let mut files = edited(&[]);
    let text = String::from("format: 1\ncase: {phase: base}\n");
    files.push((String::from("mine.yaml"), text));
    let found = read(&files).unwrap_err();
    assert_eq!(told(&found), ["mine.yaml:2:1 unknown-key"]);
    assert!(
        found[0].help.starts_with("a case file"),
        "{}",
        found[0].help
    );
}
