//! Training days that the case names: where they stand, and what each says.
//!
//! Day 1 is stout (880 seconds), the second mild (480 seconds), the third stout. `spell` is 20 where nothing is said.

use rstest::rstest;

use super::small::{case, judge, missed, pack};

/// A case with three days, of which two say their own spell: 10, 20, 33.
const NAMED: &str = "training-days: {tuesday: {spell: 10}, friday: {}, sunday: {spell: 33}}";

#[rstest]
// 880 seconds of stout work: on Tuesday 10 minutes are 280 too few, on Sunday 33 are enough.
#[case("at-most: {field: spell}, unit: 1", "swaling prime | |", 5)]
#[case("at-most: {field: spell}, unit: 1", "| | swaling prime", 0)]
// 80 percent of 33 are 26 minutes, rounded down: 1560 seconds, 200 fewer than two stout items take.
#[case(
    "at-most: {field: spell, percent: 80}, unit: 1",
    "| | swaling prime, tarning prime",
    4
)]
// The day that says nothing has the case's 20: 480 is 720 below.
#[case(
    "at-least: {field: spell}, unit: 1, on: {efforts: [mild]}",
    "| swaling prime |",
    12
)]
// Only the days whose own number passes: not Tuesday; Friday with 20 and Sunday with 33 do.
#[case(
    "at-most: {whole: 8}, unit: 1, on: {case-of-day: {spell: {at-least: 20}}}",
    "swaling prime | |",
    0
)]
#[case(
    "at-most: {whole: 7}, unit: 1, on: {case-of-day: {spell: {at-least: 20}}}",
    "| swaling prime |",
    1
)]
#[case(
    "at-most: {whole: 7}, unit: 1, on: {case-of-day: {spell: {at-least: 21}}}",
    "| swaling prime |",
    0
)]
// With other keys by "and".
#[case(
    "at-most: {whole: 7}, unit: 1, on: {efforts: [mild], case-of-day: {spell: {at-most: 20}}}",
    "swaling prime | |",
    0
)]
fn minutes(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!("\n  minutes: {{it: {{{rule}, yields: last}}}}");
    assert_eq!(missed(&rules, NAMED, week), units);
}

#[rstest]
// Without named days each day has the case's.
#[case("", "swaling prime | |", 1)]
#[case("fields: {spell: 21}", "swaling prime | |", 0)]
#[case(NAMED, "swaling prime | |", 1)]
#[case(NAMED, "| swaling prime |", 1)]
#[case(NAMED, "| | swaling prime", 0)]
fn sessions(#[case] case: &str, #[case] week: &str, #[case] units: i64) {
    let rules = "\n  count: {it: {what: {everything: true}, per: session, at-most: 0, on: {case-of-day: {spell: {at-most: 20}}}, yields: last}}";
    assert_eq!(missed(rules, case, week), units);
}

#[rstest]
// 4 sets on the stout days; two fewer only on the day of 10.
#[case("swaling prime | |", 2)]
#[case("| | swaling prime", 4)]
fn trims(#[case] week: &str, #[case] sets: i64) {
    let rules = "
  trim: {short: {what: {everything: true}, on: {case-of-day: {spell: {at-most: 10}}}, sets-fewer: 2, sets-at-least: 1}}
  count: {it: {what: {everything: true}, per: week, counted-in: sets, at-most: 0, yields: last}}";
    assert_eq!(missed(rules, NAMED, week), sets);
}

#[rstest]
// Sunday: 600 + 880 + 60 = 1540, 25 started minutes above one; Tuesday: 60 + 880 + 10 = 950, 15.
#[case("| | swaling prime", 25)]
#[case("swaling prime | |", 15)]
fn timings(#[case] week: &str, #[case] minutes: i64) {
    let rules = "
  timing:
    long: {on: {case-of-day: {spell: {at-least: 30}}}, warm-up-seconds: 600, changeover-seconds: 60}
    short: {warm-up-seconds: 60, changeover-seconds: 10}
  minutes: {it: {at-most: {whole: 1}, unit: 1, yields: last}}";
    assert_eq!(missed(rules, NAMED, week), minutes);
}

