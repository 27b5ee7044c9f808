//! Trial runs.
use super::*;
use crate::graph;
use crate::infer::Setting;
use crate::rules::{case_check::read_case, load, read::Limits};
use std::sync::Arc;
use std::time::Instant;

#[test]
#[ignore = "a trial for the eye"]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, clippy::panic)]
fn trial() {
    let dir = std::env::var("TRIAL_RULES")
        .unwrap_or(concat!(env!("CARGO_MANIFEST_DIR"), "/rules").into());
    let mut files = vec![];
    let mut names: Vec<_> = std::fs::read_dir(dir)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "yaml"))
        .collect();
    names.sort();
    for p in names {
        files.push((
            Arc::<str>::from(p.file_name().unwrap().to_str().unwrap()),
            Arc::<str>::from(std::fs::read_to_string(&p).unwrap()),
        ));
    }
    let t = Instant::now();
    let pack = match load::load(&files, &Limits::default()) {
        Ok(p) => p,
        Err(e) => {
            for d in &e {
                println!("{d}");
            }
            panic!("{} problems", e.len());
        }
    };
    println!("load {:?}", t.elapsed());
    let graph = match graph::build(&pack) {
        Ok(g) => g,
        Err(e) => {
            for d in &e {
                println!("{d}");
            }
            panic!("{} problems", e.len());
        }
    };
    println!("exercises {}", graph.exercises.len());
    let dir = std::env::var("TRIAL_CASES")
        .unwrap_or(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cases").into());
    let only = std::env::var("TRIAL_CASE").unwrap_or_default();
    let work: u64 = std::env::var("TRIAL_WORK")
        .ok()
        .and_then(|w| w.parse().ok())
        .unwrap_or(search::USUAL_WORK);
    let mut names: Vec<_> = std::fs::read_dir(dir)
        .unwrap()
        .map(|e| e.unwrap().path())
        .collect();
    names.sort();
    let mut times = vec![];
    for p in names {
        let name = p.file_stem().unwrap().to_str().unwrap().to_owned();
        if !name.contains(&only) {
            continue;
        }
        let text = std::fs::read_to_string(&p).unwrap();
        let case = match read_case(&Arc::from(name.as_str()), &text, &pack, &Limits::default()) {
            Ok(c) => c,
            Err(e) => {
                for d in &e {
                    println!("{d}");
                }
                continue;
            }
        };
        let t = Instant::now();
        let setting = Setting::new(&pack, &graph, &case);
        let week = match Week::of(&setting) {
            Ok(w) => w,
            Err(e) => {
                println!("{name}: {e:?}");
                continue;
            }
        };
        let loads = Loads::of(&setting);
        let pool = match Pool::of(&setting, &week, &loads) {
            Ok(p) => p,
            Err(e) => {
                println!("{name}: {e:?} {:?}", graph.exercises[e.exercise].id);
                continue;
            }
        };
        if std::env::var("DBG2").is_ok() {
            for (d, items) in pool.days.iter().enumerate() {
                for (at, i) in items.iter().enumerate() {
                    println!(
                        "  item {d} {at} {} {} {}",
                        i.part, i.role, graph.exercises[i.exercise].id
                    );
                }
            }
        }
        let tp = t.elapsed();
        let t = Instant::now();
        let out = search::search(&setting, &week, &pool, work);
        let ts = t.elapsed();
        times.push(ts + tp);
        match out {
            Ok(search::Outcome::Found(s)) => {
                println!(
                    "{name}: pool {:?} {tp:?} search {ts:?} nodes {} missed {:?} worth {} bound {:?}",
                    pool.days.iter().map(Vec::len).collect::<Vec<_>>(),
                    s.nodes,
                    s.missed,
                    s.worth,
                    s.bound
                );
                if !only.is_empty() {
                    for (d, items) in s.days.iter().enumerate() {
                        println!(
                            "  day {} {}",
                            week.days[d].layout.day.value, week.days[d].layout.effort.value
                        );
                        for i in items {
                            println!(
                                "    {:10} {:10} {:34} {}x{} {:?} {}s",
                                i.part.as_str(),
                                i.role.as_str(),
                                graph.exercises[i.exercise].id.as_str(),
                                i.dosed.sets,
                                i.dosed.reps,
                                i.dosed.percent,
                                i.dosed.seconds
                            );
                        }
                    }
                }
            }
            o => println!(
                "{name}: pool {:?} {tp:?} search {ts:?} {o:?}",
                pool.days.iter().map(Vec::len).collect::<Vec<_>>()
            ),
        }
    }
    times.sort();
    if !times.is_empty() {
        println!(
            "median {:?} worst {:?}",
            times[times.len() / 2],
            times[times.len() - 1]
        );
    }
}
