//! Rules of tracks: what is wrong with them is told, and other rules measure other things.

use drillwright::explain::Instead;
use drillwright::report::rule_tests_text;
use drillwright::{KnowledgeBase, Work};
use rstest::rstest;

use super::made::{csv, like_published};
use super::{setup, tracked, value};
use crate::corpus::texts;

/// The built-in files, one of them changed.
pub fn changed(name: &str, change: impl Fn(String) -> String) -> Vec<(String, String)> {
    let all = texts("rules").into_iter();
    let mut found = false;
    let files = all
        .map(|(file, text)| {
            if file == format!("{name}.yaml") {
                found = true;
                let new = change(text.clone());
                assert!(new != text, "nothing changed in {name}");
                (file, new)
            } else {
                (file, text)
            }
        })
        .collect();
    assert!(found, "no {name}");
    files
}

#[rstest]
#[case(
    "track-events",
    "than: 20\n",
    "\n",
    "nothing says above or below what `bar-leaves-floor` is"
)]
#[case(
    "track-events",
    "find: greatest\n    channel: vertical\n",
    "find: greatest\n    than: 3\n    channel: vertical\n",
    "what is greatest or least is above or below nothing"
)]
#[case(
    "track-events",
    "than: 40\n",
    "than: 40\n    before: bar-received\n",
    "in a circle"
)]
#[case(
    "track-events",
    "after: dip-deepest\n    before: driven-bar-slows",
    "after: bar-nearest\n    before: driven-bar-slows",
    "`bar-nearest` is not sought in tracks of `jerk`"
)]
#[case(
    "track-events",
    "after: bar-nearest\n",
    "after: bar-nerest\n",
    "did you mean `bar-nearest`?"
)]
#[case(
    "track-events",
    "channel: vertical-speed\n    than: 20",
    "channel: vertical-speed\n    against: bar-clearly-lifted\n    than: 20",
    "only a place that is above or below something counts from an event"
)]
#[case(
    "track-events",
    "than: 500",
    "than: 500000",
    "`than` is 500000, and must be from"
)]
#[case(
    "track-measures",
    "take: crossings, channel: horizontal, from: bar-leaves-floor, to: bar-received, against: bar-leaves-floor, band: 10",
    "take: crossings, channel: horizontal, from: bar-leaves-floor, to: bar-received, against: bar-leaves-floor",
    "`crossings` of `start-line-crossings` lacks `band`"
)]
#[case(
    "track-measures",
    "take: time, from: bar-highest",
    "take: time, channel: vertical, from: bar-highest",
    "`channel` means nothing beside `take: time`"
)]
#[case(
    "track-measures",
    "unit: cm-a-second",
    "unit: cm",
    "is not told in this unit"
)]
#[case(
    "track-measures",
    "- {skills: [jerk], take: time,",
    "- {skills: [snatch], take: time,",
    "is taken from `snatch` in two ways"
)]
#[case("track-measures", "take: least,", "take: lest,", "`lest`")]
#[case(
    "track-filters",
    "cutoff-tenth-hertz: 60",
    "cutoff-tenth-hertz: 0",
    "`cutoff-tenth-hertz` is 0, and must be from 5 to 500"
)]
#[case(
    "track-remarks",
    "when: {bar-first-way: {at-least: 20}}",
    "when: {}",
    "`when` of the track remark `side-of-view-in-doubt` is empty"
)]
fn what_is_wrong_with_rules_is_told(
    #[case] file: &str,
    #[case] from: &str,
    #[case] to: &str,
    #[case] wanted: &str,
) {
    let files = changed(file, |text| text.replacen(from, to, 1));
    let error = KnowledgeBase::from_texts(files).unwrap_err();
    let told = error.to_string();
    assert!(told.contains(wanted), "{told}");
    assert!(told.contains(&format!("{file}.yaml:")), "{told}");
}

/// A band and a threshold are data: other numbers, other answers, and a measure that somebody adds is taken.
#[test]
fn rules_decide_what_is_measured() {
    let text = csv(&like_published().rows(60.0));
    // The way in front is 2 cm: with a band of 3 cm the bar never gets there.
    let wide = KnowledgeBase::from_texts(changed("track-measures", |text| {
        text.replace("band: 10", "band: 30")
    }))
    .unwrap();
    let wide = tracked(&wide, &setup("snatch"), &text);
    assert_eq!(value(&wide, "start-line-crossings"), 0);
    let more = |text: String| {
        text + "  rise-of-pull:
    names: {en: [rise of the pull]}
    unit: mm
    means: From the floor to the highest point.
    of: [{skills: [snatch], take: change, channel: vertical, from: bar-leaves-floor, to: bar-highest, unit: mm}]
    source: {expert-set: made for a test}
"
    };
    let more = KnowledgeBase::from_texts(changed("track-measures", more)).unwrap();
    let found = tracked(&more, &setup("snatch"), &text);
    let lift = like_published();
    let off = (value(&found, "rise-of-pull") as f64 - lift.rise() * 1000.0).abs();
    assert!(off <= 8.0, "off by {off}");
    // The strictest filter counts.
    let strict = |text: String| {
        text + "  strict:
    skills: [snatch]
    cutoff-tenth-hertz: 30
    gap-ms-at-most: 20
    rows-a-second-at-least: 50
    because: made for a test
    source: {expert-set: made for a test}
"
    };
    let strict = KnowledgeBase::from_texts(changed("track-filters", strict)).unwrap();
    let found = tracked(&strict, &setup("snatch"), &text);
    assert_eq!((found.cutoff_tenth_hertz, found.gap_ms_at_most), (30, 20));
    let slow = csv(&like_published().rows(30.0));
    let error = strict
        .track_from_reader("slow.csv", &setup("snatch"), slow.as_bytes())
        .unwrap_err();
    assert!(
        error
            .to_string()
            .contains("there are 30 rows a second, and 50 are needed"),
        "{error}"
    );
}

