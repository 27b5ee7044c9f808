//! Training days that a case names: where they stand, what each takes, what is said of them, and how they are taken back.

use drillwright::explain::{Clashing, Plan};
use drillwright::report::{Reasons, WeekDocument};
use drillwright::{Answer, KnowledgeBase};

use crate::cli::schemas::{assert_holds, schema};
use crate::cli::{coach, kept};
use crate::corpus::{self, BASE};

const MIXED: &str = "days-named-mixed-minutes";
const IN_A_ROW: &str = "days-named-in-a-row";

fn week(name: &str) -> &'static Plan {
    corpus::named(name).answer.week().unwrap()
}

fn words(plan: &Plan) -> Vec<String> {
    let days = plan.sessions.iter();
    days.map(|session| format!("{} {}", session.day, session.weekday.unwrap()))
        .collect()
}

#[test]
fn stand_where_they_are_named() {
    assert_eq!(
        words(week(MIXED)),
        ["1 monday", "3 wednesday", "6 saturday"]
    );
    let in_a_row = ["1 monday", "2 tuesday", "4 thursday", "5 friday"];
    assert_eq!(words(week(IN_A_ROW)), in_a_row);
    // Without names the days are numbers alone.
    let plain = week("three-days-an-hour-snatch");
    assert!(
        plain
            .sessions
            .iter()
            .all(|session| session.weekday.is_none())
    );
}

/// Each day keeps its own minutes, and the bounds of an hour are those of the day that has one.
#[test]
fn take_their_own_minutes() {
    for (name, minutes) in [(MIXED, &[60, 90, 120][..]), (IN_A_ROW, &[90, 60, 90, 90])] {
        for (session, most) in week(name).sessions.iter().zip(minutes) {
            let (takes, items) = (session.minutes(), session.items.len());
            assert!(takes <= *most, "{name}, day {}: {takes}", session.day);
            assert!(
                *most > 60 || items <= 4,
                "{name}, day {}: {items}",
                session.day
            );
            // Two sets fewer of the large exercises in an hour, and none in a longer session.
            for item in session
                .items
                .iter()
                .filter(|item| item.role.as_str() == "competition")
            {
                let fewer = if *most == 60 { 3 } else { 5 };
                assert_eq!(
                    item.sets, fewer,
                    "{name}, day {}: {}",
                    session.day, item.name
                );
            }
        }
    }
    let more = &week(MIXED).sessions[1];
    assert!(
        more.items.len() > 4 && more.minutes() > 60,
        "no bound of an hour on Wednesday"
    );
}

#[test]
fn are_said_on_the_sheet_and_in_the_document() {
    let path = kept(MIXED);
    let sheet = coach(&["week", &path]).out;
    let flat = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        "training days: Monday, Wednesday, Saturday",
        "minutes: 60 on Monday, 90 on Wednesday, 120 on Saturday",
    ] {
        assert!(flat.contains(said), "{said}: {sheet}");
    }
    assert!(sheet.contains("\nSATURDAY, heavy"), "{sheet}");
    let flat = coach(&["week", &kept(IN_A_ROW)]).out;
    let flat = flat.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("minutes: 60 on Tuesday, else 90"), "{flat}");
    let json = coach(&["week", &path, "--as", "json"]).json();
    assert_holds(&schema("week"), &json, "the week");
    assert_eq!(json["sessions"][2]["weekday"], "saturday");
    let read: WeekDocument = serde_json::from_value(json).unwrap();
    let Answer::Week(plan) = &corpus::named(MIXED).answer else {
        panic!("a week")
    };
    assert_eq!(read, plan.document(Reasons::Brief));
    let case = schema("case");
    let text = &corpus::named(MIXED).text;
    let held = |text: &str| serde_yaml::from_str::<serde_json::Value>(text).unwrap();
    assert_holds(&case, &held(text), "the case");
    assert!(!case.is_valid(&held(&text.replace("monday:", "mondy:"))));
    let plain = coach(&["week", &kept("three-days-an-hour-snatch"), "--as", "json"]).json();
    assert!(plain["sessions"][0].get("weekday").is_none());
}

#[test]
fn are_the_same_by_flags_and_in_code() {
    let flags = [
        "week",
        "--phase",
        "general",
        "--on",
        "monday=60",
        "--on",
        "wednesday",
        "--on",
        "saturday=120",
        "--minutes",
        "75",
        "--level",
        "novice",
        "--as",
        "json",
    ];
    let ran = coach(&flags);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let case = BASE
        .case()
        .phase("general")
        .field_of_day("monday", "minutes", "60")
        .training_day("wednesday")
        .field_of_day("saturday", "minutes", "120")
        .field("minutes", "75")
        .field("level", "novice")
        .build()
        .unwrap();
    let Answer::Week(plan) = BASE.solve(&case).unwrap() else {
        panic!("a week")
    };
    let document = serde_json::to_value(plan.document(Reasons::Brief)).unwrap();
    assert_eq!(ran.json(), document);
    assert_eq!(words(&plan), ["1 monday", "3 wednesday", "6 saturday"]);
}

