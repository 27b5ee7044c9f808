//! Two bases of rules in one process.

use std::thread;

use drillwright::{Answer, ErrorKind, KnowledgeBase};

use super::pack::Pack;

fn base(pack: &Pack) -> KnowledgeBase {
    pack.try_base().unwrap()
}

fn ask(base: &KnowledgeBase, pack: &Pack) -> Answer {
    let case = base.case_from_text("case.yaml", &pack.case_text()).unwrap();
    base.solve(&case).unwrap()
}

fn packs() -> Vec<Pack> {
    let mut packs: Vec<Pack> = [2_604, 2_607, 2_609].into_iter().map(Pack::made).collect();
    packs.push(Pack::builtin("three-days-half-an-hour"));
    packs
}

#[test]
fn answer_as_each_would_alone_one_after_the_other() {
    let packs = packs();
    let alone: Vec<Answer> = packs.iter().map(Pack::answer).collect();
    let bases: Vec<KnowledgeBase> = packs.iter().map(base).collect();
    for _ in 0..2 {
        for at in [2, 0, 3, 1] {
            assert_eq!(ask(&bases[at], &packs[at]), alone[at]);
        }
    }
    assert!(
        alone
            .iter()
            .filter(|answer| answer.week().is_some())
            .count()
            >= 2
    );
}

#[test]
fn answer_as_each_would_alone_from_two_threads() {
    let packs = packs();
    let alone: Vec<Answer> = packs.iter().map(Pack::answer).collect();
    let bases: Vec<KnowledgeBase> = packs.iter().map(base).collect();
    thread::scope(|scope| {
        for order in [[0, 1, 2, 3], [3, 2, 1, 0]] {
            let (bases, packs, alone) = (&bases, &packs, &alone);
            scope.spawn(move || {
                for at in order {
                    assert_eq!(ask(&bases[at], &packs[at]), alone[at]);
                }
            });
        }
    });
}

#[test]
fn a_case_and_a_week_of_one_are_refused_by_the_other() {
    let (one, other) = (Pack::made(2_604), Pack::builtin("last-week-2-days"));
    let (one_base, other_base) = (base(&one), base(&other));
    let case = other_base
        .case_from_text("case.yaml", &other.case_text())
        .unwrap();
    assert_eq!(
        one_base.solve(&case).unwrap_err().kind(),
        ErrorKind::OtherRules
    );
    let plan = other_base.solve(&case).unwrap().into_week().unwrap();
    let own = one_base
        .case_from_text("case.yaml", &one.case_text())
        .unwrap();
    assert_eq!(
        one_base.recheck(&own, &plan).unwrap_err().kind(),
        ErrorKind::OtherRules
    );
    assert!(other_base.recheck(&case, &plan).unwrap().confirms(&plan));
}
