//! The model and the re-check on the same weeks: what the one accepts the other does, with the same
//! units missed and the same worth.
//!
//! Weeks are thrown together, or made from solved ones by a few changes. The model's part is what
//! the search makes of the items of each day: the sessions with their orders, the rows, the rules
//! about two days.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod reductions;
mod weeks;

#[allow(dead_code, clippy::expect_used)]
#[path = "../../../tests/oracle/make/mod.rs"]
mod make;

use std::sync::Arc;

use crate::base::Cancel;
use crate::graph;
use crate::infer::Setting;
use crate::plan::model::build;
use crate::plan::recheck::{Verdict, recheck};
use crate::plan::search::probe::{Probe, Sessions};
use crate::plan::search::{Outcome, search};
use crate::plan::{Item, Loads, Pool, Week};
use crate::rules::case_check::read_case;
use crate::rules::load::load;
use crate::rules::read::{Limits, parse};

use make::random::Random;
use weeks::{changed, thrown_together, within_parts};

/// Most ways to order one week's sessions that are looked at.
const MOST_ORDERS: usize = 6;

/// How many weeks were looked at.
#[derive(Debug, Default, Clone, Copy)]
struct Seen {
    weeks: usize,
    /// Both take the week, in some order.
    accepted: usize,
    refused: usize,
    /// Weeks in which something gives way or is worth anything.
    telling: usize,
}

/// One case with its solved week and what is needed to hold weeks against it.
struct Bench<'a> {
    setting: &'a Setting<'a>,
    week: &'a Week<'a>,
    loads: &'a Loads,
    pool: &'a Pool,
    probe: &'a Probe<'a>,
}

impl Bench<'_> {
    fn verdict(&self, days: &[Vec<usize>]) -> Verdict {
        let items: Vec<Vec<Item>> = days
            .iter()
            .zip(&self.pool.days)
            .map(|(items, pool)| items.iter().map(|at| pool[*at].clone()).collect())
            .collect();
        recheck(self.setting, self.week, self.loads, &items)
    }

    /// Holds one week, as items of each day, against both.
    fn hold(&self, sets: &[Vec<usize>], random: &mut Random, seen: &mut Seen) {
        seen.weeks += 1;
        let days: Vec<Sessions> = sets
            .iter()
            .enumerate()
            .map(|(day, set)| self.probe.sessions(day, set))
            .collect();
        let mut accepted = false;
        if days.iter().all(|sessions| sessions.len() > 0) {
            for round in 0..MOST_ORDERS {
                let chosen: Vec<usize> = days
                    .iter()
                    .map(|sessions| {
                        let last = i64::try_from(sessions.len()).unwrap() - 1;
                        let at = if round == 0 {
                            0
                        } else {
                            random.between(0, last)
                        };
                        usize::try_from(at).unwrap()
                    })
                    .collect();
                let orders: Vec<Vec<usize>> = days
                    .iter()
                    .zip(&chosen)
                    .map(|(sessions, at)| sessions.items(*at).to_vec())
                    .collect();
                let by_rules = self.verdict(&orders);
                let weighed = self.probe.weigh(&days, &chosen);
                assert_eq!(
                    weighed.is_some(),
                    by_rules.stands(),
                    "{orders:?} {:?} {:?}",
                    by_rules.broken,
                    by_rules.illegal
                );
                if let Some(weighed) = weighed {
                    assert_eq!(
                        (weighed.misses, weighed.worth, weighed.tie),
                        (by_rules.missed, by_rules.worth, by_rules.tie),
                        "{orders:?} {:?}",
                        by_rules.misses
                    );
                    accepted = true;
                    seen.telling +=
                        usize::from(round == 0 && (weighed.misses != [0; 3] || weighed.worth != 0));
                }
            }
        }
        // In an order that nobody chose, the re-check takes only what the model takes in some order.
        for _ in 0..2 {
            let any: Vec<Vec<usize>> = sets
                .iter()
                .zip(&self.pool.days)
                .map(|(set, pool)| within_parts(set, pool, random))
                .collect();
            if days.iter().any(|sessions| sessions.len() == 0) {
                assert!(
                    !self.verdict(&any).stands(),
                    "only the re-check takes {any:?}"
                );
            }
        }
        seen.accepted += usize::from(accepted);
        seen.refused += usize::from(!accepted);
    }

    /// An item that is no candidate is refused by the re-check, wherever it stands.
    fn hold_no_candidate(&self, sets: &[Vec<usize>], random: &mut Random) -> bool {
        let full: Vec<usize> = (0..sets.len())
            .filter(|day| !sets[*day].is_empty())
            .collect();
        if full.is_empty() {
            return false;
        }
        let day = *random.one(&full);
        let mut items: Vec<Vec<Item>> = sets
            .iter()
            .zip(&self.pool.days)
            .map(|(set, pool)| set.iter().map(|at| pool[*at].clone()).collect())
            .collect();
        let at = usize::try_from(random.between(0, items[day].len() as i64 - 1)).unwrap();
        let roles: Vec<_> = self.setting.pack.roles.keys().cloned().collect();
        items[day][at].role = random.one(&roles).value.clone();
        let item = items[day][at].clone();
        let same = |other: &Item| {
            (other.slot, &other.role, other.exercise) == (item.slot, &item.role, item.exercise)
        };
        if self.pool.days[day].iter().any(same) {
            return false;
        }
        assert!(!recheck(self.setting, self.week, self.loads, &items).stands());
        true
    }
}

