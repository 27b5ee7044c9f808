//! Repetitions and intensity.

use rstest::rstest;

use drillwright::explain::{Item, Plan};
use drillwright::{KnowledgeBase, Work};

use crate::corpus::{self, BASE, Solved};

type Row = (i64, i64, [i64; 2], [i64; 2], i64);

/// Prilepin's table, as printed in Laputin and Oleshko, Managing the Training of Weightlifters,
/// Kiev, 1982 (S): percent from, percent to, repetitions of a set, of an exercise in all, and the best of it.
const TABLE: [Row; 4] = [
    (1, 69, [3, 6], [18, 30], 24),
    (70, 79, [3, 6], [12, 24], 18),
    (80, 89, [2, 4], [10, 20], 15),
    (90, 999, [1, 2], [4, 10], 7),
];

const OF_THE_TABLE: &str = "table-for-each-skill";

/// Units that a week of one exercise misses: a set of so many repetitions, so often, at such a percent.
fn missed(percent: i64, reps: i64, sets: i64) -> i64 {
    let (solved, plan) = corpus::plain();
    let mut plan = plan.clone();
    let lone =
        |item: &Item| item.exercise.as_str() == "snatch" && item.role.as_str() == "competition";
    let mut kept = 0;
    for session in &mut plan.sessions {
        session.items.retain(|item| {
            kept += i32::from(lone(item));
            lone(item) && kept == 1
        });
        for item in &mut session.items {
            (item.percent, item.reps, item.sets) = (Some((percent, percent)), reps, sets);
        }
    }
    assert!(kept > 0, "a week without the snatch");
    let found = BASE.recheck(&solved.case, &plan).unwrap();
    found
        .lacks
        .iter()
        .filter(|lack| lack.ruling.id() == OF_THE_TABLE)
        .map(|lack| lack.units)
        .sum()
}

/// The ends of the rows of [`TABLE`] (S), where a row's most is allowed and one repetition more is not.
#[rstest]
#[case::below_seventy(55, 6, 30)]
#[case::end_of_the_first_row(69, 6, 30)]
#[case::from_seventy(70, 6, 24)]
#[case::to_seventy_nine(79, 6, 24)]
#[case::from_eighty(80, 4, 20)]
#[case::to_eighty_nine(89, 4, 20)]
#[case::from_ninety(90, 2, 10)]
#[case::at_a_hundred(100, 2, 10)]
fn the_most_of_a_row_is_allowed_and_no_more(
    #[case] percent: i64,
    #[case] of_a_set: i64,
    #[case] in_all: i64,
) {
    assert_eq!(missed(percent, of_a_set, in_all / of_a_set), 0);
    assert_eq!(missed(percent, 1, in_all), 0);
    assert!(missed(percent, 1, in_all + 1) > 0, "more in all");
    assert!(missed(percent, of_a_set + 1, 1) > 0, "more in a set");
}

fn is_counted(solved: &Solved, item: &Item) -> bool {
    // Made for highly qualified lifters' lifts: not held against novices, pulls, squats or primers.
    solved.word("level") != "novice"
        && corpus::is_lift(item)
        && ["corrective", "transfer", "competition", "variation"].contains(&item.role.as_str())
}

fn row_of(percent: i64) -> usize {
    TABLE
        .iter()
        .position(|row| (row.0..=row.1).contains(&percent))
        .unwrap()
}

/// Started threes above the most of a row, of one exercise.
fn too_many(item: &Item) -> i64 {
    let Some((_, top)) = item.percent else {
        return 0;
    };
    let (_, _, of_a_set, in_all, _) = TABLE[row_of(top)];
    let over = |reps: i64, most: i64| {
        (reps - most).max(0).div_euclid(3) + i64::from((reps - most).max(0) % 3 > 0)
    };
    over(item.reps, of_a_set[1]) + over(item.sets * item.reps, in_all[1])
}

/// What a week says of itself: the units by which it leaves the table, all rows together.
fn admitted(plan: &Plan) -> i64 {
    let of_the_table = plan.shortfalls.iter();
    of_the_table
        .filter(|shortfall| shortfall.ruling.id() == OF_THE_TABLE)
        .map(|shortfall| shortfall.units)
        .sum()
}

