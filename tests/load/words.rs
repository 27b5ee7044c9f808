//! What problems say, and what help they give.

use rstest::rstest;

use super::small::{edited, read};

fn only(edits: &[(&str, &str)]) -> (String, String, Vec<String>) {
    let found = read(&edited(edits)).err().unwrap_or_default();
    let [one] = found.as_slice() else {
        panic!("{found:?}")
    };
    let also = one
        .also
        .iter()
        .map(|(place, note)| format!("{place}: {note}"))
        .collect();
    (one.what.clone(), one.help.clone(), also)
}

#[rstest]
#[case(&[("effect: {late: 2}", "effect: {lat: 2}")], "`lat` is no cause", "did you mean `late`? causes are listed in `causes`")]
#[case(&[("{under: [full-pull]}", "{under: [something-else]}")], "`something-else` is no exercise", "exercises are listed in `exercises`: `bench-push`, `full-pull`, `paused-pull`, `paused-still-pull`, `still-pull`, `two-pulls`")]
#[case(&[("{under: [full-pull]}", "{under: [old-pull]}")], "`old-pull` is no exercise", "it is called `full-pull` now; write that")]
#[case(&[("{is: [good]}", "{is: [god]}")], "`god` is no value of `sleep`", "did you mean `good`? its values are listed in `case-fields` under `sleep`")]
#[case(&[("drops: [feet-still]", "drops: [pause-high]")], "`paused-still-pull` has no `pause-high` that could be dropped", "`paused-still-pull` has `feet-still`, `pause-low`; drop one of these, or none")]
#[case(&[("format: 1\nmarks:", "format: 7\nmarks:")], "this file has the format 7, and only format 1 is read", "write `format: 1` if the file was written for it, or take a version that reads 7")]
#[case(&[("  proportion:", "  proportions:")], "`proportions` is no section of `rules`", "did you mean `proportion`? Allowed here: `adjacent`, `alike`, `apart`, `before`, `cap`, `carry-over`, `caution`, `compose`, `count`, `differ`, `dose`, `exclude`, `floor`, `focus`, `followed`, `fullest`, `help-worth`, `how-often`, `kept`, `least-load`, `lighter`, `load-step`, `minutes`, `needs`, `position`, `prefer`, `proportion`, `quality-worth`, `ramp`, `repeat`, `shift`, `stress`, `timing`, `trim`, `volume`, `watch`")]
fn problems_say_what_to_do(#[case] edits: &[(&str, &str)], #[case] what: &str, #[case] help: &str) {
    let (found, helped, _) = only(edits);
    assert_eq!((found.as_str(), helped.as_str()), (what, help));
}

#[rstest]
#[case(&[("groups: {spare:", "groups: {held:")], "groups.yaml:3:3: it stands here first")]
#[case(&[("with: [feet-still]\n", "with: [feet-still, feet-wide]\n")], "exercises.yaml:27:14: `feet-still` stands here")]
#[case(&[("table: some-table", "table: help")], "tables.yaml:3:3: the table `help` stands here")]
#[case(&[("en: [paused pull]", "en: [Still-Pull]")], "exercises.yaml:25:20: it stands here first")]
fn problems_point_to_what_belongs_to_them(#[case] edits: &[(&str, &str)], #[case] wanted: &str) {
    let (_, _, also) = only(edits);
    assert_eq!(also, [wanted]);
}
