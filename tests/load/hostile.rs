//! Large and tangled input is refused or read in a moment.

use std::fmt::Write as _;
use std::time::{Duration, Instant};

use super::api::{Bounds, read_pack};

/// Far more than any of these takes, and far less than a squared number of steps would.
const MOMENT: Duration = Duration::from_secs(20);

fn quick(name: &str, text: &str) -> usize {
    let start = Instant::now();
    let problems = read_pack(&[(name, text)], &Bounds::default())
        .err()
        .map_or(0, |found| found.len());
    assert!(
        start.elapsed() < MOMENT,
        "{name} took {:?}",
        start.elapsed()
    );
    problems
}

#[test]
fn a_long_chain_of_parents() {
    let mut text = String::from("format: 1\nexercises:\n  variations:\n");
    for n in 0..12_000 {
        let _ = writeln!(
            text,
            "    v{n}: {{names: {{}}, from: v{}, use: x}}",
            (n + 1) % 12_000
        );
    }
    assert_eq!(quick("circle.yaml", &text), 1);
    let text = text.replace("v0, use", "root, use");
    let text = format!(
        "{text}  roots:\n    root: {{names: {{}}, skills: [s], form: training, roles: [], use: x, source: {{o: x}}}}\n"
    );
    // The dangling skill and source, and the chain that is too long.
    assert_eq!(quick("chain.yaml", &text), 3);
}

#[test]
fn a_long_chain_of_groups() {
    let mut text = String::from("format: 1\ngroups:\n");
    for n in 0..8_000 {
        let _ = writeln!(
            text,
            "  g{n}: {{names: {{}}, says: x, what: {{groups: [g{}]}}}}",
            n + 1
        );
    }
    text.push_str("  g8000: {names: {}, says: x, what: {alone: true}}\n");
    assert_eq!(quick("groups.yaml", &text), 8_000 - 12);
}

#[test]
fn many_rules_of_order_that_say_the_same() {
    let mut text = String::from("format: 1\nrules:\n  before:\n");
    for n in 0..6_000 {
        let (first, then) = if n % 2 == 0 {
            ("true", "false")
        } else {
            ("false", "true")
        };
        let _ = writeln!(
            text,
            "    b{n}: {{first: {{new: {first}}}, then: {{new: {then}}}, yields: never, because: x, source: {{o: x}}}}"
        );
    }
    // All name a source where none is, and together they are one circle.
    assert_eq!(quick("before.yaml", &text), 2);
}

#[test]
fn many_rules_of_order_over_many_exercises() {
    let mut text = String::from("format: 1\nrules:\n  before:\n");
    for n in 0..3_000 {
        let _ = writeln!(
            text,
            "    b{n}: {{first: {{under: [v{n}]}}, then: {{not: [{{under: [v{n}]}}]}}, yields: never, because: x, source: {{o: x}}}}"
        );
    }
    let mut exercises = String::from(
        "format: 1\nexercises:\n  roots:\n    v0: {names: {}, skills: [s], form: training, roles: [], use: x, source: {o: x}}\n  variations:\n",
    );
    for n in 1..3_000 {
        let _ = writeln!(exercises, "    v{n}: {{names: {{}}, from: v0, use: x}}");
    }
    let start = Instant::now();
    let found = read_pack(
        &[("before.yaml", &text), ("exercises.yaml", &exercises)],
        &Bounds::default(),
    )
    .err()
    .unwrap_or_default();
    assert!(start.elapsed() < MOMENT, "{:?}", start.elapsed());
    // The skill, the source, and the circle: each wants its own before all others.
    assert_eq!(found.len(), 3, "{:?}", found.first());
}

#[test]
fn many_names_that_are_nearly_there() {
    let mut text = String::from("format: 1\nmarks:\n");
    for n in 0..10_000 {
        let _ = writeln!(
            text,
            "  mark-number-{n}: {{names: {{en: [m {n}]}}, means: x}}"
        );
    }
    let mut days = String::from(
        "format: 1\nlayouts:\n  l: {names: {}, when: {}, days: [{day: 1, effort: e, parts: [], marks: [",
    );
    for n in 0..10_000 {
        let _ = write!(days, "mark-nmber-{n}, ");
    }
    days.push_str("x]}], because: x, source: {o: x}}\n");
    let start = Instant::now();
    let found = read_pack(
        &[("marks.yaml", &text), ("layouts.yaml", &days)],
        &Bounds::default(),
    )
    .err()
    .unwrap_or_default();
    assert!(start.elapsed() < MOMENT, "{:?}", start.elapsed());
    assert_eq!(found.len(), 10_001 + 3);
}

#[test]
fn one_exercise_with_very_many_constraints() {
    let mut text =
        String::from("format: 1\naxes:\n  a:\n    names: {}\n    holds: many\n    constraints:\n");
    for n in 0..4_000 {
        let _ = writeln!(
            text,
            "      c{n}: {{names: {{}}, because: x, source: {{}}}}"
        );
    }
    let mut root = String::from(
        "format: 1\nexercises:\n  roots:\n    r: {names: {}, skills: [], form: training, roles: [], use: x, source: {}, with: [c0",
    );
    for n in 1..4_000 {
        let _ = write!(root, ", c{n}");
    }
    root.push_str("]}\n  variations:\n");
    for n in 0..4_000 {
        let _ = writeln!(
            root,
            "    v{n}: {{names: {{}}, from: r, drops: [c{n}], use: x}}"
        );
    }
    let start = Instant::now();
    let found = read_pack(
        &[("axes.yaml", &text), ("exercises.yaml", &root)],
        &Bounds::default(),
    )
    .err()
    .unwrap_or_default();
    assert!(start.elapsed() < MOMENT, "{:?}", start.elapsed());
    // A source for each constraint and the root, the root's skills, and its constraints.
    assert_eq!(found.len(), 4_001 + 1 + 1);
}
