//! The whole way round: a lifter who is made up is watched, planned for, logged and reviewed for twelve weeks, over two hundred
//! seeds. It shows that the code of the loop works; it says nothing of whether the method does, since how the lifter answers
//! to constraints is made up too, from the same effects that the rules state. Its figures are printed and held to wide
//! bounds; no rule was changed for their sake.
//!
//! The lifter. One of three causes is hidden behind a snatch that lands behind. With a *tendency*, 50 % at first, a repetition
//! of the full lift shows the fault. An exercise with an effect of e points on the hidden cause (the strongest help of its
//! constraints, less what feeds it, -3 to 3) shows it with the tendency less a fifth of it for each point; and each of
//! its sets takes a hundred and fiftieth of the tendency away for each point, or adds as much. Pulls show nothing and teach
//! the same. Of the further looks that of the hidden cause is true with 85 %, those of the others with 10 %.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::{Arc, LazyLock, Mutex};

use drillwright::explain::Plan;
use drillwright::report::{findings_case, review_case};
use serde_yaml::Value;

use crate::corpus::{BASE, on_two_threads, texts};

/// Each cause with the further look that speaks for it.
const CAUSES: [(&str, &str); 3] = [
    ("bar-swung-out", "hip-bang-heard"),
    ("weight-behind", "shoulders-thrown-back"),
    ("arms-swing-round", "bar-loops-above-hip"),
];
const SEEDS: u64 = 200;
const BLOCKS: usize = 3;
const WEEKS: usize = 4;
/// The tendency at first, in millionths.
const AT_FIRST: i64 = 500_000;

/// A small generator of numbers, the same everywhere (splitmix64).
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Whether something comes that comes in so many of a million.
    fn comes(&mut self, millionths: i64) -> bool {
        i64::try_from(self.next() % 1_000_000).unwrap() < millionths
    }
}

/// The effect of each constraint on each cause, as the rule files state it.
static EFFECTS: LazyLock<BTreeMap<String, BTreeMap<String, i64>>> = LazyLock::new(|| {
    let files = texts("rules");
    let (_, axes) = files
        .iter()
        .find(|(name, _)| name.ends_with("axes.yaml"))
        .unwrap();
    let axes: Value = serde_yaml::from_str(axes).unwrap();
    let mut all = BTreeMap::new();
    for axis in axes["axes"].as_mapping().unwrap().values() {
        for (id, held) in axis["constraints"].as_mapping().unwrap() {
            let effects = held.get("effect").and_then(Value::as_mapping);
            let effects = effects.into_iter().flatten().map(|(cause, points)| {
                (cause.as_str().unwrap().to_owned(), points.as_i64().unwrap())
            });
            all.insert(id.as_str().unwrap().to_owned(), effects.collect());
        }
    }
    all
});

/// Weeks by the text of their case: many seeds come to the same.
static WEEK_OF: LazyLock<Mutex<BTreeMap<String, Arc<Plan>>>> = LazyLock::new(Mutex::default);

fn week_of(case: &str) -> Arc<Plan> {
    if let Some(week) = WEEK_OF.lock().unwrap().get(case) {
        return Arc::clone(week);
    }
    let read = BASE.case_from_text("case.yaml", case);
    let read = read.unwrap_or_else(|wrong| panic!("{wrong}\n{case}"));
    let week = Arc::new(BASE.solve(&read).unwrap().into_week().unwrap());
    WEEK_OF
        .lock()
        .unwrap()
        .insert(case.to_owned(), Arc::clone(&week));
    week
}

/// What is the same in all cases.
const REST: &str = "  phase: general
  bests: {best-snatch: 90, best-clean-and-jerk: 112, best-back-squat: 150}
  fields: {days: 3, minutes: 75}
";

struct Lifter {
    hidden: &'static str,
    tendency: i64,
    numbers: Numbers,
}

impl Lifter {
    fn of(seed: u64) -> Self {
        let mut numbers = Numbers(seed);
        let at = usize::try_from(numbers.next() % 3).unwrap();
        Self {
            hidden: CAUSES[at].0,
            tendency: AT_FIRST,
            numbers,
        }
    }

    /// Ten attempts and what else was looked at, as a coach would write it down.
    fn watched(&mut self) -> String {
        let mut text =
            String::from("format: 1\nwatched:\n  skill: snatch\n  best: 90\n  attempts:\n");
        for _ in 0..10 {
            let seen = if self.numbers.comes(self.tendency) {
                "came-out: lift-saved, bar-came-down: bar-behind, steps-taken: 1"
            } else {
                "came-out: lift-made"
            };
            writeln!(text, "    - {{percent: 80, seen: {{{seen}}}}}").unwrap();
        }
        let looks: Vec<String> = CAUSES
            .iter()
            .map(|(cause, look)| {
                let chance = if *cause == self.hidden {
                    850_000
                } else {
                    100_000
                };
                format!("{look}: {}", self.numbers.comes(chance))
            })
            .collect();
        writeln!(text, "  looks: {{{}}}", looks.join(", ")).unwrap();
        text
    }

    /// What an exercise does to the hidden cause.
    fn effect(&self, constraints: &[drillwright::base::ConstraintId]) -> i64 {
        let effects = constraints.iter().map(|id| {
            let of_it = EFFECTS.get(id.as_str());
            of_it
                .and_then(|of_it| of_it.get(self.hidden))
                .copied()
                .unwrap_or(0)
        });
        let effects: Vec<i64> = effects.collect();
        let help = effects.iter().copied().max().unwrap_or(0).max(0);
        let harm: i64 = effects.iter().filter(|effect| **effect < 0).sum();
        (help + harm).clamp(-3, 3)
    }

