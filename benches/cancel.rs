//! How long a search still takes once another thread has cancelled it: every case of `tests/cases`, cancelled at many
//! moments spread over the time that it takes by itself.
//!
//! `cargo bench --bench cancel [-- MOMENTS [PART-OF-A-NAME …]]`

use std::error::Error;
use std::fs;
use std::path::Path;
use std::thread;
use std::time::{Duration, Instant};

use drillwright::{Answer, Cancel, KnowledgeBase, Work};

/// Moments of each case.
const MOMENTS: u32 = 8;

/// One search that was cancelled.
struct Ended {
    delay: Duration,
    what: &'static str,
    after: Duration,
    name: String,
}

fn main() -> Result<(), Box<dyn Error>> {
    // Cargo itself passes `--bench`.
    let mut words: Vec<String> = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"))
        .collect();
    let moments = match words.first().and_then(|word| word.parse().ok()) {
        Some(moments) => {
            words.remove(0);
            moments
        }
        None => MOMENTS,
    };
    let rules = KnowledgeBase::builtin()?;
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    let mut files: Vec<_> = fs::read_dir(folder)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<_, _>>()?;
    files.sort();
    let mut ended: Vec<Ended> = Vec::new();
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
        rules.solve(&case)?;
        let whole = start.elapsed();
        for moment in 0..moments {
            let after = whole * (2 * moment + 1) / (2 * moments);
            let cancel = Cancel::new();
            let other = cancel.clone();
            let clock = thread::spawn(move || {
                thread::sleep(after);
                let at = Instant::now();
                other.cancel();
                at
            });
            let answer = rules.solve_until(&case, Work::default(), &cancel)?;
            let end = Instant::now();
            let at = clock.join().map_err(|_| "the clock stopped")?;
            // It was through before.
            if end <= at {
                continue;
            }
            let what = match answer {
                Answer::Week(week) if week.bound.is_some() => "best week so far",
                Answer::Week(_) => "week proven by then",
                Answer::NoWeek(_) => "no week",
                _ => "none found yet",
            };
            ended.push(Ended {
                delay: end - at,
                what,
                after,
                name: name.clone(),
            });
        }
    }
    ended.sort_by_key(|one| one.delay);
    for one in ended.iter().rev().take(12) {
        println!(
            "{:8.2} ms  {} after {:.1} ms: {}",
            ms(one.delay),
            one.name,
            ms(one.after),
            one.what
        );
    }
    for what in [
        "none found yet",
        "best week so far",
        "week proven by then",
        "no week",
    ] {
        let delays: Vec<Duration> = ended
            .iter()
            .filter(|one| one.what == what)
            .map(|one| one.delay)
            .collect();
        let at = |part: usize| delays.get(delays.len().saturating_sub(1) * part / 100);
        if let (Some(median), Some(late), Some(worst)) = (at(50), at(95), at(100)) {
            println!(
                "{what}: {} times, median {:.2} ms, p95 {:.2} ms, worst {:.2} ms",
                delays.len(),
                ms(*median),
                ms(*late),
                ms(*worst)
            );
        }
    }
    Ok(())
}

fn ms(time: Duration) -> f64 {
    time.as_secs_f64() * 1e3
}
