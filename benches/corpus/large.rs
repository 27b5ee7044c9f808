//! The rules with about 1,500 exercises that are all different.
//!
//! Further ones are made from each listed variation by one constraint more that may stand with it: of an axis that holds one
//! and that the variation leaves alone, in a stage that is left, beside nothing that it may not stand with. As with those
//! that somebody lists, effects, departure, load, points and stress follow from the constraints, so that each is better than
//! its model in something (what the constraint mends) and worse in something (departure, load, what it feeds), asks for what the
//! constraint asks for, and may be shut out where its model is not. So a case meets many more candidates that are worth
//! nearly the same and not the same, which copies would not give: those can all be told apart by nothing but their ids. No
//! coach would list most of them; that they are many and close is what is measured.

use std::collections::{BTreeMap, BTreeSet};

use drillwright::KnowledgeBase;
use serde_yaml::{Mapping, Value};

/// How many exercises there are in the end.
const EXERCISES: usize = 1_500;

struct Constraint {
    axis: String,
    names: String,
    during: Vec<String>,
    cuts: Vec<String>,
    not_with: Vec<String>,
}

struct Variation {
    file: usize,
    entry: Mapping,
    root: String,
    /// What it has beyond what every exercise has.
    has: BTreeSet<String>,
}

fn words(entry: &Value, key: &str) -> Vec<String> {
    let list = entry.get(key).and_then(Value::as_sequence);
    let words = list.into_iter().flatten().filter_map(Value::as_str);
    words.map(str::to_owned).collect()
}

fn first_name(entry: &Value) -> String {
    let names = entry.get("names").and_then(|names| names.get("en"));
    let first = names.and_then(|names| names.get(0)).and_then(Value::as_str);
    first.unwrap_or_default().to_owned()
}

fn entries(of: Option<&Value>) -> impl Iterator<Item = (String, &Value)> {
    let map = of.and_then(Value::as_mapping).into_iter().flatten();
    map.filter_map(|(id, entry)| Some((id.as_str()?.to_owned(), entry)))
}

/// Constraints of axes that hold one, and the axis of every constraint.
fn constraints(files: &[Value]) -> (BTreeMap<String, Constraint>, BTreeMap<String, String>) {
    let (mut all, mut axes) = (BTreeMap::new(), BTreeMap::new());
    for (axis, held) in files.iter().flat_map(|file| entries(file.get("axes"))) {
        let unset = held.get("unset").and_then(Value::as_str);
        for (id, entry) in entries(held.get("constraints")) {
            axes.insert(id.clone(), axis.clone());
            if held.get("holds").and_then(Value::as_str) == Some("one")
                && unset != Some(id.as_str())
            {
                let constraint = Constraint {
                    axis: axis.clone(),
                    names: first_name(entry),
                    during: words(entry, "during"),
                    cuts: words(entry, "cuts"),
                    not_with: words(entry, "not-with"),
                };
                all.insert(id, constraint);
            }
        }
    }
    (all, axes)
}

/// Roots and variations with all that they have; a parent stands before what comes from it.
fn variations(files: &[Value], axes: &BTreeMap<String, String>) -> BTreeMap<String, Variation> {
    let mut all: BTreeMap<String, Variation> = BTreeMap::new();
    let of = |file: &'_ Value, key: &str| -> Vec<(String, Value)> {
        let held = file.get("exercises").and_then(|held| held.get(key));
        entries(held)
            .map(|(id, entry)| (id, entry.clone()))
            .collect()
    };
    for (file, text) in files.iter().enumerate() {
        for (id, entry) in of(text, "roots") {
            let variation = Variation {
                file,
                root: id.clone(),
                has: words(&entry, "with").into_iter().collect(),
                entry: entry.as_mapping().cloned().unwrap_or_default(),
            };
            all.insert(id, variation);
        }
    }
    let mut left: Vec<(usize, String, Value)> = Vec::new();
    for (file, text) in files.iter().enumerate() {
        let of_file = of(text, "variations").into_iter();
        left.extend(of_file.map(|(id, entry)| (file, id, entry)));
    }
    while !left.is_empty() {
        let before = left.len();
        left.retain(|(file, id, entry)| {
            let from = entry
                .get("from")
                .and_then(Value::as_str)
                .unwrap_or_default();
            let Some(parent) = all.get(from) else {
                return true;
            };
            let (drops, with) = (words(entry, "drops"), words(entry, "with"));
            let mut has = parent.has.clone();
            has.retain(|held| {
                let axis = axes.get(held);
                !drops.contains(held)
                    && !drops.iter().any(|drop| Some(drop) == axis)
                    && !with.iter().any(|new| axes.get(new) == axis)
            });
            has.extend(with);
            let variation = Variation {
                file: *file,
                entry: entry.as_mapping().cloned().unwrap_or_default(),
                root: parent.root.clone(),
                has,
            };
            all.insert(id.clone(), variation);
            false
        });
        if left.len() == before {
            break;
        }
    }
    all
}

