//! Weeks in a row: laid out by the rules, each the best after the one before it, with a reason for each change.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use drillwright::explain::{BlockWeek, TrainingBlock, WhyChanged};
use drillwright::report::{block_document, block_text};
use drillwright::{Cancel, Case, ErrorKind, KnowledgeBase, Work};
use rstest::rstest;

use crate::cli::rules_with;
use crate::cli::schemas::{assert_holds, schema};
use crate::corpus::BASE;

/// Three days, so that a week is found in a tenth of a second; the meet where one is said.
fn case(phase: &str, more: &str) -> Case {
    case_of(&BASE, phase, more)
}

fn case_of(base: &KnowledgeBase, phase: &str, more: &str) -> Case {
    let text = format!(
        "format: 1
case:
  lifter: lifter A (invented)
  today: \"2026-11-25\"
  phase: {phase}
  faults: [{{fault: saved-backward, skill: snatch, grade: two-steps}}]
  observed: [hip-bang-heard]
  bests: {{best-snatch: 90, best-clean-and-jerk: 112, best-back-squat: 150}}
  fields: {{days: 3, minutes: 75{more}}}
"
    );
    base.case_from_text("case.yaml", &text).unwrap()
}

fn block(case: &Case, weeks: Option<u16>) -> TrainingBlock {
    BASE.block(case, weeks, Work::default(), &Cancel::new())
        .unwrap()
}

/// Seven weeks without a meet, and ten that lead to one.
static PLAIN: LazyLock<(Case, TrainingBlock)> = LazyLock::new(|| {
    let case = case("general", "");
    let made = block(&case, Some(7));
    (case, made)
});
static TO_A_MEET: LazyLock<(Case, TrainingBlock)> = LazyLock::new(|| {
    // The Saturday of the tenth week after Monday the 30th of November.
    let case = case("general", ", meet: \"2027-02-06\"");
    let made = block(&case, None);
    (case, made)
});

fn both() -> [&'static TrainingBlock; 2] {
    [&PLAIN.1, &TO_A_MEET.1]
}

fn shape(block: &TrainingBlock) -> Vec<String> {
    let of = |week: &BlockWeek| {
        let says = week.says.as_ref().map_or("", |(_, says)| says);
        format!("{} {says}", week.phase.id)
    };
    block.weeks.iter().map(of).collect()
}

fn figure(block: &TrainingBlock, week: &BlockWeek, id: &str) -> i64 {
    let at = block
        .figures
        .iter()
        .position(|held| held.figure.id.as_str() == id);
    week.figures[at.unwrap()].as_ref().unwrap().value
}

#[test]
fn weeks_are_laid_out_by_the_rules() {
    let (_, plain) = &*PLAIN;
    assert_eq!(plain.laid_out.id.as_str(), "general-and-specific-block");
    assert_eq!(
        shape(plain),
        [
            "general usual week",
            "general heavier week",
            "general heavier week",
            "general lighter week",
            "specific usual week",
            "specific heavier week",
            "specific lighter week",
        ]
    );
    let (_, meet) = &*TO_A_MEET;
    assert_eq!(meet.laid_out.id.as_str(), "long-way-to-a-meet");
    assert_eq!(
        shape(meet),
        [
            "general usual week",
            "general heavier week",
            "general heavier week",
            "general lighter week",
            "specific usual week",
            "specific heavier week",
            "specific lighter week",
            "competition usual week",
            "competition heavier week",
            "last-week ",
        ]
    );
    let begins: Vec<&str> = meet
        .weeks
        .iter()
        .map(|week| week.begins.as_deref().unwrap())
        .collect();
    assert_eq!(
        (begins[0], begins[1], begins[9]),
        ("2026-11-30", "2026-12-07", "2027-02-01")
    );
    assert!(both().iter().all(|block| block.stopped.is_none()));
}