/// [`TABLE`] (S): each row over all lifts of all weeks. What lies outside is said with the week.
#[rstest]
#[case::below_seventy(0, 30)]
#[case::from_seventy(1, 100)]
#[case::from_eighty(2, 20)]
#[case::from_ninety(3, 8)]
fn solved_weeks_keep_the_row_or_say_that_they_do_not(#[case] row: usize, #[case] enough: usize) {
    let mut seen = 0;
    for (solved, plan) in corpus::weeks() {
        let mut outside = 0;
        for item in plan.sessions.iter().flat_map(|session| &session.items) {
            if !is_counted(solved, item) {
                continue;
            }
            outside += too_many(item);
            if item.percent.is_some_and(|(_, top)| row_of(top) == row) {
                seen += 1;
                assert!(
                    too_many(item) == 0 || admitted(plan) > 0,
                    "{}: {} {} x {}",
                    solved.name,
                    item.name,
                    item.sets,
                    item.reps
                );
            }
        }
        assert_eq!(outside, admitted(plan), "{}", solved.name);
    }
    assert!(seen >= enough, "only {seen} items stand in this row");
}

/// [`TABLE`] (S), the columns that bind nothing: the least of each row and the best total. Read
/// from the rule file, since no week tells them.
#[rstest]
fn the_table_is_kept_whole(#[values(0, 1, 2, 3)] row: usize) {
    let (from, to, of_a_set, in_all, best) = TABLE[row];
    let files = corpus::texts("rules");
    let text = &files
        .iter()
        .find(|(name, _)| name == "zone-tables.yaml")
        .unwrap()
        .1;
    let file: serde_yaml::Value = serde_yaml::from_str(text).unwrap();
    let zones = file["zone-tables"]["volume-by-intensity"]["zones"]
        .as_mapping()
        .unwrap();
    assert_eq!(zones.len(), TABLE.len());
    let zone = zones.iter().nth(row).unwrap().1;
    let ends = |key: &str| {
        [
            zone[key]["from"].as_i64().unwrap(),
            zone[key]["to"].as_i64().unwrap(),
        ]
    };
    assert_eq!(
        zone["percent"]
            .get("at-least")
            .and_then(|at| at.as_i64())
            .unwrap_or(1),
        from
    );
    assert_eq!(
        zone["percent"]
            .get("at-most")
            .and_then(|at| at.as_i64())
            .unwrap_or(999),
        to
    );
    assert_eq!(ends("reps-per-set"), of_a_set);
    assert_eq!(ends("total"), in_all);
    assert_eq!(zone["best-total"].as_i64(), Some(best));
}

/// Laputin and Oleshko 1982, chapter 3 (S, C): of about 20,000 lifts a year of highly qualified
/// lifters 480 to 500, 2.4 to 2.5 %, were at 90 % and more. Over weeks of all phases that is a small share.
#[test]
fn few_lifts_are_at_ninety_percent_and_more() {
    let (mut heavy, mut all) = (0, 0);
    for (_, _, item) in corpus::items().filter(|(_, _, item)| corpus::is_lift(item)) {
        let reps = item.sets * item.reps;
        all += reps;
        heavy += reps * i64::from(item.percent.is_some_and(|(low, _)| low >= 90));
    }
    assert!(all > 2_000, "{all} lifts");
    assert!(
        heavy * 1_000 <= all * 25,
        "{heavy} of {all} lifts are at 90 % and more"
    );
}

/// Review of training loads of the Soviet era, elite lifters 1972 to 1992 (A): 75 to 85 % of sets
/// had one to three repetitions. At least so many of the sets of lifts, pulls and squats of advanced lifters have.
#[test]
fn most_sets_have_one_to_three_repetitions() {
    let (mut short, mut all) = (0, 0);
    for (solved, _, item) in corpus::items() {
        let strength = corpus::is_of(item, &["snatch", "clean", "jerk", "squat"]);
        if solved.word("level") == "advanced" && strength && item.role.as_str() != "primer" {
            all += item.sets;
            short += item.sets * i64::from(item.reps <= 3);
        }
    }
    assert!(all > 300, "{all} sets");
    assert!(short * 100 >= all * 75, "{short} of {all} sets");
}

/// González-Badillo 2006, J Strength Cond Res 20:73-81 (A): of 46, 93 and 184 repetitions above
/// 90 % in ten weeks, 93 served best. In no week are there more than a tenth of 184.
#[test]
fn no_week_has_the_largest_number_of_heaviest_repetitions() {
    let mut most = 0;
    for (_, plan) in corpus::weeks() {
        let heaviest = plan.sessions.iter().flat_map(|session| &session.items);
        let reps: i64 = heaviest
            .filter(|item| corpus::is_lift(item) && item.percent.is_some_and(|(low, _)| low > 90))
            .map(|item| item.sets * item.reps)
            .sum();
        most = most.max(reps);
    }
    assert!(most <= 18, "{most} repetitions above 90 %");
}

