//! What is told where a file of the folder is lost, or what many things name.

use rstest::rstest;

use super::api::Code::DanglingId;
use super::small::{assert_problems, edited, read, told};

/// The small pack without one file.
fn without(name: &str) -> Vec<(String, String)> {
    let mut files = edited(&[]);
    files.retain(|(file, _)| file != name);
    files
}

#[rstest]
#[case("sources.yaml", "axes.yaml:8:77", "no file defines any source; 74 places name one, the first is `habit` here", "`sources`")]
#[case("skills.yaml", "axes.yaml:25:16", "no file defines any skill or stage; 16 places name one, the first is `start` here", "`skills`")]
#[case("axes.yaml", "exercises.yaml:27:14", "no file defines any constraint; 11 places name one, the first is `feet-still` here", "`axes`")]
#[case("stresses.yaml", "exercises.yaml:9:16", "no file defines any stress; 2 places name one, the first is `back` here", "`stresses`")]
#[case("measured.yaml", "looks.yaml:10:20", "no file defines any track measure, and `speed` is named here", "`track-measures`")]
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