/// Each week is what the case of that week comes to by itself: the chain is made of nothing but cases and weeks.
#[test]
fn each_week_is_the_best_after_the_one_before() {
    let (case, made) = &*PLAIN;
    for two in made.weeks.windows(2) {
        // The case that the block had is put together again from what is public.
        let mut text = format!(
            "format: 1\ncase:\n  today: \"{}\"\n  phase: {}\n  faults: [{{fault: saved-backward, skill: snatch, grade: two-steps}}]\n  observed: [hip-bang-heard]\n  bests: {{best-snatch: 90, best-clean-and-jerk: 112, best-back-squat: 150}}\n  fields: {{days: 3, minutes: 75, week-load: {}}}\n  week-before:\n",
            two[1].begins.as_ref().unwrap(),
            two[1].phase.id,
            two[1].says.as_ref().unwrap().1.replace(' ', "-"),
        );
        for item in two[0]
            .plan
            .sessions
            .iter()
            .flat_map(|session| &session.items)
        {
            let mut weeks = 0;
            for week in made
                .weeks
                .iter()
                .take_while(|week| week.number <= two[0].number)
            {
                let mut items = week.plan.sessions.iter().flat_map(|session| &session.items);
                weeks = if items.any(|held| held.exercise == item.exercise) {
                    weeks + 1
                } else {
                    0
                };
            }
            let percent = item
                .percent
                .map_or(String::new(), |(_, top)| format!(", percent: {top}"));
            text.push_str(&format!(
                "    - {{exercise: {}, role: {}, sets: {}, reps: {}, weeks: {weeks}{percent}}}\n",
                item.exercise, item.role, item.sets, item.reps
            ));
        }
        let alone = BASE.case_from_text("week.yaml", &text).unwrap();
        let week = BASE.solve(&alone).unwrap().into_week().unwrap();
        assert_eq!(
            (week.missed, week.worth, week.sessions.len()),
            (
                two[1].plan.missed,
                two[1].plan.worth,
                two[1].plan.sessions.len()
            ),
            "week {}\n{text}",
            two[1].number
        );
        let names = |plan: &drillwright::Plan| -> Vec<String> {
            let items = plan.sessions.iter().flat_map(|session| &session.items);
            items
                .map(|item| format!("{} {}", item.role, item.exercise))
                .collect()
        };
        assert_eq!(names(&week), names(&two[1].plan));
    }
    assert!(BASE.week_after(case, &made.weeks[0].plan).is_ok());
}

/// Every exercise that comes, goes or is dosed otherwise is told with a reason, and nothing else is.
#[test]
fn every_change_has_a_reason() {
    type Doses = Vec<(String, i64, i64, Option<(i64, i64)>)>;
    fn by_exercise(week: &BlockWeek) -> BTreeMap<String, Doses> {
        let mut all: BTreeMap<String, Doses> = BTreeMap::new();
        for item in week.plan.sessions.iter().flat_map(|session| &session.items) {
            let held = all.entry(item.exercise.to_string()).or_default();
            held.push((item.role.to_string(), item.sets, item.reps, item.percent));
            held.sort();
        }
        all
    }
    for block in both() {
        assert!(block.weeks[0].changes.is_empty());
        for two in block.weeks.windows(2) {
            let (was, is) = (by_exercise(&two[0]), by_exercise(&two[1]));
            let all: BTreeSet<&String> = was.keys().chain(is.keys()).collect();
            let other: BTreeSet<&str> = all
                .into_iter()
                .filter(|exercise| was.get(*exercise) != is.get(*exercise))
                .map(String::as_str)
                .collect();
            let told: BTreeSet<&str> = two[1]
                .changes
                .iter()
                .map(|change| change.exercise.id.as_str())
                .collect();
            assert_eq!(told, other, "week {}", two[1].number);
            for change in &two[1].changes {
                assert!(!change.why.is_empty(), "{change:?}");
                assert!(!change.why.contains(&WhyChanged::Unsettled), "{change:?}");
            }
        }
    }
    let document = block_document(&PLAIN.1);
    let said = document
        .weeks
        .iter()
        .flat_map(|week| &week.changes)
        .flat_map(|change| &change.why);
    assert!(said.clone().count() > 20 && said.clone().all(|why| why.len() > 20));
}

/// What goes, or comes less often, is out for a reason that holds: a week that has it is never better.
#[test]
fn nothing_goes_that_would_be_better_kept() {
    let mut told = 0;
    for block in both() {
        for change in block.weeks.iter().flat_map(|week| &week.changes) {
            for why in &change.why {
                match why {
                    WhyChanged::WorthLess { less, by, .. } => {
                        assert!(*less > 0 && by.iter().all(|(_, less)| *less > 0), "{why:?}");
                        assert!(by.windows(2).all(|two| two[0].1 >= two[1].1), "{why:?}");
                        assert!(!by.is_empty());
                    }
                    WhyChanged::GivesWay { more, .. } => {
                        assert!(!more.is_empty() && more.iter().all(|(_, units)| *units > 0));
                    }
                    WhyChanged::Refused(what, says) => {
                        assert!(!what.is_empty() && !says.is_empty())
                    }
                    _ => continue,
                }
                told += 1;
            }
        }
    }
    assert!(told > 10, "{told}");
}

