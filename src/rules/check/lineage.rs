//! From each variation back to its root, and what it adds and drops on the way.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use crate::base::{At, Code, ConstraintId, Diagnostic, Place, nearest};
use crate::rules::vocab::{Holds, Variation};

use super::Checks;
use super::axes::{OnAxis, constraints};
use super::circle::Links;
use super::declared::list;
use super::items::get;
use super::sections::Sort;

/// More steps from a root than any family of exercises needs.
pub(super) const MOST_STEPS: usize = 40;

/// After so many of one kind the further places of a problem are not listed.
const MOST_ALSO: usize = 8;

/// More constraints than one exercise can have, the unset ones not counted.
const MOST_CONSTRAINTS: usize = 100;

/// Constraints that an exercise has.
#[derive(Clone, Default)]
struct Has<'p> {
    /// On axes that hold one, where it is not the unset value.
    one: BTreeMap<&'p str, &'p str>,
    /// On axes that hold many.
    many: BTreeSet<&'p str>,
    /// Something that it or an ancestor adds could not be read, so it may have more.
    unsure: bool,
}

impl<'p> Has<'p> {
    fn contains(&self, id: &str, on: &OnAxis<'_>) -> bool {
        match on.holds {
            Holds::One => self.one.get(on.axis).is_some_and(|held| *held == id),
            Holds::Many => self.many.contains(id),
        }
    }

    fn remove(&mut self, id: &str, on: &OnAxis<'_>) {
        if self.contains(id, on) {
            self.one.remove(on.axis);
            self.many.remove(id);
        }
    }

    fn len(&self) -> usize {
        self.one.len() + self.many.len()
    }

    fn ids(&self) -> Vec<&'p str> {
        let all: BTreeSet<&str> = self.one.values().chain(&self.many).copied().collect();
        all.into_iter().collect()
    }
}

/// Checks parents, and what every variation and component adds and drops.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    let mut children: BTreeMap<&str, Vec<(&str, &Variation, &Place)>> = BTreeMap::new();
    for (id, variation) in &pack.variations {
        children.entry(variation.from.as_str()).or_default().push((
            id.as_str(),
            variation,
            &id.place,
        ));
    }
    no_root(checks, &children);

    let axes = constraints(pack);
    let mut states: BTreeMap<&str, Rc<Has<'_>>> = BTreeMap::new();
    let mut open: Vec<(&str, usize)> = Vec::new();
    for (id, root) in &pack.roots {
        let mut has = Has::default();
        if add(checks, &axes, &mut has, &root.with, None) {
            states.insert(id.as_str(), Rc::new(has));
            open.push((id.as_str(), 0));
        }
    }
    while let Some((parent, steps)) = open.pop() {
        let Some(from) = states.get(parent).cloned() else {
            continue;
        };
        for (id, variation, place) in children.get(parent).into_iter().flatten() {
            if steps >= MOST_STEPS {
                checks.problem(
                    Code::TooDeep,
                    (*place).clone(),
                    format!("`{id}` stands more than {MOST_STEPS} steps below its root"),
                    "let it come from an exercise that is nearer to the root",
                );
                continue;
            }
            let mut has = Has::clone(&from);
            drop_all(checks, &axes, &mut has, &variation.drops, parent);
            if add(checks, &axes, &mut has, &variation.with, Some(parent)) {
                states.insert(id, Rc::new(has));
                open.push((id, steps + 1));
            }
        }
    }
    for (id, complex) in &pack.complexes {
        for component in &complex.components {
            let exercise = component.exercise.as_str();
            if pack.complexes.contains_key(&component.exercise.value) {
                checks.problem(
                    Code::Contradiction,
                    component.exercise.place.clone(),
                    format!("`{exercise}` is a complex, and a part of the complex `{id}`"),
                    "write the parts of that complex here instead",
                );
            } else if let Some(from) = states.get(exercise) {
                let mut has = Has::clone(from);
                add(checks, &axes, &mut has, &component.with, Some(exercise));
            }
        }
    }
}

fn drop_all<'p>(
    checks: &mut Checks<'_, '_>,
    axes: &BTreeMap<&'p str, OnAxis<'p>>,
    has: &mut Has<'p>,
    drops: &[At<ConstraintId>],
    parent: &str,
) {
    for id in drops {
        let Some(on) = axes.get(id.as_str()) else {
            continue;
        };
        let unset = on.is_unset(id.as_str());
        if !unset && (has.unsure || has.contains(id.as_str(), on)) {
            has.remove(id.as_str(), on);
        } else {
            let known = has.ids();
            let what = if unset {
                format!(
                    "`{id}` is what `{}` has when nothing is said, so it can't be dropped",
                    on.axis
                )
            } else {
                format!("`{parent}` has no `{id}` that could be dropped")
            };
            let help = match (
                known.as_slice(),
                nearest(id.as_str(), known.iter().copied()),
            ) {
                ([], _) => format!("take it out of `drops`; `{parent}` has no constraint to drop"),
                (_, Some(near)) => {
                    format!("did you mean `{near}`? `{parent}` has {}", list(&known))
                }
                (_, None) => format!(
                    "`{parent}` has {}; drop one of these, or none",
                    list(&known)
                ),
            };
            checks.problem(Code::DropsNothing, id.place.clone(), what, help);
        }
    }
}

