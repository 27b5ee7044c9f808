//! Everything that the built-in method lists is met by some case.

use std::collections::{BTreeMap, BTreeSet};

use crate::corpus::{self, ALL, BASE, Solved, items, texts, weeks};
use crate::laws::pack::Pack;

/// Exercises in a week, alone or as a component of a complex.
fn met() -> BTreeSet<String> {
    let mut met: BTreeSet<String> = items()
        .map(|(_, _, item)| item.exercise.to_string())
        .collect();
    let pack = Pack::new(&texts("rules"), "{}");
    for (id, entry) in pack.entries("exercises") {
        let parts = entry
            .get("components")
            .and_then(serde_yaml::Value::as_sequence);
        if let Some(parts) = parts.filter(|_| met.contains(&id)) {
            met.extend(
                parts
                    .iter()
                    .map(|part| part["do"].as_str().unwrap().to_owned()),
            );
        }
    }
    met
}

#[test]
fn every_listed_exercise_is_in_some_week() {
    let met = met();
    let missing: Vec<String> = BASE
        .exercises()
        .into_iter()
        .map(|entry| entry.id.to_string())
        .filter(|id| !met.contains(id))
        .collect();
    assert!(missing.is_empty(), "in no week: {missing:#?}");
}

#[test]
fn every_fault_is_in_some_case() {
    let seen: BTreeSet<&str> = ALL
        .iter()
        .flat_map(|solved| solved.said["faults"].as_sequence().unwrap())
        .map(|seen| seen["fault"].as_str().unwrap())
        .collect();
    let missing: Vec<String> = BASE
        .faults()
        .into_iter()
        .map(|fault| fault.id.to_string())
        .filter(|id| !seen.contains(id.as_str()))
        .collect();
    assert!(missing.is_empty(), "in no case: {missing:#?}");
}

/// Every fault at every grade is in a case that was written by hand: one that is not marked as varied from another.
#[test]
fn every_fault_at_every_grade_is_in_a_case_written_by_hand() {
    let pack = Pack::new(&texts("rules"), "{}");
    let mut shown: BTreeMap<(String, String), Vec<&str>> = BTreeMap::new();
    for (fault, entry) in pack.entries("faults") {
        for grade in entry["grades"].as_mapping().unwrap().keys() {
            let grade = grade.as_str().unwrap().to_owned();
            shown.insert((fault.clone(), grade), Vec::new());
        }
    }
    let by_hand = ALL.iter().filter(|solved| solved.by_hand());
    for solved in by_hand {
        for seen in solved.said["faults"].as_sequence().unwrap() {
            let word = |key: &str| seen[key].as_str().unwrap().to_owned();
            let cases = shown.get_mut(&(word("fault"), word("grade"))).unwrap();
            cases.push(&solved.name);
        }
    }
    for ((fault, grade), cases) in &shown {
        println!("{fault} | {grade} | {}", cases.join(", "));
    }
    let missing: Vec<_> = shown
        .iter()
        .filter(|(_, cases)| cases.is_empty())
        .map(|(key, _)| key)
        .collect();
    assert!(missing.is_empty(), "in no case by hand: {missing:#?}");
}

/// A varied case names the case that it was varied from, which was written by hand.
#[test]
fn every_varied_case_names_one_written_by_hand() {
    for solved in ALL.iter() {
        let Some((_, rest)) = solved.text.split_once("# Varied from ") else {
            continue;
        };
        let from = rest.split_once(':').map_or("", |(name, _)| name);
        let parent = ALL.iter().find(|one| one.name == format!("{from}.yaml"));
        assert!(
            parent.is_some_and(Solved::by_hand),
            "{}: varied from {from:?}",
            solved.name
        );
    }
}

#[test]
fn every_phase_level_and_layout_is_in_some_case() {
    let pack = Pack::new(&texts("rules"), "{}");
    let ids = |kind: &str| -> BTreeSet<String> {
        pack.entries(kind).into_iter().map(|(id, _)| id).collect()
    };
    let phases: BTreeSet<String> = ALL.iter().map(|solved| solved.phase().to_owned()).collect();
    assert_eq!(phases, ids("phases"));
    let layouts: BTreeSet<String> = weeks().map(|(_, plan)| plan.layout.to_string()).collect();
    let missing: Vec<String> = ids("layouts").difference(&layouts).cloned().collect();
    assert!(missing.is_empty(), "layouts of no week: {missing:#?}");
    let levels = pack.kinds["case-fields"]["one-of"]["level"]["values"]
        .as_mapping()
        .unwrap();
    for (level, _) in levels {
        let level = level.as_str().unwrap();
        assert!(
            ALL.iter().any(|solved| solved.word("level") == level),
            "{level}"
        );
    }
}

