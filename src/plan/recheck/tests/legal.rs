//! What may stand at all: items made again, and the parts of the layout.

use rstest::rstest;

use crate::base::RoleId;
use crate::plan::item::{Item, Spot, place};
use crate::plan::recheck::{Verdict, Whose, Wrong};
use crate::rules::vocab::Yields;

use super::pack::{Bench, bench, bench_with, rule, said};

impl Bench {
    /// An item as it must be.
    fn made(&self, day: usize, slot: usize, role: &str, exercise: &str) -> Item {
        let role = RoleId::new(role).unwrap();
        let spot = Spot {
            day,
            slot,
            exercise: self.exercise(exercise),
            role: &role,
        };
        place(self.setting, self.week, &self.loads, spot)
            .unwrap()
            .unwrap()
    }
}

fn words(verdict: &Verdict) -> String {
    let one = |illegal: &crate::plan::recheck::Illegal| {
        let why = match &illegal.why {
            Wrong::Days { asked, given } => format!("days {asked} {given}"),
            Wrong::NoSlot => "no slot".to_owned(),
            Wrong::Order => "order".to_owned(),
            Wrong::Twice => "twice".to_owned(),
            Wrong::NoCandidate(_) => "no candidate".to_owned(),
            Wrong::Otherwise(_) => "otherwise".to_owned(),
            Wrong::TwoDoses(_) => "two doses".to_owned(),
            other => format!("{other:?}"),
        };
        match (illegal.day, illegal.at) {
            (Some(day), Some(at)) => format!("{day}.{at} {why}"),
            _ => why,
        }
    };
    verdict
        .illegal
        .iter()
        .map(one)
        .collect::<Vec<_>>()
        .join(", ")
}

fn week(bench: &Bench) -> Vec<Vec<Item>> {
    vec![
        vec![
            bench.made(0, 0, "full", "one"),
            bench.made(0, 0, "drill", "one-high"),
            bench.made(0, 1, "main", "aid"),
        ],
        vec![bench.made(1, 0, "main", "chain")],
        vec![bench.made(2, 1, "main", "two")],
    ]
}

#[test]
fn a_sound_week_stands() {
    let bench = bench(&[]);
    let verdict = bench.verdict_on(&week(&bench));
    assert_eq!(words(&verdict), "");
    assert!(verdict.stands() && verdict.misses.is_empty());
}

#[rstest]
#[case::dose(|week: &mut Vec<Vec<Item>>, _: &Bench| week[0][1].dosed.sets += 1, "0.1 otherwise")]
#[case::load(|week: &mut Vec<Vec<Item>>, _: &Bench| week[0][0].dosed.percent = Some((70, 81)), "0.0 otherwise")]
#[case::seconds(|week: &mut Vec<Vec<Item>>, _: &Bench| week[2][0].dosed.seconds -= 1, "2.0 otherwise")]
#[case::part(|week: &mut Vec<Vec<Item>>, _: &Bench| week[2][0].part = week[0][0].part.clone(), "2.0 otherwise")]
#[case::another_day(|week: &mut Vec<Vec<Item>>, _: &Bench| { let item = week[0][0].clone(); week[2].insert(0, item); }, "2.0 otherwise")]
#[case::role(|week: &mut Vec<Vec<Item>>, _: &Bench| week[0][2].role = week[0][0].role.clone(), "0.2 no candidate")]
#[case::gate(|week: &mut Vec<Vec<Item>>, _: &Bench| week[0][1].role = week[0][0].role.clone(), "0.1 no candidate")]
#[case::unknown_exercise(|week: &mut Vec<Vec<Item>>, _: &Bench| week[0][2].exercise = 99, "0.2 no candidate")]
#[case::unknown_slot(|week: &mut Vec<Vec<Item>>, _: &Bench| week[0][2].slot = 2, "0.2 no slot")]
#[case::out_of_order(|week: &mut Vec<Vec<Item>>, _: &Bench| week[0].swap(1, 2), "0.2 order")]
#[case::any_order_inside_a_part(|week: &mut Vec<Vec<Item>>, _: &Bench| week[0].swap(0, 1), "")]
#[case::twice(|week: &mut Vec<Vec<Item>>, bench: &Bench| { let item = bench.made(0, 1, "main", "one"); week[0].push(item); }, "0.3 twice")]
#[case::a_day_too_few(|week: &mut Vec<Vec<Item>>, _: &Bench| { week.pop(); }, "days 3 2")]
#[case::a_day_too_many(|week: &mut Vec<Vec<Item>>, _: &Bench| week.push(Vec::new()), "days 3 4")]
fn a_changed_week_does_not(
    #[case] change: fn(&mut Vec<Vec<Item>>, &Bench),
    #[case] expected: &str,
) {
    let bench = bench(&[]);
    let mut week = week(&bench);
    change(&mut week, &bench);
    let verdict = bench.verdict_on(&week);
    assert_eq!(words(&verdict), expected);
    assert_eq!(verdict.stands(), expected.is_empty());
}

#[test]
fn what_is_ruled_out_is_no_candidate_and_breaks_the_rule() {
    let week = week(&bench(&[]));
    let out = bench(&[&rule(
        "exclude",
        "what: {exercises: [one-high]}, on: {marks: [top]}, yields: never",
    )]);
    let verdict = out.verdict_on(&week);
    assert_eq!(words(&verdict), "0.1 no candidate");
    assert_eq!(said(&verdict.broken), "0:1/1");
}

const LAYOUT: &str = "three:
    names: {en: [three]}
    when: {}
    days:
      - {day: 1, effort: hard, parts: [{part: early, at-least: 3, at-most: 4, yields: last}, {part: late, at-most: 1}]}
      - {day: 2, effort: easy, parts: [{part: early, at-least: 2, at-most: 3}]}
    because: b
    source: {own: x}";

#[rstest]
#[case::empty(&[], &[], "0:3/3", "1:2/2")]
#[case::kept(&["one", "two", "chain"], &["one", "two"], "", "")]
#[case::too_few(&["one"], &["one"], "0:2/2", "1:1/1")]
#[case::too_many(&["one", "two", "chain"], &["one", "two", "chain", "one-high", "two-slow"], "", "1:2/2")]
fn slots(
    #[case] first: &[&str],
    #[case] second: &[&str],
    #[case] missed: &str,
    #[case] broken: &str,
) {
    let bench = bench_with(&[], Some(LAYOUT), "");
    let items = |day, ids: &[&str]| {
        ids.iter()
            .map(|id| bench.made(day, 0, "main", id))
            .collect::<Vec<_>>()
    };
    let verdict = bench.verdict_on(&[items(0, first), items(1, second)]);
    assert_eq!(words(&verdict), "");
    assert_eq!(said(&verdict.misses), missed);
    assert_eq!(said(&verdict.broken), broken);
    let last: i64 = verdict.misses.iter().map(|miss| miss.units).sum();
    assert_eq!(verdict.missed, [last, 0, 0]);
    assert!(verdict.misses.iter().all(|miss| miss.yields == Yields::Last
        && matches!(&miss.whose, Whose::Slot(part) if part.as_str() == "early")));
}
