//! Searches that are cancelled from another thread.

use std::thread;
use std::time::{Duration, Instant};

use drillwright::explain::Proof;
use drillwright::report::Layout;
use drillwright::{Answer, Cancel, Work};

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

/// After some time there is a week, marked as what it is, whole by the re-check and within its bound.
#[test]
fn the_best_week_until_then_is_handed_out_and_marked() {
    let solved = named(CASE);
    let best = solved.answer.week().unwrap();
    let mut weeks = 0;
    for patience in [5, 10, 20, 40, 80, 160, 320, 640] {
        let cancel = Cancel::new();
        let other = cancel.clone();
        let clock = thread::spawn(move || {
            thread::sleep(Duration::from_millis(patience));
            other.cancel();
            Instant::now()
        });
        let answer = BASE.solve_until(&solved.case, Work::default(), &cancel);
        let ended = Instant::now();
        let late = ended.saturating_duration_since(clock.join().unwrap());
        // Far more than it takes, so that a busy machine does not matter; far less than the search has left.
        assert!(
            late < Duration::from_secs(3),
            "{late:?} after {patience} ms"
        );
        let Answer::Week(plan) = answer.unwrap() else {
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
}