/// Adds constraints; whether an exercise can have as many as it has then.
fn add<'p>(
    checks: &mut Checks<'_, '_>,
    axes: &BTreeMap<&'p str, OnAxis<'p>>,
    has: &mut Has<'p>,
    with: &'p [At<ConstraintId>],
    parent: Option<&str>,
) -> bool {
    let inherited = parent.map(|parent| (parent, has.many.clone()));
    let mut replaced: BTreeSet<&str> = BTreeSet::new();
    for id in with {
        let Some(on) = axes.get(id.as_str()) else {
            has.unsure = true;
            continue;
        };
        if on.holds == Holds::Many {
            if let Some((parent, _)) = inherited
                .as_ref()
                .filter(|(_, before)| before.contains(id.as_str()))
            {
                let what = format!("`{parent}` has `{id}` already");
                checks.problem(
                    Code::Contradiction,
                    id.place.clone(),
                    what,
                    "take it out of `with`; it is inherited",
                );
            }
            has.many.insert(id.as_str());
            continue;
        }
        // Two values of one axis have been told; which of them is meant is not known.
        has.unsure |= !replaced.insert(on.axis);
        if on.is_unset(id.as_str()) {
            has.one.remove(on.axis);
        } else {
            has.one.insert(on.axis, id.as_str());
        }
    }
    let most = has.len() <= MOST_CONSTRAINTS;
    if let (false, Some(last)) = (most, with.last()) {
        let what = format!("with this the exercise has more than {MOST_CONSTRAINTS} constraints");
        checks.problem(
            Code::OutOfRange,
            last.place.clone(),
            what,
            "let it have fewer; one exercise is about a few things",
        );
    }
    most
}

/// Circles of parents, and complexes as parents, each with the variations that hang below.
fn no_root(
    checks: &mut Checks<'_, '_>,
    children: &BTreeMap<&str, Vec<(&str, &Variation, &Place)>>,
) {
    let pack = checks.pack;
    let mut links = Links::default();
    for (id, variation) in &pack.variations {
        if pack.variations.contains_key(&variation.from.value) {
            links.add(id.as_str(), variation.from.as_str(), &variation.from.place);
        }
    }
    let mut found: Vec<(Vec<&str>, Diagnostic)> = Vec::new();
    for path in links.circles() {
        let help = "let one of them come from an exercise that goes back to a root";
        if let Some(problem) = links.problem(
            Code::Circle,
            &path,
            "these exercises come from one another in a circle",
            help,
        ) {
            found.push((path, problem));
        }
    }
    for (id, variation) in &pack.variations {
        let from = &variation.from;
        if pack.complexes.contains_key(&from.value) {
            let problem = Diagnostic::new(
                Code::NoRoot,
                from.place.clone(),
                format!("`{id}` goes back to no root: it comes from the complex `{from}`"),
                format!(
                    "let it come from an exercise, such as {}",
                    parts_of(checks, from.as_str())
                ),
            );
            found.push((vec![id.as_str()], problem));
        }
    }
    let mut seen: BTreeSet<&str> = found
        .iter()
        .flat_map(|(members, _)| members.iter().copied())
        .collect();
    for (members, mut problem) in found {
        let mut open = members;
        let mut told = 0;
        while let Some(at) = open.pop() {
            for (below, variation, _) in children.get(at).into_iter().flatten() {
                if seen.insert(below) {
                    open.push(below);
                    told += 1;
                    if told <= MOST_ALSO {
                        problem = problem.with_also(
                            variation.from.place.clone(),
                            format!("so `{below}` goes back to no root either"),
                        );
                    }
                }
            }
        }
        checks.out.push(problem);
    }
}

fn parts_of(checks: &Checks<'_, '_>, complex: &str) -> String {
    let parts = get(&checks.pack.complexes, complex).map(|complex| &complex.components);
    let parts: BTreeSet<&str> = parts
        .into_iter()
        .flatten()
        .map(|part| part.exercise.as_str())
        .collect();
    let parts: Vec<&str> = parts
        .into_iter()
        .filter(|id| checks.declared.has(Sort::Exercise, id))
        .collect();
    list(&parts)
}
