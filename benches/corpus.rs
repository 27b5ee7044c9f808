//! Every case of `tests/cases`, solved once on one thread: how long, how many nodes, and how good.
//!
//! `cargo bench --bench corpus [-- NODES [PART-OF-A-NAME …]]`

use std::error::Error;
use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use drillwright::{Answer, KnowledgeBase, Work};

fn main() -> Result<(), Box<dyn Error>> {
    // Cargo itself passes `--bench`.
    let mut words: Vec<String> = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"))
        .collect();
    let nodes = match words.first().and_then(|word| word.parse::<u64>().ok()) {
        Some(nodes) => {
            words.remove(0);
            Some(nodes)
        }
        None => None,
    };
    let start = Instant::now();
    let rules = KnowledgeBase::builtin()?;
    println!("built-in rules read in {:.1} ms", ms(start.elapsed()));
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    let mut files: Vec<_> = fs::read_dir(folder)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<_, _>>()?;
    files.sort();
    let (mut times, mut open) = (Vec::new(), 0);
    for file in files {
        let name = file
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        if !words.is_empty() && !words.iter().any(|word| name.contains(word.as_str())) {
            continue;
        }
        let case = rules.case_from_text(&name, &fs::read_to_string(&file)?)?;
        let start = Instant::now();
        let answer = match nodes {
            Some(nodes) => rules.solve_within(&case, Work::nodes(nodes))?,
            None => rules.solve(&case)?,
        };
        let took = start.elapsed();
        times.push(took);
        let what = match answer {
            Answer::Week(week) => {
                open += usize::from(week.bound.is_some());
                let missed = week.missed;
                let gap = week.bound.map_or(String::new(), |bound| {
                    format!(", at most {} with {:?}", bound.worth, bound.missed)
                });
                format!(
                    "{:?}, worth {}, missed {}/{}/{}, {} nodes{gap}",
                    week.proof, week.worth, missed.last, missed.middle, missed.first, week.nodes
                )
            }
            Answer::NoWeek(_) => "no week".to_owned(),
            _ => {
                open += 1;
                "none found".to_owned()
            }
        };
        println!("{:9.1} ms  {name}: {what}", ms(took));
    }
    times.sort();
    if let (Some(median), Some(worst)) = (times.get(times.len() / 2), times.last()) {
        println!(
            "{} cases: median {:.1} ms, worst {:.1} ms, {open} without a proof",
            times.len(),
            ms(*median),
            ms(*worst)
        );
    }
    Ok(())
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}
