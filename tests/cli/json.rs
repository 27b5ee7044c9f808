//! Every command answers programs as well: JSON that its schema holds and that reads back equal.

use drillwright::report::{
    AnswerDocument, ExercisesDocument, FaultsDocument, LadderDocument, NameDocument,
    ProblemsDocument,
};
use rstest::rstest;
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::schemas::{assert_holds, schema};
use super::{Folder, QUICK, coach, kept};

/// Reads a document into the library's own type and prints it again as the program prints.
#[track_caller]
fn read_back<T: DeserializeOwned + Serialize>(text: &str) -> T {
    let document: T = match serde_json::from_str(text) {
        Ok(document) => document,
        Err(error) => panic!("{error}: {text}"),
    };
    let again = serde_json::to_string_pretty(&document).unwrap() + "\n";
    assert_eq!(again, text);
    document
}

#[rstest]
#[case::alone(&[], "week", 0)]
#[case::all_reasons(&["--reasons", "full"], "week", 0)]
#[case::no_week(&["week", "tests/cases/acute-pain.yaml"], "no-week", 1)]
#[case::not_found(&["--nodes", "1"], "not-found", 3)]
fn an_answer_is_held_by_its_schema_and_reads_back(
    #[case] arguments: &[&str],
    #[case] of: &str,
    #[case] code: i32,
) {
    let ran = coach(&[arguments, &["--as", "json"]].concat());
    assert_eq!((ran.code, ran.err.as_str()), (code, ""));
    assert_holds(&schema(of), &ran.json(), of);
    let document: AnswerDocument = read_back(&ran.out);
    let is = match document {
        AnswerDocument::Week(_) => "week",
        AnswerDocument::NoWeek(_) => "no-week",
        AnswerDocument::NotFound(_) => "not-found",
        _ => "something else",
    };
    assert_eq!(is, of);
}

