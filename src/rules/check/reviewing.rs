//! What logs are reviewed by: one window, decisions of which one always holds, estimates that can be worked out.

use std::collections::BTreeMap;

use crate::base::{Code, Place};
use crate::rules::vocab::{Decides, ReviewDecision};

use super::Checks;
use super::sections::Sort;

/// Checks all of it.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    windows(checks);
    decisions(checks);
    let pack = checks.pack;
    let mut seen = BTreeMap::new();
    for (id, held) in &pack.seen_where {
        let sort = Sort::SeenWhere;
        checks.some(sort, id.as_str(), &["faults"], held.faults.len(), "fault");
        checks.some(sort, id.as_str(), &["stages"], held.stages.len(), "stage");
        for fault in &held.faults {
            once(checks, &mut seen, fault.as_str(), &fault.place);
        }
    }
    let mut seen = BTreeMap::new();
    for (id, held) in &pack.best_from {
        let sort = Sort::BestFrom;
        let len = held.exercises.len();
        checks.some(sort, id.as_str(), &["exercises"], len, "exercise");
        let reference = &held.reference;
        once(checks, &mut seen, reference.as_str(), &reference.place);
    }
    let mut seen = BTreeMap::new();
    for (id, held) in &pack.estimates {
        let len = held.references.len();
        checks.some(Sort::Estimate, id.as_str(), &["references"], len, "best");
        checks.at(&held.repetitions_at_most, "repetitions-at-most", 2, 20);
        if held.round_to.thousandths() < 1 {
            checks.problem(
                Code::OutOfRange,
                held.round_to.place.clone(),
                "nothing is rounded to a multiple of 0",
                "write a load above 0, such as 0.5",
            );
        }
        for reference in &held.references {
            once(checks, &mut seen, reference.as_str(), &reference.place);
            let mut all = pack.best_from.values();
            if !all.any(|from| from.reference == *reference) {
                checks.problem(
                    Code::DanglingId,
                    reference.place.clone(),
                    format!(
                        "nothing under `bests` says of which exercises `{reference}` is the best"
                    ),
                    "add it there, or take it out",
                );
            }
        }
    }
}

/// Tells what stands a second time.
fn once<'p>(
    checks: &mut Checks<'_, '_>,
    seen: &mut BTreeMap<&'p str, &'p Place>,
    id: &'p str,
    place: &'p Place,
) {
    if let Some(first) = seen.insert(id, place) {
        let told = crate::base::Diagnostic::new(
            Code::Contradiction,
            place.clone(),
            format!("`{id}` stands twice"),
            "take one out",
        );
        checks
            .out
            .push(told.with_also(first.clone(), "it stands here first"));
    }
}

fn windows(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for window in pack.review_windows.values() {
        checks.at(&window.interval_percent, "interval-percent", 50, 99);
        checks.at(&window.last_weeks, "last-weeks", 1, 52);
        checks.at(&window.first_weeks, "first-weeks", 1, 52);
    }
    let mut all = pack.review_windows.keys();
    if let (Some(first), Some(second)) = (all.next(), all.next()) {
        checks.problem(
            Code::Contradiction,
            second.place.clone(),
            format!("`{first}` and `{second}` both say how much of a log is looked at"),
            "take one of them out",
        );
    }
}

fn decisions(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    let mut ranks: BTreeMap<u16, &Place> = BTreeMap::new();
    for (id, held) in &pack.review_decisions {
        checks.at(&held.rank, "rank", 1, 1_000);
        if let Some(first) = ranks.insert(held.rank.value, &held.rank.place) {
            let told = crate::base::Diagnostic::new(
                Code::Contradiction,
                held.rank.place.clone(),
                format!("two decisions have the rank {}", held.rank),
                "give each a rank of its own",
            );
            checks.out.push(told.with_also(first.clone(), "the other"));
        }
        tests(checks, id.as_str(), held);
    }
    let Some((first, _)) = pack.review_decisions.iter().next() else {
        return;
    };
    // What could not be read may be what is missing.
    if checks.declared.is_whole(Sort::ReviewWindow) && pack.review_windows.is_empty() {
        checks.problem(
            Code::MissingKey,
            first.place.clone(),
            "there are decisions, and nothing says how much of a log is looked at",
            "add an entry to `reviews: windows`",
        );
    }
    let last = pack
        .review_decisions
        .iter()
        .max_by_key(|(_, held)| held.rank.value);
    let is_sure = checks.declared.is_whole(Sort::ReviewDecision);
    match last {
        Some((_, held)) if held.is_always() && held.decides == Decides::LookAgain => {}
        Some((id, _)) if is_sure => checks.problem(
            Code::Contradiction,
            id.place.clone(),
            format!(
                "the last decision by rank, `{id}`, must hold always and be `{}`: from too little nothing else follows",
                Decides::LookAgain.as_str()
            ),
            "add one behind it without tests that decides to look again",
        ),
        _ => {}
    }
    let mut early = pack.review_decisions.iter();
    let last_rank = last.map_or(0, |(_, held)| held.rank.value);
    if let Some((id, _)) = early.find(|(_, held)| held.is_always() && held.rank.value < last_rank) {
        checks.problem(
            Code::Contradiction,
            id.place.clone(),
            format!("`{id}` always holds, so nothing behind it ever decides"),
            "give it a test, or the last rank",
        );
    }
}

fn tests(checks: &mut Checks<'_, '_>, id: &str, held: &ReviewDecision) {
    let sort = Sort::ReviewDecision;
    for (key, test) in held.share_tests() {
        let mut any = false;
        if let Some(number) = &test.repetitions_at_least {
            checks.at(number, "repetitions-at-least", 1, 10_000);
            any = true;
        }
        if let Some(number) = &test.weeks_at_least {
            checks.at(number, "weeks-at-least", 1, 520);
            any = true;
        }
        for (word, percent) in test.percents() {
            if let Some(percent) = percent {
                checks.at(percent, word, 0, 100);
                any = true;
            }
        }
        if !any {
            empty(checks, checks.place(sort, id, &[key]), key);
        }
    }
    for (key, test) in held.trend_tests() {
        let points = [
            ("falls-at-least", &test.falls_at_least),
            ("rises-at-least", &test.rises_at_least),
        ];
        for (word, number) in points {
            if let Some(number) = number {
                checks.at(number, word, 1, 100);
            }
        }
        match points.map(|(_, number)| number.is_some()) {
            [true, false] | [false, true] => {}
            [true, true] => checks.problem(
                Code::Contradiction,
                checks.place(sort, id, &[key]),
                "nothing both falls and rises",
                "take one of the two out",
            ),
            [false, false] => empty(checks, checks.place(sort, id, &[key]), key),
        }
    }
}

fn empty(checks: &mut Checks<'_, '_>, place: Place, key: &str) {
    checks.problem(
        Code::EmptyMap,
        place,
        format!("`{key}` asks for nothing"),
        "write what it asks for, or take it out",
    );
}
