//! A small invented pack, and weeks written as words.

use std::sync::Arc;

use crate::base::{DoseId, ExerciseId, PartId, RoleId, RuleId};
use crate::graph::{Graph, build};
use crate::infer::Setting;
use crate::plan::dose::Dosed;
use crate::plan::item::Item;
use crate::plan::load::Loads;
use crate::plan::recheck::{Miss, Verdict, recheck};
use crate::plan::slots::Week;
use crate::rules::case_check::{Case, read_case};
use crate::rules::load::load;
use crate::rules::pack::Pack;
use crate::rules::read::{Limits, parse};

const FILES: [(&str, &str); 20] = [
    ("sources", "expert-set: {own: {by: nobody, date: '2026-01-01', note: invented}}"),
    (
        "skills",
        "one: {names: {en: [one]}, stages: [early, late], reference: best-one, source: {own: x}}
  two: {names: {en: [two]}, stages: [early], reference: best-two, source: {own: x}}
  other: {names: {en: [other]}, source: {own: x}}",
    ),
    (
        "references",
        "best-one: {names: {en: [best one]}, source: {own: x}}
  best-two: {names: {en: [best two]}, source: {own: x}}",
    ),
    (
        "axes",
        "height:
    names: {en: [height]}
    holds: one
    unset: low
    constraints:
      low: {names: {en: [low]}, because: b, source: {own: x}}
      high: {names: {en: [high]}, departs: 2, effect: {slack: 2}, because: b, source: {own: x}}
  pace:
    names: {en: [pace]}
    holds: many
    constraints:
      halt: {names: {en: [halt]}, departs: 3, strong: true, effect: {slack: -1}, because: b, source: {own: x}}
      slow: {names: {en: [slow]}, departs: 1, because: b, source: {own: x}}",
    ),
    (
        "exercises",
        "roots:
    one: {names: {en: [one]}, skills: [one], form: competition, trains: {power: 3}, stress: {back: 2}, roles: [drill, full, main], asks: {case: {limits: {has-none: [sore]}}}, use: u, source: {own: x}}
    two: {names: {en: [two]}, skills: [two], form: competition, trains: {power: 2, hold: 1}, stress: {back: 3}, roles: [drill, full, main], use: u, source: {own: x}}
    aid: {names: {en: [aid]}, skills: [other], form: training, stress: {back: 1}, roles: [main], use: u, source: {own: x}}
  variations:
    one-high: {names: {en: [one high]}, from: one, with: [high], use: u}
    one-halt: {names: {en: [one halt]}, from: one, with: [halt], use: u}
    one-high-halt: {names: {en: [one high halt]}, from: one-high, with: [halt], use: u}
    two-slow: {names: {en: [two slow]}, from: two, with: [slow], use: u}
  complexes:
    chain: {names: {en: [chain]}, components: [{do: one-high-halt, reps: 1}, {do: one-high, reps: 1}, {do: two, reps: 1}], roles: [main], percent-less: 5, use: u, source: {own: x}}",
    ),
    (
        "faults",
        "seen: {names: {en: [seen]}, skills: [one], aspect: path, grades: {mild: {severity: 2, says: s}}, causes: {slack: {percent: 70}, weak: {percent: 30}}, because: b, source: {own: x}}",
    ),
    (
        "causes",
        "movement:
    slack: {names: {en: [slack]}, look-for: l, stages: [early], develops: power, because: b, source: {own: x}}
  capacity:
    weak: {names: {en: [weak]}, look-for: l, served-by: [hold], because: b, source: {own: x}}",
    ),
    (
        "qualities",
        "power: {names: {en: [power]}, means: m, source: {own: x}}
  hold: {names: {en: [hold]}, means: m, counts-when: {percent: {at-least: 70}}, source: {own: x}}",
    ),
    ("stresses", "back: {names: {en: [back]}, means: m, source: {own: x}}"),
    (
        "roles",
        "main: {names: {en: [main]}, says: s, help: half, trains-percent: 100, stress-percent: 100, source: {own: x}}
  drill: {names: {en: [drill]}, says: s, help: whole, trains-percent: 50, stress-percent: 50, source: {own: x}}
  full: {names: {en: [full]}, says: s, help: half, trains-percent: 100, stress-percent: 100, gate: {full-form: true}, source: {own: x}}",
    ),
    (
        "parts",
        "early: {names: {en: [early]}, roles: [drill, full, main]}
  late: {names: {en: [late]}, roles: [drill, full, main]}",
    ),
    (
        "efforts",
        "hard: {names: {en: [hard]}, sets-at-percent: 100, reps-at-percent: 0, load-from-percent: 50, load-to-percent: 100, source: {own: x}}
  easy: {names: {en: [easy]}, sets-at-percent: 0, reps-at-percent: 100, load-from-percent: 0, load-to-percent: 50, source: {own: x}}",
    ),
    ("marks", "top: {names: {en: [top]}, means: m}"),
    ("phases", "only: {names: {en: [only]}, weeks: {from: 1, to: 4}, because: b, source: {own: x}}"),
    (
        "layouts",
        "three:
    names: {en: [three]}
    when: {}
    days:
      - {day: 1, effort: hard, marks: [top], parts: [{part: early, at-most: 4}, {part: late, at-most: 4}]}
      - {day: 2, effort: easy, parts: [{part: early, at-most: 4}, {part: late, at-most: 4}]}
      - {day: 5, effort: hard, parts: [{part: early, at-most: 4}, {part: late, at-most: 4}]}
    because: b
    source: {own: x}",
    ),
    (
        "doses",
        "plain: {sets: {from: 2, to: 5}, reps: {from: 1, to: 3}, percent-of-reference: {from: 60, to: 80}, rest-seconds: {from: 60, to: 120}, set-seconds: 20, feel: f, because: b, source: {own: x}}",
    ),
    ("measures", "kilograms: {unit: kg, pieces: [{weight: 10, full-diameter: true}, {weight: 5}], in-pairs: true, round: down, source: {own: x}}"),
    ("bars", "bar: {names: {en: [bar]}, measure: kilograms, weight: 20, collar: 2.5, source: {own: x}}"),
    (
        "zone-tables",
        "zones:
    names: {en: [zones]}
    made-for: m
    zones:
      light: {percent: {at-least: 55, at-most: 69}, reps-per-set: {from: 3, to: 5}, total: {from: 12, to: 20}, best-total: 16}
      heavy: {percent: {at-least: 70, at-most: 100}, reps-per-set: {from: 1, to: 2}, total: {from: 4, to: 8}, best-total: 6}
    source: {own: x}",
    ),
    (
        "tables",
        "help: {below-zero: 7, steps: [{to: 4, each: 6}, {to: 8, each: 5}], because: b, source: {own: x}}
  points: {below-zero: 4, steps: [{to: 2, each: 3}, {to: 5, each: 1}], because: b, source: {own: x}}",
    ),
];