/// The rules with tests of tracks beside them.
fn with_tests(change: impl Fn(String) -> String) -> Vec<(String, String)> {
    let mut files = texts("rules");
    let tests = texts("rules/tests");
    let (_, text) = tests
        .into_iter()
        .find(|(name, _)| name == "tracks.yaml")
        .unwrap();
    files.push((String::from("tests/tracks.yaml"), change(text)));
    files
}

/// Tests of tracks hold, take no part in the rules, and fail where something else comes out.
#[test]
fn tests_of_tracks_are_run_and_can_fail() {
    let base = KnowledgeBase::from_texts(with_tests(|text| text)).unwrap();
    assert_eq!(base.fingerprint(), super::base().fingerprint());
    let ids: Vec<String> = base.rule_tests().iter().map(ToString::to_string).collect();
    assert_eq!(ids.len(), 4);
    for id in &ids {
        let result = base.run_rule_test(id, Work::default()).unwrap();
        assert!(
            result.failed.is_empty() && result.held >= 3,
            "{}",
            rule_tests_text(&[result], false)
        );
    }
    let wrong = |text: String| {
        let text = text.replace(
            "towards: {measure: bar-towards-in-pull, at-least: -52",
            "towards: {measure: bar-towards-in-pull, at-least: -10",
        );
        let text = text.replace(
            "look: bar-caught-far-behind, is: false",
            "look: bar-caught-far-behind, is: true",
        );
        text.replace(
            "remark: side-of-view-in-doubt, is: false",
            "remark: side-of-view-in-doubt, is: true",
        )
        .replace("at-most: -45", "at-most: 0")
    };
    let base = KnowledgeBase::from_texts(with_tests(wrong)).unwrap();
    let result = base
        .run_rule_test("ordinary-snatch", Work::default())
        .unwrap();
    let failed: Vec<(&str, &Instead)> = result
        .failed
        .iter()
        .map(|failed| (failed.kind, &failed.instead))
        .collect();
    assert_eq!(failed.len(), 3, "{failed:?}");
    assert!(
        matches!(failed[0], ("measured", Instead::Measured(Some(-55..=-45)))),
        "{failed:?}"
    );
    assert_eq!(failed[1], ("looked", &Instead::IsTrue(Some(false))));
    assert_eq!(failed[2], ("remarked", &Instead::IsTrue(Some(false))));
    let told = rule_tests_text(&[result], false);
    assert!(
        told.contains("It is not so") && told.contains("tests/tracks.yaml:"),
        "{told}"
    );
}

#[rstest]
#[case(
    "{ms: 600, mm: 0}, {ms: 1200, mm: -50}",
    "{ms: 600, mm: 0}, {ms: 600, mm: -50}",
    "600 is no later than 600"
)]
#[case(
    "body-height: 1700",
    "body-height: 17",
    "`body-height` is 17, and must be from 500 to 2800"
)]
#[case(
    "unknown: true}",
    "unknown: true, at-least: 1}",
    "a measure lies in a range, or is unknown"
)]
#[case(
    "look: feet-not-moved",
    "look: feet-not-movd",
    "did you mean `feet-not-moved`?"
)]
#[case(
    "remark: side-of-view-in-doubt",
    "remark: side-in-doubt",
    "`side-in-doubt` is no track remark"
)]
#[case(
    "at-least: 71, at-most: 73",
    "at-least: 73, at-most: 71",
    "no number is at least 73 and at most 71"
)]
#[case("skill: clean", "skill: cleen", "did you mean `clean`?")]
fn what_is_wrong_with_a_test_of_a_track_is_told(
    #[case] from: &str,
    #[case] to: &str,
    #[case] wanted: &str,
) {
    let error = KnowledgeBase::from_texts(with_tests(|text| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    }));
    let told = error.unwrap_err().to_string();
    assert!(
        told.contains(wanted) && told.contains("tests/tracks.yaml:"),
        "{told}"
    );
}