/// What is made of a case with the candidates of its days.
fn with_pool<R>(
    files: &[(String, String)],
    case: &str,
    then: impl FnOnce(&Setting<'_>, &Week<'_>, &Loads, &Pool) -> R,
) -> R {
    let files: Vec<(Arc<str>, Arc<str>)> = files
        .iter()
        .map(|(name, text)| (Arc::from(name.as_str()), Arc::from(text.as_str())))
        .collect();
    let pack = load(parse, &files, Vec::new(), &Limits::default()).unwrap();
    let graph = graph::build(&pack).unwrap();
    let case = read_case(
        &Arc::from("case.yaml"),
        case,
        &pack,
        &pack,
        &Limits::default(),
    )
    .unwrap();
    let setting = Setting::new(&pack, &graph, &case);
    let Ok(week) = Week::of(&setting) else {
        panic!("no layout")
    };
    let loads = Loads::of(&setting);
    let pool = Pool::of(&setting, &week, &loads).unwrap();
    then(&setting, &week, &loads, &pool)
}

/// Holds so many weeks of one case against both; how many of them were of what sort.
fn hold(
    files: &[(String, String)],
    case: &str,
    weeks: usize,
    random: &mut Random,
    work: u64,
) -> (Seen, usize) {
    with_pool(files, case, |setting, week, loads, pool| {
        hold_weeks((setting, week, loads, pool), weeks, random, work)
    })
}

fn hold_weeks(
    (setting, week, loads, pool): (&Setting<'_>, &Week<'_>, &Loads, &Pool),
    weeks: usize,
    random: &mut Random,
    work: u64,
) -> (Seen, usize) {
    let model = build(setting, week, pool);
    let probe = Probe::of(&model);
    let bench = Bench {
        setting,
        week,
        loads,
        pool,
        probe: &probe,
    };
    let solved = match search(setting, week, pool, work, &Cancel::new()).unwrap() {
        Outcome::Found(solved) => Some(solved),
        Outcome::NoWeek | Outcome::NotFound { .. } => None,
    };
    let start: Vec<Vec<usize>> = solved.map_or_else(Vec::new, |solved| {
        let place = |day: usize, item: &Item| {
            let mut candidates = pool.days[day].iter();
            candidates.position(|held| held == item).unwrap()
        };
        let days = solved.days.iter().enumerate();
        days.map(|(day, items)| items.iter().map(|item| place(day, item)).collect())
            .collect()
    });
    let (mut seen, mut no_candidates) = (Seen::default(), 0);
    if !start.is_empty() {
        bench.hold(&start, random, &mut seen);
        assert_eq!(seen.accepted, 1, "the solved week is taken");
    }
    while seen.weeks < weeks {
        let sets = if start.is_empty() || random.percent(25) {
            thrown_together(&model, random)
        } else {
            changed(&start, &model, random)
        };
        bench.hold(&sets, random, &mut seen);
        if seen.weeks % 8 == 0 {
            no_candidates += usize::from(bench.hold_no_candidate(&sets, random));
        }
    }
    (seen, no_candidates)
}

fn check(seen: &[(Seen, usize)], weeks: usize) {
    let sum = |of: fn(&Seen) -> usize| seen.iter().map(|(seen, _)| of(seen)).sum::<usize>();
    let (all, accepted, refused, telling) = (
        sum(|seen| seen.weeks),
        sum(|seen| seen.accepted),
        sum(|seen| seen.refused),
        sum(|seen| seen.telling),
    );
    let none: usize = seen.iter().map(|(_, none)| none).sum();
    println!(
        "{all} weeks: {accepted} taken, {refused} refused, {telling} telling, {none} with no candidate"
    );
    assert!(all >= weeks, "only {all} weeks");
    assert!(accepted * 10 >= all, "{accepted} of {all} taken");
    assert!(refused * 10 >= all, "{refused} of {all} refused");
    assert!(telling * 20 >= all, "{telling} of {all} tell anything");
    assert!(none * 50 >= all, "{none} with what is no candidate");
}

#[test]
fn made_packs() {
    let lanes = 2u64;
    let seen: Vec<(Seen, usize)> = std::thread::scope(|scope| {
        let lane = |lane: u64| {
            move || {
                let seeds = (0..160).filter(|seed| seed % lanes == lane);
                seeds
                    .map(|seed| {
                        let made = make::attempt(5_000 + seed, 0);
                        let mut random = Random::new(seed);
                        hold(&made.files, &made.case, 70, &mut random, 3_000_000)
                    })
                    .collect::<Vec<_>>()
            }
        };
        let all: Vec<_> = (0..lanes).map(|at| scope.spawn(lane(at))).collect();
        all.into_iter()
            .flat_map(|lane| lane.join().unwrap())
            .collect()
    });
    check(&seen, 10_000);
}

/// The built-in rules, and where the cases of the tests lie.
fn built_in() -> (Vec<(String, String)>, &'static str) {
    let files = crate::builtin::FILES
        .iter()
        .map(|(name, text)| ((*name).to_owned(), (*text).to_owned()))
        .collect();
    (files, concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases/"))
}

#[test]
fn the_built_in_pack() {
    let (files, folder) = built_in();
    let cases = [
        "no-fault-5-days",
        "two-days-snatch-high-not-under",
        "four-days-an-hour-jerk",
        "both-lifts-one-lift-6-days",
        "sore-shoulder-4-days",
        "last-week-3-days",
        "novice-4-days",
        "three-days-half-an-hour",
    ];
    let seen: Vec<(Seen, usize)> = cases
        .iter()
        .enumerate()
        .map(|(at, name)| {
            let case = std::fs::read_to_string(format!("{folder}{name}.yaml")).unwrap();
            let mut random = Random::new(at as u64);
            hold(&files, &case, 60, &mut random, 200_000)
        })
        .collect();
    check(&seen, 480);
}