/// Every case has an answer that says what it is: a week, or what clashes.
#[test]
fn every_case_is_answered() {
    let silent: Vec<&str> = ALL
        .iter()
        .filter(|solved| matches!(solved.answer, drillwright::Answer::NotFound(_)))
        .map(|solved| solved.name.as_str())
        .collect();
    assert!(
        silent.is_empty(),
        "within {:?} nodes no week was found: {silent:?}",
        corpus::NODES
    );
}

/// A case says in one line whose story it is, and that the lifter is invented.
#[test]
fn every_case_has_its_story() {
    for solved in ALL.iter() {
        let story = solved
            .text
            .lines()
            .find(|line| line.starts_with('#'))
            .unwrap_or("");
        assert!(
            story.contains("An invented lifter. ") && story.len() > 25,
            "{}: {story}",
            solved.name
        );
        assert!(
            solved.said["lifter"]
                .as_str()
                .is_some_and(|lifter| lifter.contains("(invented)"))
        );
    }
}

/// Numbers of an entry, and the sources that it names for anything in it.
pub fn numbers_and_sources(value: &serde_yaml::Value, sources: &mut BTreeSet<String>) -> usize {
    use serde_yaml::Value::{Mapping, Number, Sequence};
    match value {
        Number(_) => 1,
        Sequence(items) => items
            .iter()
            .map(|item| numbers_and_sources(item, sources))
            .sum(),
        Mapping(entries) => entries
            .iter()
            .map(|(key, value)| {
                if key.as_str() == Some("source") {
                    let named = value.as_mapping().unwrap().keys();
                    sources.extend(named.map(|id| id.as_str().unwrap().to_owned()));
                    return 0;
                }
                numbers_and_sources(value, sources)
            })
            .sum(),
        _ => 0,
    }
}

/// Rules, bars and all else that has numbers name a source of some basis; of common practice a number may be too.
#[test]
fn every_rule_names_a_source() {
    let pack = Pack::new(&texts("rules"), "{}");
    let (mut seen, mut bare) = (0, Vec::new());
    let mut look = |kind: &str, id: &str, entry: &serde_yaml::Value| {
        let mut sources = BTreeSet::new();
        let numbers = numbers_and_sources(entry, &mut sources);
        seen += usize::from(numbers > 0);
        if numbers > 0 && sources.is_empty() {
            bare.push(format!("{kind} {id}: {numbers}"));
        }
    };
    for kind in ["tables", "measures", "bars", "references", "phases"] {
        for (id, entry) in pack.entries(kind) {
            look(kind, &id, &entry);
        }
    }
    for (kind, rules) in pack.kinds["rules"].as_mapping().unwrap() {
        for (id, entry) in rules.as_mapping().unwrap() {
            look(kind.as_str().unwrap(), id.as_str().unwrap(), entry);
        }
    }
    assert!(bare.is_empty() && seen > 250, "{seen} {bare:#?}");
}

/// A number of the vocabulary is published or marked as set by us; habit alone gives none.
#[test]
fn every_number_of_the_vocabulary_says_where_it_comes_from() {
    let pack = Pack::new(&texts("rules"), "{}");
    let by_basis = pack.bases();
    let mut bare = Vec::new();
    for kind in [
        "axes",
        "exercises",
        "groups",
        "causes",
        "faults",
        "qualities",
        "roles",
        "parts",
        "factors",
        "doses",
        "efforts",
        "stresses",
        "layouts",
        "zone-tables",
        "case-fields",
        "track-events",
        "track-filters",
        "track-measures",
        "track-remarks",
    ] {
        for (id, entry) in pack.single_entries(kind) {
            let mut sources = BTreeSet::new();
            let numbers = numbers_and_sources(&entry, &mut sources);
            let based = sources
                .iter()
                .any(|id| matches!(by_basis[id].as_str(), "published" | "expert-set"));
            if numbers > 0 && !based {
                bare.push(format!("{kind} {id}: {numbers} of {sources:?}"));
            }
        }
    }
    assert!(bare.is_empty(), "{bare:#?}");
}

#[test]
fn every_bound_that_gives_way_names_what_outranks_it() {
    let missed = weeks().flat_map(|(solved, plan)| {
        let short = plan.shortfalls.iter();
        short.map(move |short| (solved.name.as_str(), short))
    });
    let (mut seen, mut silent) = (0, Vec::new());
    for (case, short) in missed {
        seen += 1;
        let named = !short.outranked_by.is_empty() || !short.ruled_out_by.is_empty();
        if !named && !short.for_lack_of_pieces {
            silent.push(format!("{case}: {}", short.ruling));
        }
    }
    assert!(seen >= 8, "{seen} bounds give way in all");
    assert!(silent.is_empty(), "{silent:#?}");
}
