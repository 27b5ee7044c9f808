//! One base of rules, asked by several threads at once.

use std::thread;

use drillwright::report::Reasons;

use crate::corpus::{BASE, named_text};

/// With a week in which nothing gives way, one in which something does, and one without a week.
const CASES: [&str; 5] = [
    "three-days-half-an-hour",
    "last-week-2-days",
    "hips-first-4-days",
    "two-bars-light-bests-3-days",
    "acute-pain",
];

fn answer(name: &str) -> String {
    let case = BASE.case_from_text(name, &named_text(name)).unwrap();
    let answer = BASE.solve(&case).unwrap();
    serde_json::to_string(&answer.document(Reasons::Full)).unwrap()
}

/// Threads begin in pairs with the same case, each pair with another.
#[test]
fn the_same_bytes_from_one_thread_and_from_six_at_once() {
    let alone = CASES.map(answer);
    for (at, one) in alone.iter().enumerate() {
        assert!(!alone.iter().skip(at + 1).any(|other| one == other));
    }
    thread::scope(|scope| {
        for first in [0, 0, 1, 1, 3, 3] {
            let alone = &alone;
            scope.spawn(move || {
                for at in 0..CASES.len() {
                    let at = (at + first) % CASES.len();
                    assert_eq!(answer(CASES[at]), alone[at], "{}", CASES[at]);
                }
            });
        }
    });
}
