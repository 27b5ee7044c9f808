//! What is a lift by the rules of competition, and what is not.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use rstest::rstest;
use serde_yaml::Value;

use drillwright::explain::Plan;

use crate::corpus::{self, BASE, Solved};
use crate::laws::pack::Pack;

/// Whether a week with nothing but this exercise has the full lift, by the weekly rule about it.
fn counts(exercise: &str, of: &str) -> bool {
    let (solved, plan) = corpus::plain();
    let mut plan = plan.clone();
    let lone = plan
        .sessions
        .iter()
        .flat_map(|session| &session.items)
        .find(|item| item.exercise.as_str() == of && item.role.as_str() == "competition")
        .unwrap()
        .clone();
    let entry = BASE
        .exercises()
        .into_iter()
        .find(|entry| entry.id.as_str() == exercise)
        .unwrap();
    for (at, session) in plan.sessions.iter_mut().enumerate() {
        session.items.clear();
        if at == 0 {
            let mut item = lone.clone();
            item.exercise = entry.id.clone();
            session.items.push(item);
        }
    }
    let found = BASE.recheck(&solved.case, &plan).unwrap();
    let weekly = format!("full-{of}-weekly");
    let missed = found.broken.iter().any(|lack| lack.ruling.id() == weekly);
    // The rule is there and can be missed.
    plan.sessions[0].items.clear();
    let empty = BASE.recheck(&solved.case, &plan).unwrap();
    assert!(empty.broken.iter().any(|lack| lack.ruling.id() == weekly));
    !missed
}

/// International Weightlifting Federation, technical rules, incorrect movements (A, S): a pull from
/// the hang and a bar that stops during the pull are no lift. The lift itself is one.
#[rstest]
#[case::snatch("snatch", true)]
#[case::hang("hang-snatch", false)]
#[case::low_hang("low-hang-snatch", false)]
#[case::hang_at_the_knee("knee-hang-snatch", false)]
#[case::high_hang("high-hang-snatch", false)]
#[case::hang_power("hang-power-snatch", false)]
#[case::stop_off_the_floor("lift-off-pause-snatch", false)]
#[case::stop_below_the_knee("pause-snatch", false)]
#[case::stop_above_the_knee("pause-above-knee-snatch", false)]
#[case::stop_at_the_hip("hip-pause-snatch", false)]
#[case::pull_alone("snatch-pull", false)]
#[case::complex_from_the_hang("hang-snatch-then-snatch", false)]
#[case::complex_that_ends_in_it("slow-snatch-then-snatch", true)]
fn of_the_snatch(#[case] exercise: &str, #[case] whole: bool) {
    assert_eq!(counts(exercise, "snatch"), whole);
}

/// IWF, incorrect movements (A, S), as above, for the clean and jerk. A pull from the hang is no
/// lift, and neither is a clean without its jerk or a jerk without its clean.
#[rstest]
#[case::clean_and_jerk("clean-and-jerk", true)]
#[case::hang("hang-clean-and-jerk", false)]
#[case::hang_clean("hang-clean", false)]
#[case::stop_below_the_knee("pause-clean", false)]
#[case::stop_above_the_knee("pause-above-knee-clean", false)]
#[case::clean_alone("clean", false)]
#[case::jerk_alone("jerk", false)]
fn of_the_clean_and_jerk(#[case] exercise: &str, #[case] whole: bool) {
    assert_eq!(counts(exercise, "clean-and-jerk"), whole);
}

const STOPS: [&str; 9] = [
    "hang-below-knee",
    "hang-at-knee",
    "hang-above-knee",
    "hang-high",
    "pause-off-floor",
    "pause-below-knee",
    "pause-above-knee",
    "pause-at-hip",
    "no-turnover",
];

fn stands_whole(solved: &Solved, plan: &Plan, lift: &str) -> bool {
    let items = || plan.sessions.iter().flat_map(|session| &session.items);
    // A lift that a case rules out has a form that stands in for it, and the week says so.
    if let Some(stand_in) = plan
        .stand_ins
        .iter()
        .find(|stand_in| stand_in.of.as_str() == lift)
    {
        assert!(!stand_in.said.words.is_empty(), "{}", solved.name);
        let Some(form) = &stand_in.exercise else {
            return true;
        };
        return items().any(|item| item.exercise == *form);
    }
    items().any(|item| {
        item.exercise.as_str() == lift
            && item.role.as_str() != "primer"
            && !STOPS.iter().any(|stop| corpus::has(item, stop))
    }) || items().any(|item| has_it_as_it_is(item.exercise.as_str(), lift))
}

/// The exercises of the rule files.
static EXERCISES: LazyLock<BTreeMap<String, Value>> = LazyLock::new(|| {
    let pack = Pack::new(&corpus::texts("rules"), "{}");
    pack.entries("exercises").into_iter().collect()
});

/// Whether a complex has the lift itself as a component, with nothing changed about it.
fn has_it_as_it_is(exercise: &str, lift: &str) -> bool {
    let Some(parts) = EXERCISES[exercise].get("components") else {
        return false;
    };
    let mut parts = parts.as_sequence().unwrap().iter();
    parts.any(|part| part["do"] == lift && part.get("with").is_none())
}

/// IWF, incorrect movements (A, S): every week has the lift as it is judged, in every phase.
#[rstest]
fn every_week_has_it(#[values("snatch", "clean-and-jerk")] lift: &str) {
    let mut phases = std::collections::BTreeSet::new();
    for (solved, plan) in corpus::weeks() {
        assert!(
            stands_whole(solved, plan, lift),
            "{}: no {lift}",
            solved.name
        );
        phases.insert(solved.phase());
    }
    assert_eq!(phases.len(), 4);
}

/// IWF rules (A): the hook grip is allowed, not required. A sore thumb takes no lift away, and the
/// week says that it may be done without.
#[test]
fn the_hook_grip_is_allowed_and_not_required() {
    let solved = corpus::named("sore-thumb-4-days");
    let plan = solved.answer.week().unwrap();
    assert!(plan.stand_ins.is_empty());
    for lift in ["snatch", "clean-and-jerk"] {
        assert!(
            plan.sessions
                .iter()
                .flat_map(|session| &session.items)
                .any(|item| item.exercise.as_str() == lift)
        );
    }
    let said = plan
        .cautions
        .iter()
        .find(|said| said.rule.as_str() == "thumb-said")
        .unwrap();
    assert!(said.words.contains("without the hook"), "{}", said.words);
}
