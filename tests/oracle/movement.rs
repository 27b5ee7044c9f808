//! Exercises: constraints, stages, departure, points, highest load and reference.

use std::collections::{BTreeMap, BTreeSet};

use super::text::{ComponentText, Condition, Load, PackText, Points};

pub type Set = BTreeSet<String>;

/// One thing that is done: an exercise that is no complex, or a component of one.
#[derive(Clone, Debug)]
pub struct Component {
    /// Itself, then its ancestors; the unnamed variation of a component has an empty name.
    pub line: Vec<String>,
    pub skills: Vec<String>,
    pub competition: bool,
    pub with: Set,
    pub stages: Set,
    pub departure: i64,
    pub departing: Set,
    pub strong: Set,
    pub reps: i64,
    pub trains: Points,
    pub stress: Points,
    pub own_effects: Vec<Points>,
    pub highest: i64,
    pub reference: Option<String>,
    pub asks: Vec<Condition>,
    pub roles: Vec<String>,
}

impl Component {
    pub fn root(&self) -> &str {
        self.line.last().unwrap()
    }

    pub fn shares_skill(&self, other: &Self) -> bool {
        self.skills.iter().any(|skill| other.skills.contains(skill))
    }
}

/// Something that a week can hold.
#[derive(Clone, Debug)]
pub struct Exercise {
    pub id: String,
    pub complex: bool,
    pub components: Vec<Component>,
    pub roles: Vec<String>,
    pub asks: Vec<Condition>,
    pub trains: Points,
    pub stress: Points,
    pub departure: i64,
    pub highest: i64,
    pub reference: Option<String>,
}

impl Exercise {
    pub fn reps(&self) -> i64 {
        self.components.iter().map(|component| component.reps).sum()
    }

    pub fn skills(&self) -> Set {
        self.components
            .iter()
            .flat_map(|component| component.skills.clone())
            .collect()
    }

    /// What it stands under: the parent of a variation, a root itself, and what a complex does first.
    pub fn parent(&self) -> &str {
        let line = &self.components[0].line;
        if self.complex {
            if line[0].is_empty() {
                &line[1]
            } else {
                &line[0]
            }
        } else {
            line.get(1).unwrap_or(&line[0])
        }
    }
}

/// All exercises by id. `bests` are those that the case states.
pub fn exercises(pack: &PackText, bests: &BTreeMap<String, Load>) -> BTreeMap<String, Exercise> {
    let mut all = BTreeMap::new();
    for id in pack
        .exercises
        .roots
        .keys()
        .chain(pack.exercises.variations.keys())
    {
        let component = component(pack, id);
        let exercise = Exercise {
            id: id.clone(),
            complex: false,
            roles: component.roles.clone(),
            asks: component.asks.clone(),
            trains: component.trains.clone(),
            stress: component.stress.clone(),
            departure: component.departure,
            highest: component.highest,
            reference: component.reference.clone(),
            components: vec![component],
        };
        all.insert(id.clone(), exercise);
    }
    for id in pack.exercises.complexes.keys() {
        all.insert(id.clone(), complex(pack, bests, id));
    }
    all
}

fn complex(pack: &PackText, bests: &BTreeMap<String, Load>, id: &str) -> Exercise {
    let text = &pack.exercises.complexes[id];
    let components: Vec<Component> = text
        .components
        .iter()
        .map(|part| component_of_complex(pack, part))
        .collect();
    let reps: i64 = components.iter().map(|part| part.reps).sum();
    let departures: i64 = components
        .iter()
        .map(|part| part.departure * part.reps)
        .sum();
    let largest = |of: fn(&Component) -> &Points| {
        let mut all = Points::new();
        for (key, value) in components.iter().flat_map(of) {
            let most = all.entry(key.clone()).or_insert(0);
            *most = (*most).max(*value);
        }
        all
    };
    let best = |part: &Component| {
        part.reference
            .as_ref()
            .and_then(|reference| bests.get(reference))
    };
    let all_known = components.iter().all(|part| best(part).is_some());
    let strength = |part: &Component| {
        if all_known {
            best(part).unwrap().0 * part.highest
        } else {
            part.highest
        }
    };
    let mut weakest = &components[0];
    for part in &components {
        if strength(part) < strength(weakest) {
            weakest = part;
        }
    }
    let asks = components
        .iter()
        .flat_map(|part| part.asks.clone())
        .chain(text.asks.clone())
        .collect();
    Exercise {
        id: id.to_owned(),
        complex: true,
        roles: text.roles.clone(),
        asks,
        trains: text
            .trains
            .clone()
            .map_or_else(|| largest(|part| &part.trains), at_least_nothing),
        stress: text
            .stress
            .clone()
            .map_or_else(|| largest(|part| &part.stress), at_least_nothing),
        departure: departures / reps,
        highest: (weakest.highest - text.percent_less).max(1),
        reference: weakest.reference.clone(),
        components,
    }
}