#[test]
fn drills_give_way_to_the_lifts() {
    for block in both() {
        let shares = |id: &str| -> Vec<i64> {
            block
                .weeks
                .iter()
                .map(|week| figure(block, week, id))
                .collect()
        };
        let (drills, lifts) = (shares("corrective-share"), shares("led-back-share"));
        // Never up by more than what rounding and started units leave open.
        assert!(
            drills.windows(2).all(|two| two[1] <= two[0] + 3),
            "{drills:?}"
        );
        assert!(drills.last() < drills.first(), "{drills:?}");
        let (early, late) = lifts.split_at(lifts.len() / 2);
        assert!(late.iter().max() > early.iter().max(), "{lifts:?}");
    }
    let (_, meet) = &*TO_A_MEET;
    assert_eq!(figure(meet, &meet.weeks[9], "corrective-share"), 0);
}

#[test]
fn drills_are_kept_until_they_are_learnt() {
    for block in both() {
        let drills = |week: &BlockWeek| -> BTreeSet<String> {
            let items = week.plan.sessions.iter().flat_map(|session| &session.items);
            let drills = items.filter(|item| item.role.as_str() == "corrective");
            drills.map(|item| item.exercise.to_string()).collect()
        };
        let mut in_a_row: BTreeMap<String, i64> = BTreeMap::new();
        for week in &block.weeks {
            let now = drills(week);
            let is_asked = matches!(week.phase.id.as_str(), "general" | "specific");
            for (drill, weeks) in &in_a_row {
                let left = is_asked && *weeks < 3 && !now.contains(drill);
                let gave_way = week
                    .plan
                    .shortfalls
                    .iter()
                    .any(|lack| lack.ruling.to_string() == "rules.kept.drills-until-learnt");
                assert!(
                    !left || gave_way,
                    "week {}: {drill} after {weeks}",
                    week.number
                );
            }
            in_a_row = now
                .into_iter()
                .map(|drill| {
                    let weeks = in_a_row.get(&drill).copied().unwrap_or(0);
                    (drill, weeks + 1)
                })
                .collect();
        }
    }
}

#[test]
fn every_week_has_both_lifts_and_figures_in_their_ranges() {
    for block in both() {
        for week in &block.weeks {
            let items = week.plan.sessions.iter().flat_map(|session| &session.items);
            let lifts: BTreeSet<&str> = items
                .filter(|item| item.role.as_str() == "competition")
                .map(|item| item.exercise.as_str())
                .collect();
            assert!(
                lifts.contains("snatch") && lifts.contains("clean-and-jerk"),
                "{lifts:?}"
            );
            for (entry, value) in block.figures.iter().zip(&week.figures) {
                let value = value.as_ref().unwrap();
                assert!(
                    value.is_within(),
                    "week {}: {} {value:?}",
                    week.number,
                    entry.figure.id
                );
            }
        }
        let heavy = |says: &str| -> Vec<i64> {
            let weeks = block
                .weeks
                .iter()
                .filter(|week| week.phase.id.as_str() == "general");
            let weeks = weeks.filter(|week| week.says.as_ref().unwrap().1 == says);
            weeks.map(|week| figure(block, week, "mean-load")).collect()
        };
        let (usual, heavier, lighter) = (
            heavy("usual week"),
            heavy("heavier week"),
            heavy("lighter week"),
        );
        assert!(
            heavier > usual && lighter < usual,
            "{usual:?} {heavier:?} {lighter:?}"
        );
    }
}

#[rstest]
// The meet is in week 10: no block of 12 weeks reaches over it, one of 8 does not come to it.
#[case("general", ", meet: \"2027-02-06\"", Some(12), "is in week 10")]
// A Wednesday, in a week that trains on Thursday too.
#[case(
    "general",
    ", meet: \"2027-02-03\"",
    None,
    "let the case name days before that"
)]
#[case("general", "", None, "nothing says how many weeks there are")]
#[case("general", "", Some(40), "`way-to-a-meet` (6 to 9 weeks)")]
#[case("general", "", Some(1), "ask for other weeks")]
fn what_cannot_be_laid_out_is_told(
    #[case] phase: &str,
    #[case] more: &str,
    #[case] weeks: Option<u16>,
    #[case] wanted: &str,
) {
    let error = BASE
        .block(&case(phase, more), weeks, Work::default(), &Cancel::new())
        .unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Open);
    assert!(error.to_string().contains(wanted), "{error}");
}