const CASE_FIELDS: &str = "whole:
    minutes: {names: {en: [minutes]}, unit: minutes, from: 30, to: 180}
  one-of:
    level: {names: {en: [level]}, values: {low: {en: [low]}, high: {en: [high]}}, if-missing: low}
  some-of:
    limits: {names: {en: [limits]}, values: {sore: {en: [sore]}}, if-missing: []}";

const FACTORS: &str = "by-phase:
    two-thirds: {percents: {only: 66}, source: {own: x}}
  by-choice:
    by-level: {percents: {low: 50}, field: level, source: {own: x}}";

const TIMING: &str = "timing: {around: {warm-up-seconds: 600, changeover-seconds: 30, because: b, source: {own: x}}}";
const DOSE: &str =
    "dose: {plain: {what: {everything: true}, give: plain, because: b, source: {own: x}}}";

/// A pack, a case and what follows from them, kept for the whole test run.
pub(super) struct Bench {
    pub(super) setting: &'static Setting<'static>,
    pub(super) week: &'static Week<'static>,
    pub(super) loads: Loads,
}

/// The items of three days, in words.
pub(super) type Days = [&'static [&'static str]; 3];

/// A week of three days.
pub(super) fn week(
    first: &'static [&'static str],
    second: &'static [&'static str],
    third: &'static [&'static str],
) -> Days {
    [first, second, third]
}

/// One rule of a kind that can be missed: `first` gives way.
pub(super) fn yielding(kind: &str, body: &str) -> String {
    rule(kind, &format!("{body}, yields: first"))
}

/// One rule of a kind.
pub(super) fn rule(kind: &str, body: &str) -> String {
    format!("{kind}: {{r: {{{body}, because: b, source: {{own: x}}}}}}")
}