fn at_least_nothing(points: Points) -> Points {
    points
        .into_iter()
        .map(|(key, value)| (key, value.max(0)))
        .collect()
}

fn component_of_complex(pack: &PackText, text: &ComponentText) -> Component {
    let mut part = component(pack, &text.exercise);
    part.reps = text.reps;
    if text.with.is_empty() {
        return part;
    }
    // An unnamed variation: nothing is stated, all is computed from the exercise that it stands under.
    let listed = constraints(pack, &text.exercise);
    let mut with = listed.clone();
    add(pack, &mut with, &text.with);
    if with == listed {
        return part;
    }
    let mut line = part.line;
    line.insert(0, String::new());
    Component {
        reps: text.reps,
        ..build(pack, line, with)
    }
}

/// An exercise that is no complex, done once.
pub fn component(pack: &PackText, id: &str) -> Component {
    build(pack, line(pack, id), constraints(pack, id))
}

fn line(pack: &PackText, id: &str) -> Vec<String> {
    let mut line = vec![id.to_owned()];
    while let Some(variation) = pack.exercises.variations.get(line.last().unwrap()) {
        line.push(variation.from.clone());
    }
    assert!(
        pack.exercises.roots.contains_key(line.last().unwrap()),
        "{id} has no root"
    );
    line
}

fn axis_of<'a>(pack: &'a PackText, constraint: &str) -> &'a super::text::Axis {
    pack.axes
        .values()
        .find(|axis| axis.constraints.contains_key(constraint))
        .unwrap()
}

fn constraint<'a>(pack: &'a PackText, id: &str) -> &'a super::text::Constraint {
    &axis_of(pack, id).constraints[id]
}

/// The constraints of a root or a variation.
pub fn constraints(pack: &PackText, id: &str) -> Set {
    if let Some(root) = pack.exercises.roots.get(id) {
        let ones = pack.axes.values().filter(|axis| axis.holds == "one");
        let mut with: Set = ones.filter_map(|axis| axis.unset.clone()).collect();
        add(pack, &mut with, &root.with);
        return with;
    }
    let variation = &pack.exercises.variations[id];
    let mut with = constraints(pack, &variation.from);
    for dropped in &variation.drops {
        if with.remove(dropped) && axis_of(pack, dropped).holds == "one" {
            with.extend(axis_of(pack, dropped).unset.clone());
        }
    }
    add(pack, &mut with, &variation.with);
    with
}

fn add(pack: &PackText, with: &mut Set, added: &[String]) {
    for id in added {
        let axis = axis_of(pack, id);
        if axis.holds == "one" {
            with.retain(|held| !axis.constraints.contains_key(held));
        }
        with.insert(id.clone());
    }
}