#[test]
fn are_refused_where_they_cannot_be() {
    for (flags, says) in [
        (&["--on", "mondy"][..], "did you mean `monday`?"),
        (
            &["--on", "monday", "--on", "monday=60"],
            "`monday` is said twice",
        ),
        (
            &["--on", "friday", "--on", "monday"],
            "`monday` stands after `friday`",
        ),
        (&["--on", "monday"], "cannot be 1 days a week"),
        (
            &["--on", "monday", "--on", "friday", "--days", "3"],
            "2 training days are named",
        ),
        (
            &["--on", "monday=20", "--on", "friday"],
            "cannot be 20 minutes",
        ),
        (
            &["--on", "monday", "--on", "friday", "--done", "mon"],
            "is no day of the week",
        ),
        (
            &["--on", "monday", "--on", "friday", "--done", "8"],
            "1 (Monday) to 7",
        ),
    ] {
        let ran = coach(&[&["week", "--phase", "general"], flags].concat());
        assert_eq!(ran.code, 2, "{flags:?}: {}", ran.out);
        assert!(ran.err.contains(says), "{flags:?}: {}", ran.err);
    }
}

#[test]
fn are_done_and_missed_by_name_or_number() {
    let path = kept(MIXED);
    let by = |done: &str, missed: &str| {
        let ran = coach(&[
            "week", &path, "--done", done, "--missed", missed, "--as", "json",
        ]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""));
        ran.json()
    };
    let json = by("monday", "wednesday");
    assert_eq!(json, by("1", "3"));
    assert_eq!(json["missed_days"], serde_json::json!([3]));
    let days: Vec<_> = json["sessions"]
        .as_array()
        .unwrap()
        .iter()
        .map(|day| &day["weekday"])
        .collect();
    assert_eq!(days, ["monday", "saturday"]);
    assert!(json["sessions"][1]["minutes"].as_i64().unwrap() <= 120);
}

/// The built-in method with further rules.
fn with(rules: &str) -> KnowledgeBase {
    let mut files = corpus::texts("rules");
    files.push((
        String::from("zz.yaml"),
        format!("format: 1\nrules:\n{rules}"),
    ));
    KnowledgeBase::from_texts(files).unwrap_or_else(|error| panic!("{error}"))
}

fn clash(base: &KnowledgeBase, case: &str) -> (Vec<Clashing>, String) {
    let text = format!("format: 1\ncase:\n  phase: general\n{case}");
    let case = base.case_from_text("case.yaml", &text).unwrap();
    let Answer::NoWeek(none) = base.solve(&case).unwrap() else {
        panic!("there is a week")
    };
    let said = none.text(drillwright::report::Layout::new());
    (
        none.clash.iter().map(|clash| clash.what.clone()).collect(),
        said,
    )
}

fn has_week(base: &KnowledgeBase, case: &str) -> bool {
    let text = format!("format: 1\ncase:\n  phase: general\n{case}");
    let case = base.case_from_text("case.yaml", &text).unwrap();
    base.solve(&case).unwrap().week().is_some()
}

/// A day's own minutes clash with what a rule asks of every session, and taken back they do not.
#[test]
fn a_days_minutes_can_be_what_clashes() {
    let base = with(
        "  count:\n    many: {what: {everything: true}, per: session, at-least: 5, 'on': {efforts: [medium]}, yields: never, because: For a test., source: {expert-set: for a test}}\n",
    );
    let (what, said) = clash(
        &base,
        "  training-days: {monday: {minutes: 60}, wednesday: {}, saturday: {}}\n",
    );
    let days: Vec<_> = what
        .iter()
        .filter_map(|one| match one {
            Clashing::Field {
                field, day, says, ..
            } => Some((field.as_str(), *day, says.as_str())),
            _ => None,
        })
        .collect();
    let monday = drillwright::base::Weekday::Monday;
    assert_eq!(days, [("minutes", Some(monday), "60")], "{said}");
    assert!(
        said.contains("the case says: minutes on Monday: 60"),
        "{said}"
    );
    assert!(has_week(
        &base,
        "  training-days: {monday: {}, wednesday: {}, saturday: {}}\n"
    ));
}

/// Which days are named can clash: two in a row, where a rule wants the eve of a medium day free.
#[test]
fn the_days_themselves_can_be_what_clashes() {
    let base = with(
        "  count:\n    rest: {what: {everything: true}, per: session, at-most: 0, 'on': {eve-of: [medium]}, yields: never, because: For a test., source: {expert-set: for a test}}\n    work: {what: {everything: true}, per: session, at-least: 1, 'on': {efforts: [medium]}, yields: never, because: For a test., source: {expert-set: for a test}}\n",
    );
    let (what, said) = clash(
        &base,
        "  training-days: {monday: {}, tuesday: {}, friday: {}}\n",
    );
    let named = Clashing::Days(String::from("Monday, Tuesday, Friday"));
    assert!(what.contains(&named), "{said}");
    assert!(
        said.contains("the case says: training on Monday, Tuesday, Friday"),
        "{said}"
    );
    assert!(has_week(
        &base,
        "  training-days: {monday: {}, wednesday: {}, saturday: {}}\n"
    ));
}

/// A layout that the case names has as many days as the case names.
#[test]
fn a_layout_of_other_days_is_told() {
    let case = BASE.case().phase("general").layout("two-days");
    let case = ["monday", "friday", "sunday"]
        .into_iter()
        .fold(case, |case, day| case.training_day(day));
    let told = case.build().unwrap_err().to_string();
    assert!(
        told.contains("the layout `two-days` has 2 days, and 3 are named"),
        "{told}"
    );
}