fn leaked<T>(value: T) -> &'static T {
    Box::leak(Box::new(value))
}

fn pack(rules: &[&str], layout: Option<&str>) -> Pack {
    let file = |name: &str, text: &str| -> (Arc<str>, Arc<str>) {
        (
            Arc::from(format!("{name}.yaml")),
            Arc::from(format!("format: 1\n{name}:\n  {text}\n")),
        )
    };
    let mut files: Vec<_> = FILES
        .iter()
        .map(|(name, text)| {
            file(
                name,
                if *name == "layouts" {
                    layout.unwrap_or(text)
                } else {
                    text
                },
            )
        })
        .collect();
    files.push(file("case-fields", CASE_FIELDS));
    files.push(file("factors", FACTORS));
    files.push(file(
        "rules",
        &[&[TIMING, DOSE], rules].concat().join("\n  "),
    ));
    load(parse, &files, Vec::new(), &Limits::default()).unwrap_or_else(|wrong| panic!("{wrong:#?}"))
}

/// Sets the bench up with rules, another layout and what the case says besides its bests.
pub(super) fn bench_with(rules: &[&str], layout: Option<&str>, case: &str) -> Bench {
    let pack = leaked(pack(rules, layout));
    let text = format!(
        "format: 1\ncase:\n  phase: only\n  bests: {{best-one: 100, best-two: 80}}\n{case}"
    );
    let case: &'static Case = leaked(
        read_case(
            &Arc::from("case.yaml"),
            &text,
            pack,
            pack,
            &Limits::default(),
        )
        .unwrap_or_else(|wrong| panic!("{wrong:#?}")),
    );
    let graph: &'static Graph = leaked(build(pack).unwrap());
    let setting = leaked(Setting::new(pack, graph, case));
    let week = leaked(Week::of(setting).unwrap());
    Bench {
        setting,
        week,
        loads: Loads::of(setting),
    }
}

/// Sets the bench up with rules.
pub(super) fn bench(rules: &[&str]) -> Bench {
    bench_with(rules, None, "")
}

impl Bench {
    /// The verdict on a week: by day, items as `part role exercise SETSxREPS LOW-TOP SECONDS`, with `-` where no load is named.
    pub(super) fn verdict(&self, days: &[&[&str]]) -> Verdict {
        let week: Vec<Vec<Item>> = days
            .iter()
            .enumerate()
            .map(|(day, items)| items.iter().map(|words| self.item(day, words)).collect())
            .collect();
        self.verdict_on(&week)
    }

    pub(super) fn verdict_on(&self, days: &[Vec<Item>]) -> Verdict {
        recheck(self.setting, self.week, &self.loads, days)
    }

    fn item(&self, day: usize, words: &str) -> Item {
        let words: Vec<&str> = words.split(' ').collect();
        let [part, role, exercise, work, percent, seconds] = words.as_slice() else {
            panic!("{words:?}")
        };
        let (sets, reps) = work.split_once('x').unwrap();
        let percent = percent
            .split_once('-')
            .filter(|(low, _)| !low.is_empty())
            .map(|(low, top)| (low.parse().unwrap(), top.parse().unwrap()));
        Item {
            day,
            slot: usize::from(*part == "late"),
            part: PartId::new(part).unwrap(),
            role: RoleId::new(role).unwrap(),
            exercise: self.exercise(exercise),
            dosed: Dosed {
                dose: DoseId::new("plain").unwrap(),
                rule: RuleId::new("plain").unwrap(),
                sets: sets.parse().unwrap(),
                reps: reps.parse().unwrap(),
                percent,
                asked: percent,
                caps: Vec::new(),
                trims: Vec::new(),
                steps: Vec::new(),
                rest_seconds: 0,
                seconds: seconds.parse().unwrap(),
            },
        }
    }

    pub(super) fn exercise(&self, id: &str) -> usize {
        let id = ExerciseId::new(id).unwrap();
        self.setting.graph.ids.find(id.as_str()).unwrap()
    }
}

/// Misses as `DAY:UNITS/LACK`, `w` for the week.
pub(super) fn said(misses: &[Miss]) -> String {
    let one = |miss: &Miss| {
        let day = miss
            .day
            .map_or_else(|| "w".to_owned(), |day| day.to_string());
        format!("{day}:{}/{}", miss.units, miss.lack)
    };
    misses.iter().map(one).collect::<Vec<_>>().join(" ")
}
