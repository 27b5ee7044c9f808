//! `coach track` as people start it.

use super::schemas::{assert_holds, schema};
use super::{Folder, coach};

const BAR: [&str; 8] = [
    "track",
    "tests/cli/bar.csv",
    "--skill",
    "snatch",
    "--facing",
    "right",
    "--unit",
    "m",
];

fn track(more: &[&str]) -> super::Ran {
    coach(&[&BAR[..], more].concat())
}

#[test]
fn says_what_it_measured_with_its_cautions() {
    let ran = track(&["--height", "170", "--feet", "-30"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    for line in ran.out.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    assert!(ran.out.contains("-30 mm, as said"), "{}", ran.out);
    assert!(ran.out.contains("feet moved backward: yes"), "{}", ran.out);
    assert!(ran.out.contains("pain is for a clinician"), "{}", ran.out);
    // Without the height no percent, and the reason.
    let ran = track(&[]);
    assert!(ran.out.contains("say the lifter's height"), "{}", ran.out);
}

#[test]
fn writes_a_document_a_case_and_a_drawing() {
    let ran = track(&["--height", "170", "--as", "json"]);
    assert_holds(&schema("track"), &ran.json(), "track");
    let folder = Folder::new("track");
    let svg = format!("{}/bar.svg", folder.path());
    let case = track(&["--as", "case", "--svg", &svg]);
    assert!(
        case.out.starts_with("format: 1\ncase:\n  measured:\n"),
        "{}",
        case.out
    );
    assert!(std::fs::read_to_string(&svg).unwrap().ends_with("</svg>\n"));
    // A case file as it is: what it lacks is said by flags.
    let file = format!("{}/case.yaml", folder.path());
    std::fs::write(&file, &case.out).unwrap();
    let week = coach(&[
        "week",
        &file,
        "--phase",
        "general",
        "--days",
        "2",
        "--minutes",
        "60",
    ]);
    assert_eq!(week.code, 0, "{}", week.err);
}

#[test]
fn what_is_wrong_is_2_with_its_place() {
    let ran = coach(&[
        "track",
        "tests/cli/bar.csv",
        "--skill",
        "snatch",
        "--facing",
        "right",
    ]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("tests/cli/bar.csv:2:6"), "{}", ran.err);
    assert!(
        ran.err.contains("nothing says in which unit places are"),
        "{}",
        ran.err
    );
    let ran = coach(&[
        "track",
        "tests/cli/none.csv",
        "--skill",
        "snatch",
        "--facing",
        "right",
    ]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("could not be read"), "{}", ran.err);
    let ran = track(&["--svg", "tests/no-such-folder/a.svg"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("could not be written"), "{}", ran.err);
}
