//! What is said of a week where the work was used up before it was proven best.

use drillwright::explain::{Bound, Missed, Plan, Proof};
use drillwright::{Answer, Work};
use rstest::rstest;

use crate::corpus::{self, ALL, BASE};

/// The most that a bound may lie above the worth of the best week, in hundredths of a point.
const MOST_ABOVE: i64 = 30_000;

const fn units(missed: Missed) -> (i64, i64, i64) {
    (missed.last, missed.middle, missed.first)
}

/// A bound is never below the best week.
fn hold(name: &str, best: &Plan, bound: &Bound) {
    assert!(
        units(bound.missed) <= units(best.missed),
        "{name}: {bound:?}"
    );
    if bound.missed == best.missed {
        assert!(bound.worth >= best.worth, "{name}: {bound:?}");
    }
}

#[rstest]
#[case::soon(100_000)]
#[case::later(200_000)]
fn the_best_week_is_within_the_bound(#[case] nodes: u64) {
    let (mut limited, mut missing) = (0, 0);
    for solved in ALL.iter().step_by(5) {
        let Some(best) = solved
            .answer
            .week()
            .filter(|plan| plan.proof == Proof::Claimed)
        else {
            continue;
        };
        let Answer::Week(plan) = BASE.solve_within(&solved.case, Work::nodes(nodes)).unwrap()
        else {
            missing += 1;
            continue;
        };
        assert!(units(plan.missed) >= units(best.missed), "{}", solved.name);
        match (&plan.bound, plan.proof) {
            (Some(bound), Proof::Limited) => {
                limited += 1;
                assert!(units(bound.missed) <= units(plan.missed), "{}", solved.name);
                hold(&solved.name, best, bound);
            }
            (None, Proof::Claimed) => {
                assert_eq!(
                    (plan.missed, plan.worth),
                    (best.missed, best.worth),
                    "{}",
                    solved.name
                );
            }
            other => panic!("{}: {other:?}", solved.name),
        }
    }
    assert!(limited + missing > 0, "the limit was never reached");
}

/// A limit that the levels use up leaves enough for a bound on the worth.
#[test]
fn a_week_that_gives_way_has_a_bound_on_its_worth_too() {
    let mut seen = 0;
    let gives_way = corpus::weeks().filter(|(_, plan)| units(plan.missed) != (0, 0, 0));
    for (solved, best) in gives_way {
        for nodes in [20_000, 100_000, 400_000, 1_000_000] {
            let answer = BASE.solve_within(&solved.case, Work::nodes(nodes)).unwrap();
            if let Some(bound) = answer.week().and_then(|plan| plan.bound.as_ref()) {
                hold(&solved.name, best, bound);
                let name = &solved.name;
                assert!(
                    bound.worth < best.worth + MOST_ABOVE,
                    "{name} at {nodes}: {bound:?}"
                );
                seen += 1;
            }
        }
    }
    assert!(seen >= 3, "{seen} bounds");
}
