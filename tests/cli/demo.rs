//! The week of the command without arguments: its wording as a snapshot, and beside it the facts.

use std::collections::BTreeMap;

use drillwright::Plan;
use drillwright::explain::Claim;
use rstest::rstest;

use super::{answer, coach, kept, rules};

const DEMO: &str = "examples/coach/demo.yaml";

#[test]
fn its_wording() {
    // The fingerprint changes with every word of the rules, the week's wording does not.
    let out = coach(&[])
        .out
        .replace(rules().fingerprint(), "(fingerprint)");
    insta::assert_snapshot!(out);
}

fn week(path: &str) -> Plan {
    answer(path).into_week().unwrap()
}

/// What the case of the demo says about its lifter.
const MINUTES: i64 = 90;
const DAYS: usize = 4;

#[test]
fn has_both_competition_lifts_alone_and_in_the_order_of_a_meet_on_the_top_day() {
    let week = week(DEMO);
    let on = |day: usize| -> Vec<&str> {
        let items = &week.sessions[day].items;
        let lifts = items
            .iter()
            .filter(|item| item.role.as_str() == "competition");
        lifts.map(|item| item.exercise.as_str()).collect()
    };
    assert_eq!(on(DAYS - 1), ["snatch", "clean-and-jerk"]);
    for lift in ["snatch", "clean-and-jerk"] {
        let days = (0..DAYS).filter(|day| on(*day).contains(&lift)).count();
        assert!(days >= 2, "{lift} on {days} days");
    }
}

#[test]
fn keeps_to_days_and_minutes_and_names_a_reason_for_every_line() {
    let week = week(DEMO);
    assert_eq!(week.sessions.len(), DAYS);
    for session in &week.sessions {
        assert!(
            (20..=MINUTES).contains(&session.minutes()),
            "{}",
            session.minutes()
        );
        assert!(!session.items.is_empty());
        for item in &session.items {
            assert!(!week.why(item).is_empty(), "{}", item.name);
            assert!(week.derivation(item).len() >= 3, "{}", item.name);
        }
    }
    let lifts: i64 = week.sessions.iter().map(|session| session.lifts).sum();
    assert_eq!(lifts, week.lifts);
}

#[test]
fn works_on_the_cause_of_what_was_seen_and_leads_back_from_it() {
    let week = week(DEMO);
    let causes: Vec<&str> = week.focus.iter().map(|held| held.cause.as_str()).collect();
    assert_eq!(causes, ["bar-swung-out", "weight-behind"]);
    let mut days = 0;
    for session in &week.sessions {
        let roles: Vec<&str> = session
            .items
            .iter()
            .map(|item| item.role.as_str())
            .collect();
        if let Some(at) = roles.iter().position(|role| *role == "corrective") {
            days += 1;
            let drill = &session.items[at];
            // The full lift follows in the same session, be it as the complex's last part.
            let free = roles[at..].contains(&"competition") || drill.round.len() > 1;
            assert!(free, "{roles:?}");
            // Skill first: no strength work before it.
            assert!(
                !roles[..at]
                    .iter()
                    .any(|role| ["support", "general"].contains(role))
            );
        }
    }
    assert!((2..=3).contains(&days), "{days} days with the drill");
}

#[rstest]
#[case(DEMO)]
#[case("tests/cases/pound-gym-4-days.yaml")]
#[case("tests/cases/three-days-half-an-hour.yaml")]
#[case("tests/cases/competition-4-days-jerk.yaml")]
fn every_load_is_what_bar_collars_and_pieces_make(#[case] path: &str) {
    let week = week(path);
    let bar = week.bar.weight.thousandths() + 2 * week.bar.collar.thousandths();
    let mut loads = 0;
    for item in week.sessions.iter().flat_map(|session| &session.items) {
        let Some(load) = &item.load else {
            assert!(!item.feel.is_empty(), "{}", item.name);
            continue;
        };
        loads += 1;
        let made = |side: &[drillwright::base::Decimal]| -> i64 {
            bar + 2 * side.iter().map(|piece| piece.thousandths()).sum::<i64>()
        };
        assert_eq!(
            load.low.thousandths(),
            made(&load.low_pieces),
            "{}",
            item.name
        );
        assert_eq!(
            load.high.thousandths(),
            made(&load.high_pieces),
            "{}",
            item.name
        );
        assert!(load.low <= load.high && load.percent.0 <= load.percent.1);
        // Heaviest first, as the pieces go on.
        assert!(
            load.high_pieces.is_sorted_by(|one, next| one >= next),
            "{}",
            item.name
        );
    }
    assert!(loads >= 5, "{path}: {loads}");
}

#[rstest]
#[case(DEMO, 90)]
#[case("tests/cases/three-days-half-an-hour.yaml", 30)]
#[case("tests/cases/novice-without-full-lifts.yaml", 60)]
#[case("tests/cases/last-week-3-days.yaml", 90)]
fn minutes_are_within_the_case_s(#[case] path: &str, #[case] most: i64) {
    for session in &week(path).sessions {
        assert!(session.minutes() <= most, "{path}: {}", session.minutes());
    }
}

/// What a reason is about, as far as its sentence must tell it from others.
fn about(claim: &Claim) -> Option<String> {
    match claim {
        Claim::Helps { cause, by, .. } => Some(format!("{cause} {by:?}")),
        Claim::Floor { quality, .. } => Some(quality.to_string()),
        Claim::StandsIn { of, .. } => Some(of.to_string()),
        Claim::UsedFor(exercise) => Some(exercise.to_string()),
        _ => None,
    }
}

#[test]
fn sentences_differ_where_reasons_differ() {
    for path in [
        DEMO.to_owned(),
        kept("hips-first-4-days"),
        kept("sore-shoulder-4-days"),
    ] {
        let week = week(&path);
        let mut meant: BTreeMap<String, String> = BTreeMap::new();
        let mut told = 0;
        for item in week.sessions.iter().flat_map(|session| &session.items) {
            let claim = week.trail.get(item.reason).unwrap().claim();
            let Some(about) = about(claim) else { continue };
            let why = week.why(item);
            told += 1;
            let held = meant.entry(why.clone()).or_insert_with(|| about.clone());
            assert_eq!(*held, about, "{path}: {why}");
        }
        assert!(told >= 3, "{path}");
    }
}
