//! The crate against the oracle: what it calls best is what trying every week finds.

use drillwright::explain::Proof;
use drillwright::{Answer, KnowledgeBase};

use super::Placed;
use super::sized::make;

/// What the crate says of a made pack: the week with misses, worth and tie, or that there is none.
#[derive(Debug, PartialEq, Eq)]
enum Said {
    Week([i64; 3], i64, i64, Vec<Vec<Placed>>),
    None,
}

fn crate_says(files: &[(String, String)], case: &str) -> Said {
    let base = KnowledgeBase::from_texts(files.iter().map(|(name, text)| (name, text))).unwrap();
    let case = base.case_from_text("case.yaml", case).unwrap();
    match base.solve(&case).unwrap() {
        Answer::Week(plan) => {
            assert_eq!(plan.proof, Proof::Claimed);
            let week = plan
                .sessions
                .iter()
                .map(|session| {
                    let item = |item: &drillwright::explain::Item| {
                        (
                            item.part.to_string(),
                            item.role.to_string(),
                            item.exercise.to_string(),
                        )
                    };
                    session.items.iter().map(item).collect()
                })
                .collect();
            let missed = [plan.missed.last, plan.missed.middle, plan.missed.first];
            Said::Week(missed, plan.worth, plan.tie, week)
        }
        Answer::NoWeek(_) => Said::None,
        other => panic!("not answered: {other:?}"),
    }
}

/// How many packs are made.
const PACKS: u64 = 60;

#[test]
fn the_best_week_is_the_same() {
    let mut wrong = Vec::new();
    for seed in 1_000..1_000 + PACKS {
        let made = make(seed);
        let oracle = made.oracle();
        let (best, _) = oracle.best();
        let said = crate_says(&made.files, &made.case);
        let same = match (&best, &said) {
            (None, Said::None) => true,
            (Some(best), Said::Week(missed, worth, tie, week)) => {
                // The oracle agrees on what the crate's own week is, too.
                let verdict = oracle.evaluate(week);
                (best.missed, best.worth, best.tie) == (*missed, *worth, *tie)
                    && verdict.hard_broken.is_empty()
                    && (verdict.missed, verdict.worth, verdict.tie) == (*missed, *worth, *tie)
            }
            _ => false,
        };
        if !same {
            wrong.push(format!("seed {seed}\n  oracle {best:?}\n  crate  {said:?}"));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {PACKS}\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}
