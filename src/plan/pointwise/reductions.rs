//! What the search leaves out, held against the search that leaves it in: the same week to the last item, ties included.

use crate::infer::Setting;
use crate::plan::search::Outcome;
use crate::plan::search::probe::{Reductions, leaving_out};
use crate::plan::{Item, Loads, Pool, Week};

use super::{built_in, make, with_pool};

const NONE: Reductions = Reductions {
    rows: false,
    keys: false,
    twins: false,
    worse: false,
    totals: false,
    losses: false,
};

/// Each alone is left in, and then all.
const KEPT: [Reductions; 7] = [
    Reductions {
        rows: false,
        ..Reductions::ALL
    },
    Reductions {
        keys: false,
        ..Reductions::ALL
    },
    Reductions {
        twins: false,
        worse: false,
        ..Reductions::ALL
    },
    Reductions {
        worse: false,
        ..Reductions::ALL
    },
    Reductions {
        totals: false,
        ..Reductions::ALL
    },
    Reductions {
        losses: false,
        ..Reductions::ALL
    },
    NONE,
];

/// Units missed, worth, tie measure, and the week.
type Best = ([i64; 3], i64, i64, Vec<Vec<Item>>);

/// The proven best week, if there is any; none where the work was used up.
fn best(outcome: Outcome) -> Option<Option<Best>> {
    match outcome {
        Outcome::Found(solved) if solved.bound.is_none() => {
            Some(Some((solved.missed, solved.worth, solved.tie, solved.days)))
        }
        Outcome::NoWeek => Some(None),
        Outcome::Found(_) | Outcome::NotFound { .. } => None,
    }
}

/// Holds the searches of a case against each other; how many were proven beside that which leaves all out, and whether
/// there is a week.
fn hold(name: &str, files: &[(String, String)], case: &str, work: u64) -> (usize, bool) {
    let each = |setting: &Setting<'_>, week: &Week<'_>, _: &Loads, pool: &Pool| {
        let with = |reductions| best(leaving_out(setting, week, pool, work, reductions));
        let Some(expected) = with(Reductions::ALL) else {
            return (0, false);
        };
        let mut proven = 0;
        for (at, kept) in KEPT.iter().enumerate() {
            let Some(found) = with(*kept) else { continue };
            assert_eq!(found, expected, "{name}, without the {at}th: {kept:?}");
            proven += 1;
        }
        (proven, expected.is_some())
    };
    with_pool(files, case, each)
}

#[test]
fn leave_the_week_of_made_packs_as_it_is() {
    let lane = |lane: u64| {
        let seeds = (0..160).filter(move |seed| seed % 2 == lane);
        seeds
            .map(|seed| {
                let made = make::attempt(7_000 + seed, 0);
                hold(&format!("seed {seed}"), &made.files, &made.case, 20_000_000)
            })
            .collect::<Vec<_>>()
    };
    let seen: Vec<(usize, bool)> = std::thread::scope(|scope| {
        let lanes = [0, 1].map(|at| scope.spawn(move || lane(at)));
        lanes
            .into_iter()
            .flat_map(|lane| lane.join().unwrap())
            .collect()
    });
    let proven: usize = seen.iter().map(|(proven, _)| proven).sum();
    let weeks = seen.iter().filter(|(_, week)| *week).count();
    println!("{proven} searches, {weeks} weeks");
    assert!(
        proven >= 1_000 && weeks >= 60,
        "{proven} searches, {weeks} weeks"
    );
}

#[test]
fn leave_the_week_of_the_built_in_pack_as_it_is() {
    let cases = [
        "three-days-half-an-hour",
        "elbows-low-2-days",
        "three-days-an-hour-snatch",
        "novice-near-a-meet-5-days",
        "novice-jerk-low-4-days",
        "novice-knees-cave-3-days",
        "snatch-behind-swing-at-3-days",
        "snatch-behind-light-bests-3-days",
        "sore-back-clean-in-front-3-days",
        "bare-gym-jerk-after-clean-4-days",
        "sore-wrist-elbows-low-2-days",
        "squat-chest-drops-a-little-4-days",
    ];
    let (files, folder) = built_in();
    let mut proven = 0;
    for name in cases {
        let case = std::fs::read_to_string(format!("{folder}{name}.yaml")).unwrap();
        let (of_case, _) = hold(name, &files, &case, 60_000_000);
        println!("{name}: {of_case} of {} proven", KEPT.len());
        proven += of_case;
    }
    assert!(proven >= 70, "{proven} searches");
}
