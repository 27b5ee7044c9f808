//! Entries on how things are written that say what cannot be.

use drillwright::{ErrorKind, KnowledgeBase};
use rstest::rstest;

use crate::corpus::texts;

fn with(words: &str) -> Result<KnowledgeBase, drillwright::Error> {
    let mut files = texts("rules");
    let text = format!("format: 1\nwords:\n{words}");
    files.push((String::from("more.yaml"), text));
    KnowledgeBase::from_texts(files)
}

const SOURCE: &str = "source: {common-practice: for a test}";

#[test]
fn one_more_way_of_writing_is_read() {
    let text = format!("  more: {{write: [zwatch, zw-tch], means: [snatch], {SOURCE}}}\n");
    let base = with(&text).unwrap();
    for text in ["zwatch", "hang ZW TCH"] {
        assert!(base.read_name(text).is_ok(), "{text}");
    }
    assert!(base.read_name("zw").is_err());
}

#[rstest]
#[case::shared_with_another(
    "{write: [pwr], means: [push]",
    "4:18",
    "shared-name",
    "`more` and `write-power` share"
)]
#[case::shared_whatever_its_case(
    "{write: [P-W-R, C.L.N, p w r], means: [push]",
    "4:32",
    "shared-name",
    "twice"
)]
#[case::meaning_nothing(
    "{write: [zw], means: [swotch]",
    "4:31",
    "dangling-id",
    "`swotch` names no exercise"
)]
#[case::one_meaning_of_several(
    "{write: [zw], means: [snatch, swotch]",
    "4:39",
    "dangling-id",
    "`swotch` names no exercise"
)]
#[case::without_a_word(
    "{write: ['(-)'], means: [snatch]",
    "4:18",
    "bad-value",
    "no word in it"
)]
fn is_told_at_its_place(
    #[case] entry: &str,
    #[case] place: &str,
    #[case] code: &str,
    #[case] says: &str,
) {
    let error = with(&format!(
        "  # Ways of writing.\n  more: {entry}, {SOURCE}}}\n"
    ))
    .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Rules);
    let [problem] = error.diagnostics() else {
        panic!("{error}")
    };
    assert_eq!(problem.code.as_str(), code, "{problem}");
    assert!(problem.to_string().contains(says), "{problem}");
    let at = problem.place.to_string();
    // Of two that share, the one that stands later in the order of ids is told.
    assert!(
        at == format!("more.yaml:{place}") || at.starts_with("words.yaml:"),
        "{at}"
    );
    assert!(!problem.help.is_empty());
}

#[rstest]
#[case(
    "names: {en: [hook grip, with the hook]}",
    "during: [first-pul]",
    "first-pul"
)]
#[case(
    "names: {en: [hook grip, with the hook]}",
    "not-with: [strapps]",
    "strapps"
)]
#[case(
    "names: {en: [hook grip, with the hook]}",
    "behind-others: form-clean",
    "form-clean"
)]
fn what_constraints_refer_to_must_be_there(
    #[case] line: &str,
    #[case] more: &str,
    #[case] says: &str,
) {
    let mut files = texts("rules");
    let axes = files
        .iter_mut()
        .find(|(name, _)| name == "axes.yaml")
        .unwrap();
    assert!(axes.1.contains(line));
    axes.1 = axes.1.replacen(line, &format!("{line}\n        {more}"), 1);
    let error = KnowledgeBase::from_texts(files).unwrap_err();
    let [problem] = error.diagnostics() else {
        panic!("{error}")
    };
    assert_eq!(problem.code.as_str(), "dangling-id");
    assert!(problem.what.contains(says), "{problem}");
}
