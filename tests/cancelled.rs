//! Searches that are cancelled from another thread.

use std::thread;
use std::time::{Duration, Instant};

use drillwright::explain::{Clashing, Proof};
use drillwright::report::Layout;
use drillwright::{Answer, Cancel, Case, Work};

use crate::corpus::{BASE, named};

/// Much gives way in it, so that there are weeks long before the best is proven.
const CASE: &str = "two-bars-light-bests-3-days";

#[test]
fn what_was_cancelled_before_has_no_week_and_says_so() {
    let cancel = Cancel::new();
    cancel.cancel();
    let solved = named(CASE);
    let answer = BASE.solve_until(&solved.case, Work::default(), &cancel);
    let Answer::NotFound(none) = answer.unwrap() else {
        panic!("a week without a search")
    };
    assert!(none.cancelled);
    assert!(none.text().contains("cancelled"), "{}", none.text());
}

#[test]
fn what_nobody_cancels_is_as_without() {
    let solved = named(CASE);
    let answer = BASE.solve_until(&solved.case, Work::default(), &Cancel::new());
    assert_eq!(answer.unwrap(), solved.answer);
}

/// The answer to a case that another thread cancels after a while, and how long it took from then on.
fn after(case: &Case, patience: Duration) -> (Answer, Duration) {
    let cancel = Cancel::new();
    let other = cancel.clone();
    let clock = thread::spawn(move || {
        thread::sleep(patience);
        other.cancel();
        Instant::now()
    });
    let answer = BASE.solve_until(case, Work::default(), &cancel).unwrap();
    let ended = Instant::now();
    (
        answer,
        ended.saturating_duration_since(clock.join().unwrap()),
    )
}

/// Far more than it takes (`cargo bench --bench cancel`), so that a busy machine does not matter; less than is left to do.
const LATE: Duration = Duration::from_millis(500);

/// After some time there is a week, marked as what it is, whole by the re-check and within its bound.
#[test]
fn the_best_week_until_then_is_handed_out_and_marked() {
    let solved = named(CASE);
    let best = solved.answer.week().unwrap();
    let (mut weeks, mut lates) = (0, Vec::new());
    for patience in [5, 10, 20, 40, 80, 160, 320, 640] {
        let (answer, late) = after(&solved.case, Duration::from_millis(patience));
        lates.push(late);
        let Answer::Week(plan) = answer else {
            continue;
        };
        assert!(BASE.recheck(&solved.case, &plan).unwrap().confirms(&plan));
        match (plan.proof, &plan.bound) {
            (Proof::Cancelled, Some(bound)) => {
                weeks += 1;
                assert!(bound.missed <= best.missed, "{bound:?}");
                if bound.missed == best.missed {
                    assert!(bound.worth >= best.worth, "{bound:?}");
                }
                assert!(
                    plan.text(Layout::default())
                        .contains("before the search was cancelled")
                );
            }
            (Proof::Claimed, None) => assert_eq!(plan.worth, best.worth),
            other => panic!("{other:?}"),
        }
    }
    assert!(weeks > 0, "never a week before it was proven");
    lates.sort();
    // One that waited for a processor says nothing of the search.
    assert!(lates[lates.len() - 2] < LATE, "{lates:?}");
}

/// That there is no week is soon seen; what clashes is handed out as far as it was taken apart.
#[test]
fn a_clash_that_was_not_taken_apart_holds_all_that_may_be_in_it() {
    let solved = named("acute-pain");
    let Answer::NoWeek(whole) = &solved.answer else {
        panic!("a week")
    };
    assert!(whole.irreducible);
    let start = Instant::now();
    BASE.solve(&solved.case).unwrap();
    let takes = start.elapsed();
    let (mut cut, mut lates) = (0, Vec::new());
    for tenth in 1..10 {
        let (answer, late) = after(&solved.case, takes * tenth / 10);
        lates.push(late);
        let Answer::NoWeek(none) = answer else {
            continue;
        };
        if !none.irreducible {
            cut += 1;
            let named: Vec<_> = none.parts().map(|part| &part.what).collect();
            let rules = whole.clash.iter().map(|part| &part.what);
            let mut rules = rules.filter(|what| matches!(what, Clashing::Rule { .. }));
            assert!(rules.all(|what| named.contains(&what)), "{named:?}");
        }
    }
    assert!(cut > 0, "always taken apart in time");
    lates.sort();
    assert!(lates[lates.len() - 2] < LATE, "{lates:?}");
}
