//! Reading the rules, one week, and one week with ten times the exercises.
//!
//! The large pack holds nine copies beside each variation: each derived from the
//! same parent with the same constraints, under names of its own. Copies are as good as what they
//! are copied from, so nothing can be left out early and every tie is met: harder than a pack of
//! so many different exercises.

// A bench that cannot read its own files has nothing to measure.
#![allow(clippy::expect_used, missing_docs)]

use std::fs;
use std::path::Path;

use criterion::{Criterion, criterion_group, criterion_main};
use drillwright::{KnowledgeBase, Work};
use serde_yaml::{Mapping, Value};

const CASE: &str = "tests/cases/hips-first-4-days.yaml";
/// Enough for a week; the limit keeps the large pack's time bounded.
const NODES: u64 = 20_000_000;

fn texts() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules");
    let mut files: Vec<_> = fs::read_dir(folder)
        .expect("rules")
        .map(|entry| entry.expect("entry").path())
        .filter(|path| path.extension().is_some_and(|end| end == "yaml"))
        .collect();
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let name = path
                .file_name()
                .expect("name")
                .to_string_lossy()
                .into_owned();
            let text = fs::read_to_string(&path).expect("text");
            (name, text)
        })
        .collect()
}

/// The rules with nine copies of each variation.
fn tenfold() -> Vec<(String, String)> {
    texts()
        .into_iter()
        .map(|(name, text)| {
            let mut file: Value = serde_yaml::from_str(&text).expect("yaml");
            let held = file
                .get_mut("exercises")
                .and_then(|held| held.get_mut("variations"));
            if let Some(held) = held.and_then(Value::as_mapping_mut) {
                *held = multiplied(held);
            }
            (name, serde_yaml::to_string(&file).expect("yaml"))
        })
        .collect()
}

fn multiplied(held: &Mapping) -> Mapping {
    let mut all = held.clone();
    for (id, entry) in held {
        let Some(id) = id.as_str() else { continue };
        for copy in 2..=10 {
            let mut entry = entry.clone();
            if let Some(names) = entry.get_mut("names").and_then(Value::as_mapping_mut) {
                for (_, list) in names.iter_mut() {
                    for name in list.as_sequence_mut().into_iter().flatten() {
                        *name = format!("{} {copy}", name.as_str().unwrap_or_default()).into();
                    }
                }
            }
            all.insert(format!("{id}-{copy}").into(), entry);
        }
    }
    all
}

fn speed(bench: &mut Criterion) {
    bench.bench_function("read the built-in rules", |run| {
        run.iter(|| KnowledgeBase::builtin().expect("rules"));
    });
    let path = Path::new(env!("CARGO_MANIFEST_DIR"));
    bench.bench_function("read the rules from a folder", |run| {
        run.iter(|| KnowledgeBase::from_folder(path.join("rules")).expect("rules"));
    });
    let text = fs::read_to_string(path.join(CASE)).expect("case");
    let rules = KnowledgeBase::builtin().expect("rules");
    let case = rules.case_from_text(CASE, &text).expect("case");
    bench.bench_function("one week", |run| {
        run.iter(|| {
            rules
                .solve_within(&case, Work::nodes(NODES))
                .expect("answer")
        });
    });
    let large = KnowledgeBase::from_texts(tenfold()).expect("large rules");
    let case = large.case_from_text(CASE, &text).expect("case");
    let mut slow = bench.benchmark_group("ten times the exercises");
    slow.sample_size(10);
    slow.bench_function("one week", |run| {
        run.iter(|| {
            large
                .solve_within(&case, Work::nodes(NODES))
                .expect("answer")
        });
    });
    slow.finish();
}

criterion_group!(benches, speed);
criterion_main!(benches);