/// Every further exercise: its file, its id and its entry.
fn further(files: &[Value]) -> Vec<(usize, String, Value)> {
    let (constraints, axes) = constraints(files);
    let all = variations(files, &axes);
    let skills: BTreeMap<String, Vec<String>> = (files.iter())
        .flat_map(|file| entries(file.get("skills")))
        .map(|(id, entry)| (id, words(entry, "stages")))
        .collect();
    let mut known: BTreeSet<(&str, BTreeSet<String>)> = (all.values())
        .map(|held| (held.root.as_str(), held.has.clone()))
        .collect();
    let mut made = Vec::new();
    for (id, held) in &all {
        let Some(root) = all.get(&held.root).filter(|root| root.entry != held.entry) else {
            continue;
        };
        let stages: Vec<&String> = (words(&Value::Mapping(root.entry.clone()), "skills").iter())
            .filter_map(|skill| skills.get(skill))
            .flatten()
            .collect();
        let taken: BTreeSet<&String> = held.has.iter().filter_map(|has| axes.get(has)).collect();
        for (further, constraint) in &constraints {
            let beside = |has: &String| constraints.get(has).map_or(&[][..], |held| &held.not_with);
            let cut = |stage: &String| {
                let cuts = held.has.iter().filter_map(|has| constraints.get(has));
                cuts.chain([constraint])
                    .any(|held| held.cuts.contains(stage))
            };
            let stands = !taken.contains(&constraint.axis)
                && !held
                    .has
                    .iter()
                    .any(|has| constraint.not_with.contains(has) || beside(has).contains(further))
                && !constraint.during.is_empty()
                && (constraint.during.iter()).any(|stage| stages.contains(&stage) && !cut(stage));
            let mut has = held.has.clone();
            has.insert(further.clone());
            if !stands || !known.insert((held.root.as_str(), has)) {
                continue;
            }
            let listed = Value::Mapping(held.entry.clone());
            let roles: Vec<String> = words(&listed, "roles");
            let roles: Vec<&String> = roles.iter().filter(|role| *role != "competition").collect();
            if roles.is_empty() {
                continue;
            }
            let text = serde_json::json!({
                "names": {"en": [format!("{}, {}", first_name(&listed), constraint.names)]},
                "from": id,
                "with": [further],
                "roles": roles,
                "use": listed.get("use").and_then(Value::as_str).unwrap_or_default(),
                "source": {"expert-set": "made for a measurement"},
            });
            let entry = serde_yaml::to_value(text).unwrap_or_default();
            made.push((held.file, format!("{id}-with-{further}"), entry));
        }
    }
    made
}

/// The rules with as many of the further exercises as make 1,500, spread evenly over all of them.
///
/// What the check of the rules refuses by id is left out: it knows best what may stand together.
pub fn rules(texts: &[(String, String)], listed: usize) -> Result<KnowledgeBase, String> {
    let files: Result<Vec<Value>, _> = texts
        .iter()
        .map(|(_, text)| serde_yaml::from_str(text))
        .collect();
    let files = files.map_err(|error| error.to_string())?;
    let mut made = further(&files);
    let mut said = String::new();
    for _ in 0..6 {
        let wanted = EXERCISES.saturating_sub(listed).min(made.len());
        let chosen: Vec<&(usize, String, Value)> = (0..wanted)
            .filter_map(|at| made.get(at * made.len() / wanted))
            .collect();
        let mut grown = files.clone();
        for (file, id, entry) in &chosen {
            let held = grown
                .get_mut(*file)
                .and_then(|file| file.get_mut("exercises"));
            let held = held.and_then(|held| held.get_mut("variations"));
            if let Some(held) = held.and_then(Value::as_mapping_mut) {
                held.insert(id.as_str().into(), entry.clone());
            }
        }
        let written: Result<Vec<String>, _> = grown.iter().map(serde_yaml::to_string).collect();
        let written = written.map_err(|error| error.to_string())?;
        let names = texts.iter().map(|(name, _)| name.clone());
        match KnowledgeBase::from_texts(names.zip(written)) {
            Ok(rules) => return Ok(rules),
            Err(error) => said = error.rendered(false).to_string(),
        }
        let before = made.len();
        made.retain(|(_, id, _)| {
            let mut found = said.match_indices(id.as_str());
            !found.any(|(at, _)| {
                // The whole id, not one that begins with it.
                let next = said
                    .get(at + id.len()..)
                    .and_then(|rest| rest.chars().next());
                next.is_none_or(|next| !next.is_alphanumeric() && next != '-')
            })
        });
        if made.len() == before {
            break;
        }
    }
    Err(said.chars().take(2_000).collect())
}
