//! Made packs with one thing added, taken away, made harder or made firm.

use serde_yaml::{Mapping, Value};

use super::pack::{Pack, Rank, Tally, rank, used, worse};

/// Each test looks at as many packs.
const PACKS: u64 = 24;

fn made(from: u64) -> impl Iterator<Item = (u64, Pack)> {
    (from..from + PACKS).map(|seed| (seed, Pack::made(seed)))
}

/// A new exercise from a root and some constraints, in all roles that another one has.
fn with_leaf(pack: &Pack, at: usize) -> Option<Pack> {
    let mut other = pack.clone();
    let roots = pack
        .kinds
        .get("exercises")?
        .get("roots")?
        .as_mapping()?
        .clone();
    let (root, _) = roots.iter().nth(at % roots.len())?;
    let constraints: Vec<String> = pack
        .entries("axes")
        .iter()
        .flat_map(|(_, axis)| {
            axis["constraints"]
                .as_mapping()
                .unwrap()
                .keys()
                .cloned()
                .collect::<Vec<_>>()
        })
        .map(|key| key.as_str().unwrap().to_owned())
        .collect();
    // The first of an axis that holds one is what an exercise has anyway.
    let with = &constraints[1 + at % (constraints.len() - 1)];
    let roles: Vec<Value> = pack
        .entries("roles")
        .into_iter()
        .map(|(id, _)| Value::from(id))
        .collect();
    let mut leaf = Mapping::new();
    let mut put = |key: &str, value: Value| leaf.insert(Value::from(key), value);
    put("names", serde_yaml::from_str("{en: [a new leaf]}").unwrap());
    put("from", root.clone());
    put("with", Value::Sequence(vec![Value::from(with.as_str())]));
    put("roles", Value::Sequence(roles));
    put("use", Value::from("For a test."));
    put("source", pack.sources());
    let exercises = other.section("exercises");
    if !exercises.contains_key("variations") {
        exercises.insert(Value::from("variations"), Value::Mapping(Mapping::new()));
    }
    exercises
        .get_mut("variations")?
        .as_mapping_mut()?
        .insert(Value::from("a-new-leaf"), Value::Mapping(leaf));
    other.try_base().ok().map(|_| other)
}

#[test]
fn a_leaf_that_no_rule_names_never_makes_it_worse() {
    let mut tally = Tally::default();
    for (seed, pack) in made(2_000) {
        let before = pack.rank();
        for at in [seed as usize, seed as usize + 3] {
            let Some(other) = with_leaf(&pack, at) else {
                continue;
            };
            let Some((before, after)) = tally.both(before, other.rank()) else {
                continue;
            };
            assert!(
                !worse(before, after),
                "seed {seed}: {before:?}, then {after:?}\n{}",
                other.shown()
            );
        }
    }
    tally.enough(30, 3);
}

/// Exercises that are nobody's parent or component and hold no figure that others are held to.
fn leaves(pack: &Pack) -> Vec<String> {
    let all = pack.entries("exercises");
    let needed: Vec<String> = all
        .iter()
        .flat_map(|(_, entry)| {
            let parent = entry.get("from").into_iter().cloned();
            let parts = entry
                .get("components")
                .and_then(Value::as_sequence)
                .cloned()
                .unwrap_or_default();
            parent
                .chain(parts.into_iter().map(|part| part["do"].clone()))
                .collect::<Vec<_>>()
        })
        .map(|id| id.as_str().unwrap().to_owned())
        .collect();
    all.into_iter()
        .filter(|(id, entry)| !needed.contains(id) && entry.get("highest").is_none())
        .map(|(id, _)| id)
        .collect()
}

#[test]
fn taking_an_unused_leaf_away_keeps_it() {
    let mut tally = Tally::default();
    for (seed, pack) in made(2_100).chain(made(2_500)) {
        let answer = pack.answer();
        let unused: Vec<String> = match answer.week() {
            Some(plan) => leaves(&pack)
                .into_iter()
                .filter(|id| !used(plan).contains(id))
                .collect(),
            None => leaves(&pack),
        };
        for id in unused {
            let Some(other) = pack.without_exercise(&id) else {
                continue;
            };
            let Ok(after) = other.try_answer() else {
                continue;
            };
            let Some((before, after)) = tally.both(rank(&answer), rank(&after)) else {
                continue;
            };
            assert_eq!(before, after, "seed {seed} without {id}\n{}", pack.shown());
        }
    }
    tally.enough(30, 0);
}

