//! A small pack that the tables of rule kinds share, and how a row of them is read.

use super::super::crate_says::rechecked;
use super::super::make::dress;
use super::super::{Oracle, Placed, Verdict};

/// Three skills, two of them with a form that is judged; three days, the second with two parts.
pub const PACK: &str = "
skills:
  swale: {stages: [dawn, noon, dusk], reference: high-swale}
  tarn: {stages: [rise, noon], reference: high-tarn}
  moor: {}
references:
  high-swale: {}
  high-tarn: {instead: [{from: high-swale, percent: 120}]}
axes:
  pace:
    holds: one
    unset: own-pace
    constraints:
      own-pace: {}
      halting: {effect: {drift: 2, lag: -1}, departs: 2, load-percent: 90, trains: {grace: 1}}
  props:
    holds: many
    constraints:
      tether: {effect: {drift: 3}, cuts: [dusk], departs: 3, strong: true, load-percent: 80, stress: {limb: -1}}
      feather: {effect: {drift: 1, lag: 1}, departs: 1, trains: {force: -1}}
exercises:
  roots:
    swaling: {skills: [swale], form: competition, trains: {grace: 3, force: 2}, stress: {limb: 3}, roles: [prime, plain]}
    tarning: {skills: [tarn], form: competition, trains: {force: 3}, stress: {limb: 2, rim: 1}, roles: [prime, plain]}
    mooring: {skills: [moor], form: training, trains: {force: 1}, stress: {rim: 2}, roles: [plain, side]}
  variations:
    halt-swaling: {from: swaling, with: [halting], roles: [mend, prime, plain]}
    tied-swaling: {from: swaling, with: [tether], roles: [mend, prime, plain]}
    tied-halt-swaling: {from: halt-swaling, with: [tether], roles: [mend, prime, plain]}
    light-tarning: {from: tarning, with: [feather], roles: [mend, prime, plain]}
  complexes:
    tied-then-free:
      components: [{do: tied-swaling, reps: 1}, {do: swaling, reps: 2}]
      percent-less: 5
      roles: [mend, plain]
faults:
  astray:
    skills: [swale]
    grades: {faint: {severity: 1}, plain-to-see: {severity: 2}}
    causes: {drift: {percent: 60}, lag: {percent: 40, ruled-out-by: [prompt]}}
    onset: {prompt: 90}
  sinking:
    skills: [tarn]
    grades: {faint: {severity: 1}}
    causes: {weak: {percent: 100}}
observations:
  prompt: {}
causes:
  movement:
    drift: {stages: [noon], develops: grace}
    lag: {stages: [dawn, dusk], develops: grace}
  capacity:
    weak: {served-by: [force]}
qualities: {grace: {}, force: {}}
stresses: {limb: {}, rim: {}}
roles:
  prime: {help: half, trains-percent: 100, stress-percent: 100, gate: {full-form: true}}
  mend: {help: whole, trains-percent: 100, stress-percent: 50}
  plain: {help: half, trains-percent: 100, stress-percent: 100}
  side: {help: half, trains-percent: 50, stress-percent: 50}
parts:
  main: {roles: [prime, mend, plain]}
  end: {roles: [plain, side]}
efforts:
  stout: {sets-at-percent: 70, reps-at-percent: 0, load-from-percent: 60, load-to-percent: 100}
  mild: {sets-at-percent: 0, reps-at-percent: 100, load-from-percent: 0, load-to-percent: 40}
marks: {feast: {}, fast: {}}
phases: {spring: {}, autumn: {}}
layouts:
  three:
    when: {phase: [spring, autumn]}
    days:
      - {day: 1, effort: stout, marks: [feast], parts: [{part: main, at-most: 3}]}
      - {day: 3, effort: mild, parts: [{part: main, at-most: 3}, {part: end, at-most: 3}]}
      - {day: 4, effort: stout, marks: [fast], parts: [{part: main, at-most: 3}]}
doses:
  usual: {sets: {from: 3, to: 5}, reps: {from: 2, to: 4}, percent-of-reference: {from: 60, to: 80}, rest-seconds: {from: 100, to: 200}, set-seconds: 20}
  bare: {sets: {from: 2, to: 2}, reps: {from: 8, to: 8}, rest-seconds: {from: 60, to: 60}, set-seconds: 40}
measures:
  stone: {unit: st, in-pairs: true, pieces: [{weight: 10, full-diameter: true}, {weight: 2.5}]}
bars:
  rod: {measure: stone, weight: 20, collar: 2.5}
  twig: {measure: stone, weight: 8, collar: 0}