fn build(pack: &PackText, line: Vec<String>, with: Set) -> Component {
    let root = &pack.exercises.roots[line.last().unwrap()];
    let mut stages: Set = root
        .skills
        .iter()
        .flat_map(|skill| pack.skills[skill].stages.clone())
        .collect();
    for id in &with {
        for cut in &constraint(pack, id).cuts {
            stages.remove(cut);
        }
    }
    let departing: Set = with
        .iter()
        .filter(|id| constraint(pack, id).departs > 0)
        .cloned()
        .collect();
    let variations = || {
        line.iter()
            .filter_map(|id| pack.exercises.variations.get(id))
    };
    let own_reference = variations().find_map(|variation| variation.reference.clone());
    let reference = own_reference
        .or_else(|| root.reference.clone())
        .or_else(|| pack.skills[&root.skills[0]].reference.clone());
    let mut own_effects: Vec<Points> = variations()
        .map(|variation| variation.effect.clone())
        .collect();
    own_effects.push(root.effect.clone());
    let mut asks: Vec<Condition> = variations()
        .filter_map(|variation| variation.asks.clone())
        .collect();
    asks.extend(root.asks.clone());
    asks.extend(
        with.iter()
            .filter_map(|id| constraint(pack, id).asks.clone()),
    );
    let roles = variations()
        .find_map(|variation| variation.roles.clone())
        .unwrap_or_else(|| root.roles.clone());
    Component {
        skills: root.skills.clone(),
        competition: root.form == "competition" && line.len() == 1,
        departure: with.iter().map(|id| constraint(pack, id).departs).sum(),
        strong: with
            .iter()
            .filter(|id| constraint(pack, id).strong)
            .cloned()
            .collect(),
        reps: 1,
        trains: points(pack, &line, &with, "trains"),
        stress: points(pack, &line, &with, "stress"),
        highest: highest(pack, &line, &with, &departing),
        line,
        with,
        stages,
        departing,
        own_effects,
        reference,
        asks,
        roles,
    }
}

/// Quality or stress points: the nearest that states them, and what the constraints change from there.
fn points(pack: &PackText, line: &[String], with: &Set, which: &str) -> Points {
    let trains = which == "trains";
    let stated = |id: &String| match (
        pack.exercises.roots.get(id),
        pack.exercises.variations.get(id),
    ) {
        (Some(root), _) => Some(if trains {
            root.trains.clone()
        } else {
            root.stress.clone()
        }),
        (_, Some(variation)) => {
            if trains {
                variation.trains.clone()
            } else {
                variation.stress.clone()
            }
        }
        _ => None,
    };
    let (near, mut sum) = line.iter().find_map(|id| Some((id, stated(id)?))).unwrap();
    let from = constraints(pack, near);
    let mut change = |ids: Vec<&String>, sign: i64| {
        for id in ids {
            let deltas = if trains {
                &constraint(pack, id).trains
            } else {
                &constraint(pack, id).stress
            };
            for (key, delta) in deltas {
                *sum.entry(key.clone()).or_insert(0) += sign * delta;
            }
        }
    };
    change(with.difference(&from).collect(), 1);
    change(from.difference(with).collect(), -1);
    at_least_nothing(sum)
}

fn stated_highest(pack: &PackText, id: &str) -> Option<i64> {
    let root = pack.exercises.roots.get(id).and_then(|root| root.highest);
    let variation = pack
        .exercises
        .variations
        .get(id)
        .and_then(|variation| variation.highest);
    root.or(variation).map(|stated| stated.percent)
}

fn highest(pack: &PackText, line: &[String], with: &Set, departing: &Set) -> i64 {
    if let Some(stated) = stated_highest(pack, &line[0]) {
        return stated;
    }
    let root = line.last().unwrap();
    let of_root = constraints(pack, root);
    let (mut product, mut divisor) = (i128::from(stated_highest(pack, root).unwrap_or(100)), 1i128);
    for id in with.difference(&of_root) {
        if let Some(percent) = constraint(pack, id).load_percent {
            product *= i128::from(percent);
            divisor *= 100;
        }
    }
    let mut most = i64::try_from(product / divisor).unwrap().max(1);
    let named = pack
        .exercises
        .roots
        .keys()
        .chain(pack.exercises.variations.keys());
    for other in named.filter(|other| line_ends(pack, other, root)) {
        let of_other = constraints(pack, other);
        let less = of_other
            .iter()
            .filter(|id| constraint(pack, id).departs > 0)
            .all(|id| departing.contains(id));
        if let (true, Some(stated)) = (less, stated_highest(pack, other)) {
            most = most.min(stated);
        }
    }
    most
}

fn line_ends(pack: &PackText, id: &str, root: &str) -> bool {
    line(pack, id).last().is_some_and(|last| last == root)
}
