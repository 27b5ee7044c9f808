//! Names where else an exercise is named: case files, ladders, lists.

use drillwright::{ErrorKind, KnowledgeBase};
use rstest::rstest;

use crate::corpus::{BASE, texts};

/// What a case was read as, without the text that it was read from.
fn read_as(case: &drillwright::Case) -> String {
    let all = format!("{case:?}");
    let (_, read) = all.split_once("by_skill: {} }").unwrap();
    read.to_owned()
}

fn case(new: &str) -> String {
    format!("format: 1\ncase:\n  phase: general\n  fields: {{days: 3}}\n  new: [{new}]\n")
}

#[rstest]
#[case("pwr sn", "power-snatch")]
#[case("no-hook-snatch", "no-hook-snatch")]
#[case("hang snatch (below knee)", "low-hang-snatch")]
#[case("'clean + fs + jerk'", "clean-front-squat-jerk")]
fn a_case_file_takes_names(#[case] written: &str, #[case] id: &str) {
    let by_name = BASE.case_from_text("case.yaml", &case(written)).unwrap();
    let by_id = BASE.case_from_text("case.yaml", &case(id)).unwrap();
    assert_eq!(read_as(&by_name), read_as(&by_id));
    let none = BASE.case_from_text("case.yaml", &case("")).unwrap();
    assert_ne!(read_as(&by_name), read_as(&none));
    let built = BASE.case().phase("general").field("days", "3");
    let built = built.new_to(written.trim_matches('\'')).build().unwrap();
    assert_eq!(read_as(&built), read_as(&by_id));
}

#[rstest]
#[case("front-squat, pwr snach", "5:22", "unknown-word", "snatch")]
#[case("pull", "5:9", "ambiguous", "clean pull")]
#[case(
    "hang snatch from high blocks",
    "5:9",
    "contradiction",
    "exclude each other"
)]
#[case("no hook tall clean", "5:9", "dangling-id", "tall clean, no hook grip")]
#[case("back-squt", "5:9", "dangling-id", "back-squat")]
fn a_case_file_is_told_what_is_wrong_with_a_name_and_where(
    #[case] written: &str,
    #[case] place: &str,
    #[case] code: &str,
    #[case] says: &str,
) {
    let error = BASE
        .case_from_text("case.yaml", &case(written))
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Case);
    let [problem] = error.diagnostics() else {
        panic!("{error}")
    };
    assert_eq!(problem.place.to_string(), format!("case.yaml:{place}"));
    assert_eq!(problem.code.as_str(), code, "{problem}");
    assert!(problem.to_string().contains(says), "{problem}");
    assert!(!problem.help.is_empty(), "{problem}");
}

#[test]
fn a_test_of_the_method_takes_names() {
    let with = |new: &str| {
        let mut files = texts("rules");
        let test = format!(
            "format: 1\ncases:\n  names:\n    because: Names are read.\n    case: {{phase: general, new: [{new}], fields: {{days: 3}}}}\n    expect: {{proof: {{best: {{is: claimed}}}}}}\n"
        );
        files.push((String::from("names.yaml"), test));
        KnowledgeBase::from_texts(files)
    };
    assert!(with("pwr sn, back sq").is_ok());
    let error = with("pwr sn, snatch pull from blocks").unwrap_err();
    let [problem] = error.diagnostics() else {
        panic!("{error}")
    };
    assert_eq!(problem.place.to_string(), "names.yaml:5:42");
    assert_eq!(problem.code.as_str(), "ambiguous");
}

#[test]
fn a_ladder_begins_at_a_name() {
    let by_id = BASE
        .ladder("no-contact-power-snatch", Some("bar-swung-out"))
        .unwrap();
    assert_eq!(
        BASE.ladder("pwr sn, no contact", Some("bar-swung-out"))
            .unwrap(),
        by_id
    );
    // What is not listed has a ladder too: each rung frees one of its four constraints.
    let stacked = BASE
        .ladder("no hook no contact flat foot hang snatch", None)
        .unwrap();
    assert_eq!(stacked.len(), 5);
    assert_eq!(stacked[0].exercise, None);
    assert_eq!(stacked[4].exercise.as_ref().unwrap().as_str(), "snatch");
    assert_eq!(
        BASE.ladder("pull", None).unwrap_err().kind(),
        ErrorKind::Name
    );
}

#[test]
fn a_list_is_of_what_varies_a_name() {
    let all = BASE.exercises_under("pwr sn").unwrap();
    let ids: Vec<&str> = all.iter().map(|entry| entry.id.as_str()).collect();
    assert_eq!(
        ids,
        [
            "held-feet-power-snatch",
            "no-contact-power-snatch",
            "no-hook-power-snatch",
            "pause-power-snatch",
            "power-snatch"
        ]
    );
    assert!(BASE.exercises_under("snatch").unwrap().len() > 35);
    assert_eq!(
        BASE.exercises_under("hang").unwrap_err().kind(),
        ErrorKind::Name
    );
}