#[test]
fn a_meet_after_the_block_is_told() {
    let case = case("general", ", meet: \"2027-02-06\"");
    let made = block(&case, Some(4));
    let told: Vec<_> = made
        .beyond
        .iter()
        .map(|held| (held.field.id.as_str(), held.on.as_str(), held.week))
        .collect();
    assert_eq!(told, [("meet", "2027-02-06", 10)]);
    let text = block_text(&made, false);
    assert!(text.contains("is in week 10"), "{text}");
    assert_eq!(made.weeks.len(), 4);
    assert!(both().iter().all(|block| block.beyond.is_empty()));
}

#[test]
fn a_meet_without_a_today_and_a_week_that_has_begun_are_told() {
    let builder = BASE.case().phase("general").field("days", "3");
    let undated = builder.clone().field("meet", "2027-02-06").build().unwrap();
    let error = BASE
        .block(&undated, None, Work::default(), &Cancel::new())
        .unwrap_err();
    assert!(error.to_string().contains("say `today` too"), "{error}");
    let (case, made) = &*PLAIN;
    let week = &made.weeks[0].plan;
    let first = BASE.solve(case).unwrap().into_week().unwrap();
    let begun = BASE
        .rest_of_week(case, &first, &[week.sessions[0].day], &[])
        .unwrap();
    let error = BASE
        .block(&begun, Some(4), Work::default(), &Cancel::new())
        .unwrap_err();
    assert!(error.to_string().contains("this one has begun"), "{error}");
}

/// Blocks and what differs between weeks are data: other rules, other weeks.
#[test]
fn other_rules_lay_out_other_weeks() {
    let base = rules_with(
        "weeks: [{is: usual-week}, {is: heavier-week}, {is: heavier-week}, {is: lighter-week}]",
        "weeks: [{is: usual-week}, {is: lighter-week}]",
    );
    let case = case_of(&base, "general", "");
    let made = base
        .block(&case, Some(4), Work::default(), &Cancel::new())
        .unwrap();
    let says: Vec<&str> = made
        .weeks
        .iter()
        .map(|week| week.says.as_ref().unwrap().1.as_str())
        .collect();
    assert_eq!(
        says,
        ["usual week", "lighter week", "usual week", "lighter week"]
    );
}

/// Each mistake in a file of blocks or figures is told with its file and what to do.
#[rstest]
#[case(
    "      - phase: general\n",
    "      - phase: generel\n",
    "did you mean `general`?"
)]
#[case(
    "weeks: {from: 4, to: 6}",
    "weeks: {from: 4, to: 9}",
    "its stretches come to 4 to 8"
)]
#[case("field: week-load", "field: minutes", "this wants one of `one-of`")]
#[case("ends-on: meet", "ends-on: level", "this wants one of `dates`")]
#[case("is: heavier-week", "is: heavyer-week", "did you mean `heavier-week`?")]
#[case(
    "weeks: [{is: usual-week}, {is: heavier-week}]",
    "weeks: []",
    "a wave without weeks says nothing"
)]
#[case("percent: 42,", "percent: 0,", "must be from 1 to 100")]
#[case(
    "{phase: last-week, percent: 25}",
    "{phase: specific, percent: 25, weeks: {from: 1, to: 1}}",
    "`specific` does not come after `competition`"
)]
#[case(
    "general: {from: 15, to: 300,",
    "general: {from: 15, to: 3,",
    "let `from` be no more than `to`"
)]
fn a_mistake_in_a_file_of_blocks_is_told(#[case] from: &str, #[case] to: &str, #[case] said: &str) {
    let mut files = crate::cli::rule_files();
    let of_blocks =
        |text: &str| text.contains("\ntraining-blocks:") || text.contains("\nweek-figures:");
    let held = files
        .iter_mut()
        .find(|(_, text)| of_blocks(text) && text.contains(from));
    let (_, text) = held.unwrap();
    *text = text.replacen(from, to, 1);
    let error = KnowledgeBase::from_texts(files).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Rules);
    let told = error.to_string();
    assert!(told.contains(said), "{told}");
}

#[test]
fn the_text_fits_and_the_document_follows_its_schema() {
    let (_, made) = &*TO_A_MEET;
    let text = block_text(made, false);
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
    for said in [
        "long way to a meet",
        "■",
        "neither asked nor proven",
        "! A plan of weeks is a proposal",
    ] {
        assert!(text.contains(said), "{said}\n{text}");
    }
    let value = serde_json::to_value(block_document(made)).unwrap();
    assert_holds(&schema("block"), &value, "block");
    let back: drillwright::report::BlockDocument = serde_json::from_value(value).unwrap();
    assert_eq!(back, block_document(made));
}