#[rstest]
// The mean of 10, 20 and 33 is 21; where no day says its own, the case's.
#[case(NAMED, 21)]
#[case("training-days: {tuesday: {}, friday: {}, sunday: {}}", 20)]
#[case(
    "training-days: {tuesday: {spell: 30}, friday: {}, sunday: {spell: 31}}; fields: {spell: 7}",
    22
)]
fn the_week_has_their_mean(#[case] case: &str, #[case] mean: i64) {
    for (least, units) in [(mean, 1), (mean + 1, 0)] {
        let rules = format!(
            "\n  count: {{it: {{when: {{case: {{spell: {{at-least: {least}}}}}}}, what: {{everything: true}}, per: week, at-most: 0, yields: last}}}}"
        );
        assert_eq!(missed(&rules, case, "swaling prime | |"), units, "{least}");
    }
}

#[rstest]
// How many are named is what the case says; only days that all say their own number say it for the case.
#[case("evenings: {at-least: 3, at-most: 3}", NAMED, 1)]
#[case("evenings: {known: true}", NAMED, 1)]
#[case("evenings: {known: true}", "", 0)]
#[case("spell: {known: true}", NAMED, 0)]
#[case(
    "spell: {known: true}",
    "training-days: {tuesday: {spell: 1}, friday: {spell: 2}, sunday: {spell: 3}}",
    1
)]
fn conditions(#[case] asked: &str, #[case] case: &str, #[case] units: i64) {
    let rules = format!(
        "\n  count: {{it: {{when: {{case: {{{asked}}}}}, what: {{everything: true}}, per: week, at-most: 0, yields: last}}}}"
    );
    assert_eq!(missed(&rules, case, "swaling prime | |"), units);
}

#[rstest]
// Days 1, 3 and 4 of the layout: the last two have no free day between them, the first two one.
#[case("", "swaling prime | swaling prime |", 0)]
#[case("", "| swaling prime | swaling prime", 1)]
// Tuesday, Wednesday, Friday.
#[case(
    "training-days: {tuesday: {}, wednesday: {}, friday: {}}",
    "swaling prime | swaling prime |",
    1
)]
#[case(
    "training-days: {tuesday: {}, wednesday: {}, friday: {}}",
    "| swaling prime | swaling prime",
    0
)]
// Sunday and Monday meet round the end of the week.
#[case(
    "training-days: {monday: {}, wednesday: {}, sunday: {}}",
    "swaling prime | | swaling prime",
    1
)]
#[case(
    "training-days: {monday: {}, wednesday: {}, saturday: {}}",
    "swaling prime | | swaling prime",
    0
)]
fn days_stand_where_they_are_named(#[case] case: &str, #[case] week: &str, #[case] units: i64) {
    let rules = "\n  apart: {it: {what: {everything: true}, from: {everything: true}, free-days: 1, yields: last}}";
    assert_eq!(missed(rules, case, week), units);
}

#[rstest]
// Day 3 is the eve of the stout day 4; Tuesday is no eve of Thursday, and Sunday one of Monday.
#[case("", "| swaling prime |", 1)]
#[case(
    "training-days: {monday: {}, tuesday: {}, thursday: {}}",
    "| swaling prime |",
    0
)]
#[case(
    "training-days: {monday: {}, tuesday: {}, sunday: {}}",
    "| | swaling prime",
    1
)]
fn eves_are_those_of_the_calendar(#[case] case: &str, #[case] week: &str, #[case] units: i64) {
    let rules = "\n  count: {it: {what: {everything: true}, per: session, at-most: 0, on: {eve-of: [stout]}, yields: last}}";
    assert_eq!(missed(rules, case, week), units);
}

#[rstest]
fn a_hard_rule_of_a_day_leaves_an_item_out_there_alone() {
    let rules = "\n  exclude: {it: {what: {skills: [swale]}, on: {case-of-day: {spell: {at-most: 10}}}, yields: never}}";
    assert_eq!(judge(rules, NAMED, "swaling prime | |").hard_broken, ["it"]);
    assert!(
        judge(rules, NAMED, "| | swaling prime")
            .hard_broken
            .is_empty()
    );
}

/// The layout of this pack fits whatever is named: other days than it has are told with what to do.
#[rstest]
fn a_layout_of_other_days_is_not_laid_over_them() {
    let base = drillwright::KnowledgeBase::from_texts(pack("")).unwrap();
    let text = case("training-days: {monday: {}, friday: {}}");
    let case = base.case_from_text("case.yaml", &text).unwrap();
    let error = base.solve(&case).unwrap_err();
    assert_eq!(error.kind(), drillwright::ErrorKind::Open);
    let told = error.to_string();
    assert!(told.contains("has 3 days, and the case names 2"), "{told}");
}
