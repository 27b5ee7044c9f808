//! A week that has begun: what was done stays, what was missed is left out, the rest is as good as it can be.

use drillwright::explain::{Plan, Proof, Session};
use drillwright::{Answer, Case, ErrorKind, KnowledgeBase};

use crate::corpus::{self, BASE, Solved, weeks};

/// Some cases in which nothing gives way, of every phase and of two to six days.
fn some() -> impl Iterator<Item = (&'static Solved, &'static Plan)> {
    weeks()
        .filter(|(_, plan)| plan.shortfalls.is_empty() && plan.proof == Proof::Claimed)
        .step_by(9)
}

fn rest(base: &KnowledgeBase, case: &Case, week: &Plan, done: &[u8], missed: &[u8]) -> Plan {
    let rest = base.rest_of_week(case, week, done, missed).unwrap();
    match base.solve(&rest).unwrap() {
        Answer::Week(plan) => *plan,
        other => panic!("{done:?} {missed:?}: {other:?}"),
    }
}

/// Exercises, roles, sets and loads of a session, whatever their order inside a part.
fn shown(session: &Session) -> Vec<String> {
    let mut all: Vec<String> = session
        .items
        .iter()
        .map(|item| {
            let load = item.load.as_ref().map(|load| (load.low, load.high));
            format!(
                "{} {} {} {} {load:?}",
                item.slot, item.role, item.exercise, item.sets
            )
        })
        .collect();
    all.sort();
    all
}

/// With nothing missed, what was best is best again, whichever days are done.
#[test]
fn with_nothing_missed_it_is_the_same_week() {
    let (mut seen, mut phases) = (0, std::collections::BTreeSet::new());
    for (solved, plan) in some() {
        let days: Vec<u8> = plan.sessions.iter().map(|session| session.day).collect();
        let done = &days[..days.len() / 2];
        let again = rest(&BASE, &solved.case, plan, done, &[]);
        assert_eq!(
            (again.missed, again.worth),
            (plan.missed, plan.worth),
            "{}",
            solved.name
        );
        for (one, other) in plan.sessions.iter().zip(&again.sessions) {
            assert_eq!(shown(one), shown(other), "{}", solved.name);
            assert_eq!(other.done, done.contains(&one.day));
        }
        assert!(again.missed_days.is_empty());
        phases.insert(solved.phase());
        seen += 1;
    }
    assert!(seen >= 20 && phases.len() >= 3, "{seen} {phases:?}");
}

/// The first day done, the second missed: the first stands as it was, the second is gone, and snatch and clean and jerk are
/// still in the week, unless the case rules them out.
#[test]
fn a_missed_day_is_left_out_and_both_lifts_stay() {
    let mut seen = 0;
    for (solved, plan) in some().filter(|(_, plan)| plan.sessions.len() >= 3) {
        let (first, second) = (plan.sessions[0].day, plan.sessions[1].day);
        let after = rest(&BASE, &solved.case, plan, &[first], &[second]);
        assert_eq!(after.missed_days, [second]);
        assert_eq!(after.sessions.len() + 1, plan.sessions.len());
        assert_eq!(
            shown(&after.sessions[0]),
            shown(&plan.sessions[0]),
            "{}",
            solved.name
        );
        assert!(after.sessions.iter().all(|session| session.day != second));
        for lift in ["snatch", "clean-and-jerk"] {
            let has = |plan: &Plan| {
                let items = plan.sessions.iter().flat_map(|session| &session.items);
                // As a part of a complex it is in the week too.
                let mut parts = items.flat_map(|item| item.name.split(" + "));
                parts.any(|part| part == lift.replace('-', " "))
            };
            assert!(has(&after) || !has(plan), "{}: no {lift}", solved.name);
        }
        for session in &after.sessions {
            let before = plan
                .sessions
                .iter()
                .find(|one| one.day == session.day)
                .unwrap();
            assert_eq!(before.effort, session.effort);
        }
        seen += 1;
    }
    assert!(seen >= 15, "{seen}");
}

/// A week is taken up again on a later day: what lay behind it then still does.
#[test]
fn what_lay_behind_a_week_stays_there() {
    let solved = corpus::named("hips-first-4-days");
    let plan = solved.answer.week().unwrap();
    let after = rest(&BASE, &solved.case, plan, &[1], &[3]);
    let later = rest(&BASE, &solved.case, &after, &[5], &[]);
    assert_eq!(later.missed_days, [3]);
    let done: Vec<(u8, bool)> = later
        .sessions
        .iter()
        .map(|held| (held.day, held.done))
        .collect();
    assert_eq!(done, [(1, true), (5, true), (6, false)]);
    for (one, other) in after.sessions.iter().zip(&later.sessions) {
        assert_eq!(shown(one), shown(other));
    }
    let all = BASE.rest_of_week(&solved.case, &after, &[5], &[6]);
    assert_eq!(all.unwrap_err().kind(), ErrorKind::Open);
}

#[test]
fn what_cannot_be_is_refused() {
    let solved = corpus::named("hips-first-4-days");
    let plan = solved.answer.week().unwrap();
    let days: Vec<u8> = plan.sessions.iter().map(|session| session.day).collect();
    let refused = |case: &Case, done: &[u8], missed: &[u8]| {
        let error = BASE.rest_of_week(case, plan, done, missed).unwrap_err();
        (error.kind(), error.to_string())
    };
    let (kind, words) = refused(&solved.case, &[7], &[]);
    assert_eq!(kind, ErrorKind::Unknown);
    assert!(
        words.contains("no training on day 7; its days are 1, 3, 5, 6"),
        "{words}"
    );
    let (kind, words) = refused(&solved.case, &[1], &[1]);
    assert_eq!(kind, ErrorKind::Unknown);
    assert!(words.contains("day 1 is named twice"), "{words}");
    let (kind, words) = refused(&solved.case, &days, &[]);
    assert_eq!(kind, ErrorKind::Open);
    assert!(words.contains("nothing is left"), "{words}");
    // A back that is sore now has not done that Monday.
    let text = solved
        .text
        .replacen("  fields:", "  fields:\n    limits: [back]", 1);
    let sore = BASE.case_from_text("case.yaml", &text).unwrap();
    let (kind, words) = refused(&sore, &[1], &[]);
    assert_eq!(kind, ErrorKind::Open);
    assert!(words.contains("what was done on day 1"), "{words}");
    let changed = corpus::texts("rules")
        .into_iter()
        .map(|(name, text)| (name, format!("{text}\n")));
    let other = KnowledgeBase::from_texts(changed).unwrap();
    let error = other
        .rest_of_week(&solved.case, plan, &[1], &[])
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::OtherRules);
}