#[test]
fn weeks_of_kept_cases_are_held_and_read_back() {
    let schema = schema("week");
    for case in QUICK {
        let ran = coach(&["week", &kept(case), "--as", "json"]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{case}");
        assert_holds(&schema, &ran.json(), case);
        assert!(
            matches!(read_back(&ran.out), AnswerDocument::Week(_)),
            "{case}"
        );
    }
}

#[test]
fn another_format_is_not_read() {
    let ran = coach(&["--as", "json"]);
    let later = ran.out.replacen("\"format\": 1", "\"format\": 2", 1);
    assert_ne!(later, ran.out);
    assert!(serde_json::from_str::<AnswerDocument>(&later).is_err());
    assert!(serde_json::from_str::<AnswerDocument>("{\"format\": 1}").is_err());
}

#[test]
fn lists_are_held_by_their_schemas_and_read_back() {
    let faults = coach(&["faults", "--as", "json"]);
    assert_holds(&schema("fault-list"), &faults.json(), "faults");
    assert!(read_back::<FaultsDocument>(&faults.out).faults.len() >= 16);

    let ranked = [
        "exercises",
        "--fault",
        "saved-backward",
        "--skill",
        "snatch",
    ];
    for arguments in [
        &["exercises"][..],
        &["exercises", "--skill", "jerk"],
        &ranked,
    ] {
        let ran = coach(&[arguments, &["--as", "json"]].concat());
        assert_eq!(ran.code, 0, "{arguments:?}");
        assert_holds(&schema("exercise-list"), &ran.json(), "exercises");
        let read: ExercisesDocument = read_back(&ran.out);
        assert!(read.exercises.len() > 20, "{arguments:?}");
        // Only a ranking has scores, and the best comes first.
        let scores: Vec<i64> = read
            .exercises
            .iter()
            .filter_map(|held| held.score)
            .collect();
        assert_eq!(scores.is_empty(), arguments.len() < 4, "{arguments:?}");
        assert!(scores.is_sorted_by(|one, next| one >= next), "{scores:?}");
    }

    let ladder = coach(&["ladder", "no-contact-snatch", "--as", "json"]);
    assert_holds(&schema("ladder"), &ladder.json(), "ladder");
    assert_eq!(read_back::<LadderDocument>(&ladder.out).rungs.len(), 2);
}

#[rstest]
#[case::listed(&["pwr", "sn"], "power-snatch", 1)]
#[case::made(&["no hook no contact flat foot hang snatch"], "", 1)]
#[case::complex(&["pwr cl + fs + j (1+2+1)"], "", 3)]
#[case::without_a_best(&["plank"], "trunk-hold", 1)]
fn names_are_held_by_their_schema_and_read_back(
    #[case] text: &[&str],
    #[case] id: &str,
    #[case] movements: usize,
) {
    let ran = coach(&[&["name"], text, &["--as", "json"]].concat());
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert_holds(&schema("name"), &ran.json(), "name");
    let document: NameDocument = read_back(&ran.out);
    assert_eq!(document.exercise.id.as_deref().unwrap_or(""), id);
    assert_eq!(document.exercise.parts.len(), movements);
    let mut broken = ran.json();
    broken["exercise"]["departure"] = "far".into();
    assert!(!schema("name").is_valid(&broken));
}

#[rstest]
#[case::no_problem(&["check", "rules"], 0, 0)]
#[case::no_folder(&["check", "no-such-folder"], 2, 1)]
#[case::no_case_file(&["week", "no-such-case.yaml"], 2, 1)]
#[case::misspelt(&["ladder", "no-contact-snach"], 2, 1)]
#[case::complex(&["ladder", "held-feet-snatch-then-snatch"], 2, 1)]
#[case::schema(&["schema", "weak"], 2, 1)]
#[case::unknown_name(&["name", "snach"], 2, 1)]
#[case::ambiguous_name(&["name", "snatch", "pull", "from", "blocks"], 2, 1)]
#[case::two(&["week", "--phase", "genral", "--field", "dayz=3"], 2, 2)]
fn problems_are_held_by_their_schema_and_read_back(
    #[case] arguments: &[&str],
    #[case] code: i32,
    #[case] problems: usize,
) {
    let ran = coach(&[arguments, &["--as", "json"]].concat());
    assert_eq!((ran.code, ran.err.as_str()), (code, ""));
    assert_holds(&schema("problems"), &ran.json(), "problems");
    assert_eq!(
        read_back::<ProblemsDocument>(&ran.out).problems.len(),
        problems
    );
}

/// Lines of a folder with one id in two files, counted by hand.
#[test]
fn further_places_of_a_problem_are_told_with_their_notes() {
    let folder = Folder::new("also");
    let entry = |id: &str| format!("format: 1\nmarks:\n  {id}: {{names: {{en: [a mark]}}}}\n");
    folder.write("a.yaml", entry("once"));
    folder.write("b.yaml", entry("once"));
    let ran = coach(&["check", folder.path(), "--as", "json"]);
    assert_eq!(ran.code, 2);
    assert_holds(&schema("problems"), &ran.json(), "problems");
    let document = read_back::<ProblemsDocument>(&ran.out);
    let twice = document
        .problems
        .iter()
        .find(|problem| problem.code == "duplicate-id");
    let also = &twice.unwrap().also;
    assert_eq!(also.len(), 1, "{document:?}");
    let place = &also[0].place;
    assert_eq!(
        (place.file.as_str(), place.line, place.column),
        ("a.yaml", 3, 3)
    );
    assert_eq!(also[0].note, "it stands here first");
    let mut broken = ran.json();
    broken["problems"][0]["also"] = serde_json::json!([{"note": "nowhere"}]);
    assert!(!schema("problems").is_valid(&broken));
}

#[rstest]
#[case::of_one_exercise(&["name", "pull"], &[("clean pull", "clean-pull"), ("snatch pull", "snatch-pull")])]
#[case::not_all_listed(&["name", "snatch pull from blocks"], &[
    ("snatch pull from blocks at the knee", "snatch-pull-from-blocks"),
    ("snatch pull from high blocks", "snatch-pull-from-high-blocks"),
    ("snatch pull, from low blocks", ""),
])]
#[case::several(&["name", "snatch clean"], &[("snatch", "snatch"), ("clean", "clean")])]
#[case::a_word_put_right(&["name", "(hang snathc, no hook)"], &[("(hang snatch, no hook)", "")])]
#[case::an_id_put_right(&["name", "power-snach"], &[("power-snatch", "power-snatch")])]
#[case::in_a_case(&["week", "--phase", "general", "--disliked", "pull"], &[("clean pull", "clean-pull"), ("snatch pull", "snatch-pull")])]
#[case::nothing_to_choose(&["name", "hang snatch from high blocks"], &[])]
fn what_a_name_may_mean_is_a_list(#[case] arguments: &[&str], #[case] wanted: &[(&str, &str)]) {
    let ran = coach(&[arguments, &["--as", "json"]].concat());
    assert_eq!((ran.code, ran.err.as_str()), (2, ""));
    assert_holds(&schema("problems"), &ran.json(), "problems");
    let document = read_back::<ProblemsDocument>(&ran.out);
    let [problem] = document.problems.as_slice() else {
        panic!("{document:?}")
    };
    let found: Vec<(&str, &str)> = problem
        .candidates
        .iter()
        .map(|one| (one.name.as_str(), one.id.as_deref().unwrap_or("")))
        .collect();
    assert_eq!(found, wanted);
    // Each of them is a name.
    for (name, id) in wanted {
        let read: NameDocument = read_back(&coach(&["name", name, "--as", "json"]).out);
        assert!(
            id.is_empty() || read.exercise.id.as_deref() == Some(id),
            "{name}"
        );
    }
}

#[test]
fn the_json_week_says_what_the_text_says() {
    let case = kept("three-days-half-an-hour");
    let (text, json) = (
        coach(&["week", &case]).out,
        coach(&["week", &case, "--as", "json"]).json(),
    );
    for session in json["sessions"].as_array().unwrap() {
        assert!(text.contains(&format!("{} minutes", session["minutes"])));
        for item in session["items"].as_array().unwrap() {
            let name = item["name"].as_str().unwrap();
            let why = item["why"].as_array().unwrap();
            assert_eq!(why.len(), 1, "{name}");
            assert!(text.contains(why[0].as_str().unwrap()), "{name}");
            let line = text.lines().find(|line| {
                line.trim_start()
                    .to_lowercase()
                    .starts_with(&name.to_lowercase())
            });
            assert!(line.is_some(), "{name}: {text}");
            match item.get("load") {
                Some(load) => {
                    assert!(item.get("feel").is_none(), "{name}");
                    let low = format!("{}–{} %", load["percent"]["low"], load["percent"]["high"]);
                    assert!(text.contains(&low), "{name}: {low}");
                }
                None => assert!(item["feel"].is_string(), "{name}"),
            }
        }
    }
}

#[test]
fn schemas_are_json_whatever_is_asked_for() {
    for name in ["week", "case", "rules"] {
        let plain = coach(&["schema", name]);
        let asked = coach(&["schema", name, "--as", "json"]);
        assert_eq!(plain.out, asked.out);
        assert!(asked.json().is_object());
    }
}
