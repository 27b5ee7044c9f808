//! How long a search still takes once another thread has cancelled it: every case of `tests/cases`, cancelled at many
//! moments spread over the time that it takes by itself.
//!
//! `cargo bench --bench cancel [-- MOMENTS [PART-OF-A-NAME …]]`

use std::error::Error;
use std::thread;
use std::time::{Duration, Instant};

use drillwright::{Answer, Cancel, KnowledgeBase, Work};

#[path = "corpus/common.rs"]
mod common;

use common::{is_asked, ms, texts, words};

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
    let (moments, words) = words();
    let moments = moments.map_or(Ok(MOMENTS), u32::try_from)?;
    let rules = KnowledgeBase::builtin()?;
    let mut ended: Vec<Ended> = Vec::new();
    let asked = texts("tests/cases")?.into_iter();
    for (name, text) in asked.filter(|(name, _)| is_asked(&words, name)) {
        let case = rules.case_from_text(&name, &text)?;
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
