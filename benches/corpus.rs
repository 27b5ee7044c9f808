//! Every case of `tests/cases`, solved once on one thread: how long, how many nodes and allocations, and how good; then those of
//! 120 minutes by themselves, the peak of memory, and a sample with about 1,500 exercises (`corpus/large.rs`).
//!
//! `cargo bench --bench corpus [-- NODES [PART-OF-A-NAME …]]`

use std::alloc::System;
use std::error::Error;
use std::fs;
use std::time::{Duration, Instant};

use drillwright::{Answer, KnowledgeBase, Work};
use stats_alloc::{INSTRUMENTED_SYSTEM, Region, StatsAlloc};

#[path = "corpus/common.rs"]
mod common;
#[path = "corpus/large.rs"]
mod large;

use common::{is_asked, ms, texts, words};

#[global_allocator]
static COUNTED: &StatsAlloc<System> = &INSTRUMENTED_SYSTEM;

/// How many cases are solved with the large pack.
const SAMPLE: usize = 12;

/// What one case took.
struct Taken {
    name: String,
    text: String,
    time: Duration,
    allocations: usize,
    bytes: usize,
    proven: bool,
}

fn main() -> Result<(), Box<dyn Error>> {
    let (nodes, words) = words();
    let work = nodes.map_or_else(Work::default, Work::nodes);
    let start = Instant::now();
    let rules = KnowledgeBase::builtin()?;
    println!("built-in rules read in {:.1} ms", ms(start.elapsed()));
    let mut taken = Vec::new();
    for (name, text) in texts("tests/cases")? {
        if is_asked(&words, &name) {
            taken.push(solve(&rules, name, text, work)?);
        }
    }
    group("all", &taken);
    let long = |text: &str| text.lines().any(|line| line.trim() == "minutes: 120");
    let (long, rest): (Vec<Taken>, Vec<Taken>) = taken.into_iter().partition(|one| long(&one.text));
    group("120 minutes", &long);
    if let Some(peak) = peak() {
        println!("peak of memory so far: {peak}");
    }
    let mut all: Vec<Taken> = long.into_iter().chain(rest).collect();
    all.sort_by(|one, other| one.name.cmp(&other.name));
    let step = (all.len() / SAMPLE).max(1);
    let sample: Vec<Taken> = all.into_iter().step_by(step).take(SAMPLE).collect();
    let start = Instant::now();
    let listed = rules.exercises().len();
    let large = large::rules(&texts("rules")?, listed)?;
    println!(
        "{} exercises instead of {listed}, made and read in {:.0} ms",
        large.exercises().len(),
        ms(start.elapsed())
    );
    let mut grown = Vec::new();
    for one in &sample {
        grown.push(solve(&large, one.name.clone(), one.text.clone(), work)?);
    }
    group("sample, as listed", &sample);
    group("sample, large", &grown);
    let sum = |all: &[Taken]| all.iter().map(|one| ms(one.time)).sum::<f64>();
    let mut ratios: Vec<f64> = (grown.iter().zip(&sample))
        .map(|(one, other)| ms(one.time) / ms(other.time))
        .collect();
    ratios.sort_by(f64::total_cmp);
    println!(
        "large to listed: {:.1} times by the sums, median {:.1} times by the case",
        sum(&grown) / sum(&sample),
        ratios.get(ratios.len() / 2).copied().unwrap_or(0.0)
    );
    if let Some(peak) = peak() {
        println!("peak of memory at the end: {peak}");
    }
    Ok(())
}

fn solve(
    rules: &KnowledgeBase,
    name: String,
    text: String,
    work: Work,
) -> Result<Taken, Box<dyn Error>> {
    let case = rules.case_from_text(&name, &text)?;
    let region = Region::new(COUNTED);
    let start = Instant::now();
    let answer = rules.solve_within(&case, work)?;
    let time = start.elapsed();
    let change = region.change();
    let (what, proven) = match answer {
        Answer::Week(week) => {
            let missed = week.missed;
            let gap = week.bound.as_ref().map_or(String::new(), |bound| {
                format!(", at most {} with {:?}", bound.worth, bound.missed)
            });
            let what = format!(
                "{:?}, worth {}, missed {}/{}/{}, {} nodes{gap}",
                week.proof, week.worth, missed.last, missed.middle, missed.first, week.nodes
            );
            (what, week.bound.is_none())
        }
        Answer::NoWeek(_) => ("no week".to_owned(), true),
        _ => ("none found".to_owned(), false),
    };
    println!("{:9.1} ms  {name}: {what}", ms(time));
    Ok(Taken {
        name,
        text,
        time,
        allocations: change.allocations + change.reallocations,
        bytes: change.bytes_allocated,
        proven,
    })
}

fn group(name: &str, taken: &[Taken]) {
    let mut times: Vec<Duration> = taken.iter().map(|one| one.time).collect();
    times.sort();
    let mut allocations: Vec<usize> = taken.iter().map(|one| one.allocations).collect();
    allocations.sort_unstable();
    let mut bytes: Vec<usize> = taken.iter().map(|one| one.bytes).collect();
    bytes.sort_unstable();
    let Some(last) = taken.len().checked_sub(1) else {
        return;
    };
    let time = |part: usize| times.get(last * part / 100).map_or(0.0, |time| ms(*time));
    let of = |all: &[usize], part: usize| all.get(last * part / 100).copied().unwrap_or(0) as f64;
    println!(
        "{name}, {} cases: median {:.1} ms, p95 {:.1} ms, worst {:.1} ms, sum {:.1} s; {} without a proof; \
         allocations: median {:.2} million of {:.0} MB in all, worst {:.1} million, {:.0} MB",
        taken.len(),
        time(50),
        time(95),
        time(100),
        times.iter().map(|time| time.as_secs_f64()).sum::<f64>(),
        taken.iter().filter(|one| !one.proven).count(),
        of(&allocations, 50) / 1e6,
        of(&bytes, 50) / 1e6,
        of(&allocations, 100) / 1e6,
        of(&bytes, 100) / 1e6,
    );
}

/// The most memory that the process has held, where the system says it.
fn peak() -> Option<String> {
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.trim_start_matches("VmHWM:").trim().to_owned())
}