    /// Trains a week and writes down what came of it.
    fn trains(&mut self, week: &Plan, monday: i64, log: &mut String) {
        for session in &week.sessions {
            for item in &session.items {
                let is = |id: &str| item.constraints.iter().any(|held| held.as_str() == id);
                let name = item.exercise.as_str();
                if !name.contains("snatch") {
                    continue;
                }
                let effect = self.effect(&item.constraints);
                let shows = (self.tendency * (5 - effect) / 5).clamp(0, 950_000);
                // Of a round the whole of it is a repetition.
                let alone = item.round.len() == 1;
                let rounds = item.sets * if alone { item.round[0] } else { 1 };
                let seen = (0..rounds).filter(|_| self.numbers.comes(shows)).count();
                let load = item
                    .load
                    .as_ref()
                    .map_or_else(String::new, |load| load.low.to_string());
                let fault = if seen == 0 || is("no-turnover") {
                    String::from(",,")
                } else {
                    format!("saved-backward,one-step,{seen}")
                };
                let day = monday + i64::from(session.day) - 1;
                writeln!(
                    log,
                    "{},{name},{load},{rounds},0,{fault},{}",
                    date(day),
                    item.sets
                )
                .unwrap();
                self.tendency -= self.tendency * item.sets * effect / 150;
                self.tendency = self.tendency.clamp(10_000, 950_000);
            }
        }
    }
}

/// Days from Monday, 30 November 2026, as a date.
fn date(day: i64) -> String {
    let (mut month, mut day) = (11, 30 + day);
    for (next, days) in [(12, 30), (1, 31), (2, 31), (3, 28)] {
        if day > days {
            (month, day) = (next, day - days);
        } else {
            break;
        }
    }
    let year = if month >= 11 { 2026 } else { 2027 };
    format!("{year}-{month:02}-{day:02}")
}

const HEAD: &str = "date,exercise,load,made,missed,fault,grade,seen,sets\n";

/// How the weeks are planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Way {
    /// From what was watched, and again from the log after each block.
    Round,
    /// For no fault, so without correctives.
    Without,
    /// For a cause that it is not.
    Wrong,
}

struct Ended {
    found: bool,
    tendency: i64,
    withdrawn: bool,
}

fn goes(seed: u64, way: Way) -> Ended {
    let mut lifter = Lifter::of(seed);
    let watched = lifter.watched();
    let read = BASE.watched_from_text("watched.yaml", &watched).unwrap();
    let findings = BASE.see(&read).unwrap();
    let first = findings
        .causes
        .first()
        .map(|held| held.cause.id.to_string());
    let found = first.as_deref() == Some(lifter.hidden);
    let seen = findings_case(&findings);
    let mut case = match way {
        Way::Round => format!("{seen}{REST}"),
        Way::Without => format!("format: 1\ncase:\n{REST}"),
        Way::Wrong => {
            let wrong = CAUSES
                .iter()
                .find(|(cause, _)| *cause != lifter.hidden)
                .unwrap()
                .0;
            format!(
                "format: 1\ncase:\n  faults: [{{fault: saved-backward, skill: snatch, grade: one-step}}]\n  sure-of: [{{cause: {wrong}, skill: snatch}}]\n  ruled-out: [{}]\n{REST}",
                lifter.hidden
            )
        }
    };
    let (mut log, mut withdrawn) = (String::from(HEAD), false);
    for block in 0..BLOCKS {
        let week = week_of(&case);
        for of_block in 0..WEEKS {
            let monday = 7 * i64::try_from(block * WEEKS + of_block).unwrap();
            lifter.trains(&week, monday, &mut log);
        }
        if way == Way::Round {
            let read = BASE.log_from_text("log.csv", &log);
            let read = read.unwrap_or_else(|wrong| panic!("{wrong}"));
            let before = BASE.case_from_text("case.yaml", &case).unwrap();
            case = review_case(&BASE.review(&before, &read).unwrap());
            withdrawn = !case.contains("saved-backward");
        }
    }
    Ended {
        found,
        tendency: lifter.tendency,
        withdrawn,
    }
}

#[test]
fn goes_round() {
    let all: Vec<(u64, Way)> = (0..SEEDS)
        .flat_map(|seed| [Way::Round, Way::Without, Way::Wrong].map(|way| (seed, way)))
        .collect();
    let ended = on_two_threads(&all, |(seed, way)| goes(*seed, *way));
    let seeds = i64::try_from(SEEDS).unwrap();
    let of = |way: Way| {
        let those = all
            .iter()
            .zip(&ended)
            .filter(move |((_, held), _)| *held == way);
        those.map(|(_, ended)| ended)
    };
    let mean = |way: Way| of(way).map(|ended| ended.tendency).sum::<i64>() / seeds;
    let found = of(Way::Round).filter(|ended| ended.found).count();
    let withdrawn = of(Way::Round).filter(|ended| ended.withdrawn).count();
    let (round, without, wrong) = (mean(Way::Round), mean(Way::Without), mean(Way::Wrong));
    println!(
        "cause found in {found} of {SEEDS}; share of repetitions with the fault, in thousandths: at first {}, after 12 weeks {} planned and reviewed, {} without correctives, {} for another cause; fault gone by the review in {withdrawn}",
        AT_FIRST / 1_000,
        round / 1_000,
        without / 1_000,
        wrong / 1_000,
    );
    assert!(found > 120, "{found}");
    assert!(
        10 * round < 8 * without && round < wrong,
        "{round} {without} {wrong}"
    );
    assert!(withdrawn > 0, "the review never ends it");
    // The same seed goes the same way.
    assert_eq!(goes(7, Way::Round).tendency, goes(7, Way::Round).tendency);
}