zone-tables:
  bands:
    zones:
      low: {percent: {at-most: 69}, reps-per-set: {from: 3, to: 6}, total: {from: 6, to: 10}}
      high: {percent: {at-least: 70}, reps-per-set: {from: 1, to: 1}, total: {from: 4, to: 9}}
tables:
  steps: {below-zero: 7, steps: [{to: 2, each: 5}, {to: 6, each: 3}]}
factors:
  by-phase: {season: {percents: {autumn: 50}}}
  by-choice: {rank: {field: standing, percents: {green: 150}}}
  by-number: {span: {field: hours, steps: [{from: 2, percent: 40}, {from: 4, percent: 80}]}}
case-fields:
  one-of:
    standing: {values: [green, ripe], by-skill: true}
  whole:
    hours: {from: 1, to: 9}
    spell: {from: 1, to: 90, if-missing: 20, by-day: true}
    evenings: {from: 1, to: 5, if-missing: 3, counts-training-days: true}
  some-of:
    ails: {values: [sore, stiff], if-missing: []}
groups:
  bound: {what: {with-any: [tether]}}
";

const DOSES: &str = "
  dose:
    give-usual: {what: {everything: true}, give: usual}
    give-bare: {what: {skills: [moor]}, give: bare, instead-of: [give-usual]}
";

/// Dose rules that every row has, unless it brings its own, and the row's rules.
pub fn pack(rules: &str) -> Vec<(String, String)> {
    pack_in(&[], rules)
}

/// The same with words of the small pack changed, each of which stands there once.
pub fn pack_in(changes: &[(&str, &str)], rules: &str) -> Vec<(String, String)> {
    let mut text = PACK.to_owned();
    for (from, to) in changes {
        assert_eq!(text.matches(from).count(), 1, "{from}");
        text = text.replace(from, to);
    }
    let doses = if rules.contains("\n  dose:") {
        ""
    } else {
        DOSES
    };
    dress::files(&format!("{text}rules:{doses}{rules}"))
}

/// A case from its lines; spring where it says no phase.
pub fn case(lines: &str) -> String {
    let phase = if lines.contains("phase:") {
        ""
    } else {
        "  phase: spring\n"
    };
    let lines: Vec<String> = lines
        .split(';')
        .map(|line| format!("  {}\n", line.trim()))
        .collect();
    format!("format: 1\ncase:\n{phase}{}", lines.concat())
}

/// A week: days by `|`, items by `,`, each `exercise role part`; the part is `main` where not said.
pub fn week(text: &str) -> Vec<Vec<Placed>> {
    let item = |text: &str| {
        let words: Vec<&str> = text.split_whitespace().collect();
        let part = words.get(2).copied().unwrap_or("main");
        (part.to_owned(), words[1].to_owned(), words[0].to_owned())
    };
    let day = |text: &str| {
        text.split(',')
            .filter(|text| !text.trim().is_empty())
            .map(item)
            .collect()
    };
    let week: Vec<Vec<Placed>> = text.split('|').map(day).collect();
    assert_eq!(week.len(), 3, "three days");
    week
}

/// The verdict on a week, which the crate's re-check shares.
pub fn judge(rules: &str, case_lines: &str, week_text: &str) -> Verdict {
    judge_in(&[], rules, case_lines, week_text)
}

/// The same in the small pack with words of it changed.
pub fn judge_in(
    changes: &[(&str, &str)],
    rules: &str,
    case_lines: &str,
    week_text: &str,
) -> Verdict {
    let (files, case, week) = (pack_in(changes, rules), case(case_lines), week(week_text));
    let oracle = Oracle::new(&files, &case);
    let verdict = oracle.evaluate(&week);
    // Where causes are worked on and no rule says what that is worth, the crate refuses the case.
    if oracle.facts.focus.is_empty() || !oracle.pack.rules.help_worth.is_empty() {
        rechecked(&files, &case, &week).is(&verdict);
    }
    verdict
}

/// Units that the rule `it` misses.
pub fn missed(rules: &str, case_lines: &str, week_text: &str) -> i64 {
    let verdict = judge(rules, case_lines, week_text);
    assert!(verdict.hard_broken.is_empty(), "{:?}", verdict.hard_broken);
    let units = verdict.missed_by_rule.get("it").copied().unwrap_or(0);
    assert_eq!(
        verdict.missed[0], units,
        "`it` yields last, and nothing else is missed: {verdict:?}"
    );
    units
}

/// What a week is worth.
pub fn worth(rules: &str, case_lines: &str, week_text: &str) -> i64 {
    judge(rules, case_lines, week_text).worth
}