/// Keys of bounds, and what makes each one harder to keep.
const BOUNDS: [(&str, i64); 10] = [
    ("at-least", 1),
    ("at-most", -1),
    ("points-at-least", 1),
    ("shared-at-most", -1),
    ("above-at-most", -1),
    ("free-days", 1),
    ("percent-at-least", 5),
    ("percent-at-most", -5),
    ("at-least-if-used", 1),
    ("whole", 0),
];

/// The pack with one bound of a rule one step harder.
fn tightened(pack: &Pack, kind: &str, id: &str, key: &str, step: i64) -> Option<Pack> {
    let mut other = pack.clone();
    let value = other.rule_mut(kind, id).get_mut(key)?;
    if let Some(number) = value.as_i64() {
        *value = Value::from(number + step);
    } else {
        // A time: so many minutes, or a share of a field.
        for inner in ["whole", "percent"] {
            if let Some(held) = value.get_mut(inner) {
                *held = Value::from(held.as_i64()? + step);
            }
        }
    }
    other.try_base().ok().map(|_| other)
}

fn without_above_floors(mut pack: Pack) -> Pack {
    // What is worth something above a floor is worth something else when the floor moves.
    pack.section("rules").remove("quality-worth");
    pack
}

#[test]
fn tightening_one_hard_bound_never_makes_it_better() {
    let mut tally = Tally::default();
    for (seed, pack) in made(2_200).chain(made(2_600)) {
        let pack = without_above_floors(pack);
        // Bounds that give way are made hard first, one at a time, so that there are enough.
        let rules = pack.kinds["rules"].as_mapping().unwrap().clone();
        let ids = rules.iter().flat_map(|(kind, section)| {
            let section = section.as_mapping().unwrap();
            section.keys().map(move |id| {
                (
                    kind.as_str().unwrap().to_owned(),
                    id.as_str().unwrap().to_owned(),
                )
            })
        });
        for (kind, id) in ids.step_by(2) {
            let mut hard = pack.clone();
            let Some(yields) = hard.rule_mut(&kind, &id).get_mut("yields") else {
                continue;
            };
            *yields = Value::from("never");
            let mut before: Option<Option<Rank>> = None;
            for (key, step) in BOUNDS {
                let Some(other) = tightened(&hard, &kind, &id, key, step) else {
                    continue;
                };
                let before = *before.get_or_insert_with(|| hard.rank());
                let Some((before, after)) = tally.both(before, other.rank()) else {
                    continue;
                };
                assert!(
                    !worse(after, before),
                    "seed {seed}, {kind}.{id}, {key}: {before:?}, then {after:?}\n{}",
                    hard.shown()
                );
            }
        }
    }
    tally.enough(60, 6);
}

#[test]
fn taking_a_hard_rule_away_never_makes_it_worse() {
    let mut tally = Tally::default();
    for (seed, pack) in made(2_300) {
        let pack = without_above_floors(pack);
        let before = pack.rank();
        for (kind, id) in pack.hard_rules() {
            let Ok(after) = pack.without_rule(&kind, &id).try_answer() else {
                continue;
            };
            let Some((before, after)) = tally.both(before, rank(&after)) else {
                continue;
            };
            assert!(
                !worse(before, after),
                "seed {seed} without {kind}.{id}: {before:?}, then {after:?}\n{}",
                pack.shown()
            );
        }
    }
    tally.enough(60, 10);
}

#[test]
fn forcing_what_is_best_keeps_it() {
    let mut tally = Tally::default();
    for (seed, pack) in made(2_400) {
        let answer = pack.answer();
        let Some(plan) = answer.week() else { continue };
        let mut forced = pack.clone();
        for (at, id) in used(plan).iter().enumerate() {
            let items = || plan.sessions.iter().flat_map(|session| &session.items);
            for (role_at, role) in items()
                .filter(|item| item.exercise.as_str() == id)
                .map(|item| item.role.to_string())
                .collect::<std::collections::BTreeSet<_>>()
                .iter()
                .enumerate()
            {
                let number = items()
                    .filter(|item| item.exercise.as_str() == id && item.role.as_str() == role)
                    .count();
                forced.add_rule(
                    "count",
                    &format!("forced-{at}-{role_at}"),
                    &format!("{{what: {{exercises: [{id}], roles: [{role}]}}, per: week, at-least: {number}, yields: never}}"),
                );
            }
        }
        let Some((before, after)) = tally.both(rank(&answer), forced.rank()) else {
            continue;
        };
        assert_eq!(before, after, "seed {seed}\n{}", forced.shown());
    }
    tally.enough(12, 0);
}
