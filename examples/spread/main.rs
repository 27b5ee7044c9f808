//! How much and how heavy: figures of the weeks of a folder of cases, by phase, beside the ranges
//! in which they should lie.
//!
//! `cargo run --release --example spread [FOLDER]`; `tests/cases` where no folder is named. Weeks
//! of lifters with a sore place, or without the full lifts, are left out: they are what is left.

use std::collections::BTreeMap;
use std::error::Error;
use std::path::PathBuf;

use drillwright::{Answer, KnowledgeBase};

mod measure;

use measure::{Figure, entries, figures};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args_os().nth(1);
    let folder = folder.map_or_else(|| PathBuf::from("tests/cases"), PathBuf::from);
    let base = KnowledgeBase::builtin()?;
    let entries = entries(&base);
    let mut paths: Vec<PathBuf> = std::fs::read_dir(&folder)?
        .map(|entry| Ok(entry?.path()))
        .collect::<Result<_, std::io::Error>>()?;
    paths.retain(|path| path.extension().is_some_and(|end| end == "yaml"));
    paths.sort();
    let mut all: BTreeMap<(Figure, String), Vec<(i64, String)>> = BTreeMap::new();
    let mut left_out = 0;
    for path in paths {
        let name = path
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let text = std::fs::read_to_string(&path)?;
        let case = base.case_from_text(&name, &text)?;
        let Answer::Week(plan) = base.solve(&case)? else {
            left_out += 1;
            continue;
        };
        if measure::is_partial(&plan) {
            left_out += 1;
            continue;
        }
        for (figure, value) in figures(&entries, &plan, measure::minutes(&plan)) {
            let of = all.entry((figure, plan.phase.to_string())).or_default();
            of.push((value, name.clone()));
        }
    }
    for ((figure, phase), mut values) in all {
        values.sort();
        let ((least, most), source) = figure.range(&phase);
        let at = |place: usize| values.get(place).map_or(0, |(value, _)| *value);
        let (last, middle) = (values.len().saturating_sub(1), values.len() / 2);
        println!(
            "{}, {phase}: {} weeks, {} / {} / {} (range {least} to {most}: {source})",
            figure.name(),
            values.len(),
            at(0),
            at(middle),
            at(last)
        );
        for (value, name) in &values {
            if !(least..=most).contains(value) {
                println!("  outside: {name}: {value}");
            }
        }
    }
    println!(
        "{left_out} cases without a week, with a sore place or without the full lifts were left out"
    );
    Ok(())
}
