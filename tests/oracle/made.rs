//! What the made packs are like: large enough, of every kind, some without any week, some with ties.

use std::collections::BTreeSet;

use super::Oracle;
use super::best::Best;
use super::make::Made;
use super::sized::make;
use super::yaml::{self, Value};

#[test]
fn are_large_and_some_have_no_week_and_some_have_ties() {
    let (mut sizes, mut none, mut equal, mut tied) = (Vec::new(), 0, 0, 0);
    for seed in 0..40 {
        let made = make(seed);
        let oracle = made.oracle();
        let (best, count) = oracle.best();
        sizes.push(count);
        let Some(best) = best else {
            none += 1;
            continue;
        };
        equal += u32::from(best.equals > 1);
        tied += u32::from(best.tied > 1);
        let verdict = oracle.evaluate(&best.week);
        assert!(
            verdict.hard_broken.is_empty(),
            "{:?}\n{}",
            verdict.hard_broken,
            made.shown()
        );
        assert_eq!(
            (verdict.missed, verdict.worth, verdict.tie),
            (best.missed, best.worth, best.tie),
            "{}",
            made.shown()
        );
    }
    sizes.sort_unstable();
    let median = sizes[sizes.len() / 2];
    assert!(median >= 10_000, "median of weeks: {median}");
    assert!(none >= 8, "only {none} of 40 have no week");
    assert!(
        equal >= 10 && tied >= 5,
        "{equal} have equals, {tied} are tied to the last"
    );
}

#[test]
fn are_the_same_for_the_same_seed() {
    for seed in [3, 4, 10] {
        let (one, other) = (make(seed), make(seed));
        assert_eq!((one.files, one.case), (other.files, other.case));
    }
}

/// The oracle of a pack without its rules of one kind; none where it has none.
fn without(made: &Made, kind: &str) -> Option<Oracle> {
    let mut files = made.files.clone();
    let rules = files
        .iter_mut()
        .find(|(name, _)| name == "rules.yaml")
        .unwrap();
    let mut text: Value = yaml::from_str(&rules.1).unwrap();
    text["rules"].as_mapping_mut().unwrap().remove(kind)?;
    rules.1 = yaml::to_string(&text).unwrap();
    Some(Oracle::new(&files, &made.case))
}

fn result(oracle: &Oracle) -> (Option<Best>, u64) {
    // Where a looser pack has too many weeks to try, that alone shows that the rules ruled something out.
    let Some(count) = oracle.count_weeks(1_200) else {
        return (None, u64::MAX);
    };
    if count > 200_000 {
        (None, count)
    } else {
        oracle.best()
    }
}

#[test]
fn bind_by_every_kind() {
    const ALL: [&str; 28] = [
        "adjacent",
        "alike",
        "apart",
        "before",
        "cap",
        "carry-over",
        "count",
        "differ",
        "exclude",
        "floor",
        "focus",
        "followed",
        "fullest",
        "help-worth",
        "least-load",
        "lighter",
        "minutes",
        "needs",
        "position",
        "prefer",
        "proportion",
        "quality-worth",
        "ramp",
        "repeat",
        "stress",
        "timing",
        "trim",
        "volume",
    ];
    let mut left: BTreeSet<&str> = ALL.into_iter().collect();
    for seed in 0..120 {
        let made = make(seed);
        let whole = result(&made.oracle());
        left.retain(|kind| without(&made, kind).is_none_or(|oracle| result(&oracle) == whole));
        // What must be said changes no week.
        assert!(
            without(&made, "caution").is_none_or(|oracle| result(&oracle) == whole),
            "{}",
            made.shown()
        );
        if left.is_empty() {
            return;
        }
    }
    panic!("these change nothing in any made pack: {left:?}");
}