/// Stone, Pierce, Sands and Stone 2006, Strength Cond J 28(2):10-17 (A): preparation in sets of
/// ten, later of three and two. Squats of the general phase have more repetitions than later ones.
#[test]
fn repetitions_fall_from_preparation_to_the_meet() {
    let most = |phase: &str| {
        corpus::items()
            .filter(|(solved, _, item)| {
                solved.phase() == phase
                    && corpus::is_of(item, &["squat"])
                    && !corpus::entry(item).complex
            })
            .map(|(_, _, item)| item.reps)
            .max()
            .unwrap()
    };
    let (early, late, last) = (most("general"), most("specific"), most("competition"));
    assert!((4..=10).contains(&early), "{early}");
    assert!(early > late && early > last, "{early}, {late}, {last}");
    assert!(last <= 4, "{last}");
}

/// What a week must have so that a full lift stands on a heavy and on a light day.
const ON_BOTH: &str = r#"
format: 1
rules:
  count:
    lift-on-the-light-day:
      what: {exercises: [snatch, clean-and-jerk], alone: true, roles: [competition]}
      per: week
      'on': {efforts: [light]}
      at-least: 1
      yields: never
      because: "For a test."
      source: {expert-set: "for a test"}
    both-on-the-heavy-day:
      what: {exercises: [snatch, clean-and-jerk], alone: true, roles: [competition]}
      per: week
      'on': {efforts: [heavy]}
      at-least: 2
      yields: never
      because: "For a test."
      source: {expert-set: "for a test"}
"#;

/// Stone and others 2006 (A): a light day is 15 to 20 % lighter. Of the full lifts, against the
/// heavy day of the same week.
#[rstest]
#[case("general")]
#[case("specific")]
fn a_light_day_is_fifteen_to_twenty_percent_lighter(#[case] phase: &str) {
    let mut files = corpus::texts("rules");
    files.push((String::from("test.yaml"), String::from(ON_BOTH)));
    let base = KnowledgeBase::from_texts(files).unwrap();
    let case = base.case().phase(phase).field("days", "5").build().unwrap();
    let answer = base.solve_within(&case, Work::nodes(3_000_000)).unwrap();
    let plan = answer.into_week().unwrap();
    let mut seen = 0;
    for lift in ["snatch", "clean-and-jerk"] {
        let top = |effort: &str| {
            let days = plan
                .sessions
                .iter()
                .filter(|session| session.effort.as_str() == effort);
            let mut items = days.flat_map(|session| &session.items);
            items
                .find(|item| item.exercise.as_str() == lift && item.role.as_str() == "competition")
                .and_then(|item| item.percent)
                .map(|(_, top)| top)
        };
        if let (Some(heavy), Some(light)) = (top("heavy"), top("light")) {
            seen += 1;
            let less = (heavy - light) * 100;
            assert!(
                (heavy * 15..=heavy * 20).contains(&less),
                "{lift}: {light} % beside {heavy} %"
            );
        }
    }
    assert!(seen > 0, "no lift stands on both days");
}

/// Laputin and Oleshko 1982 (S): pulls look like the lift up to 90 %, and pulls are kept there;
/// Haff 2003 (A): 70 to 120 % for strength. Where the path of the pull is worked on the first holds, else the
/// second; and the second too where strength in the pull is what is missing.
#[rstest]
#[case::for_the_path(true, 70, 90)]
#[case::for_strength(false, 70, 120)]
fn pulls_are_as_heavy_as_their_purpose_asks(
    #[case] for_the_path: bool,
    #[case] least: i64,
    #[case] most: i64,
) {
    const PATH: [&str; 6] = [
        "bar-swung-out",
        "weight-behind",
        "toes-early",
        "bar-drifts-away",
        "hips-first",
        "rushed-off-floor",
    ];
    let mut tops = Vec::new();
    for (_, plan) in corpus::weeks() {
        let worked = |causes: &[&str]| {
            let mut focus = plan.focus.iter();
            focus.any(|worked| causes.contains(&worked.cause.as_str()))
        };
        let path = worked(&PATH) && !worked(&["pull-too-weak"]);
        if path != for_the_path {
            continue;
        }
        for item in plan.sessions.iter().flat_map(|session| &session.items) {
            if let (true, "support", Some((low, top))) =
                (corpus::is_pull(item), item.role.as_str(), item.percent)
            {
                assert!(
                    low >= least && top <= most,
                    "{} at {low} to {top} %",
                    item.name
                );
                tops.push(top);
            }
        }
    }
    let highest = tops.iter().max().copied().unwrap_or(0);
    assert!(tops.len() >= 5, "only {} pulls", tops.len());
    assert_eq!(
        highest > 90,
        !for_the_path,
        "the two readings differ: {highest} %"
    );
}
