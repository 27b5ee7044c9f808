//! Axes, and lists of constraints that cannot hold together.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{At, Code, ConstraintId, Diagnostic, Place};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Axis, Holds};

use super::Checks;
use super::sections::Sort;

/// What is known of a constraint.
#[derive(Clone, Copy)]
pub(super) struct OnAxis<'p> {
    pub(super) axis: &'p str,
    pub(super) holds: Holds,
    pub(super) unset: Option<&'p str>,
}

impl OnAxis<'_> {
    /// Whether a constraint of this axis is what counts when nothing is said.
    pub(super) fn is_unset(&self, constraint: &str) -> bool {
        self.holds == Holds::One && self.unset == Some(constraint)
    }
}

/// The axis of every constraint that was read.
pub(super) fn constraints(pack: &Pack) -> BTreeMap<&str, OnAxis<'_>> {
    let mut all = BTreeMap::new();
    for (id, axis) in &pack.axes {
        let unset = axis.unset.as_ref().map(|unset| unset.as_str());
        for constraint in axis.constraints.keys() {
            // A constraint of two axes has been reported; it counts as the first's.
            all.entry(constraint.as_str()).or_insert(OnAxis {
                axis: id.as_str(),
                holds: axis.holds,
                unset,
            });
        }
    }
    all
}

/// Checks every axis and every list of constraints.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for (id, axis) in &pack.axes {
        check_axis(checks, id.as_str(), &id.place, axis);
    }
    let axes = constraints(pack);
    for root in pack.roots.values() {
        two_values(checks, &axes, &root.with);
    }
    for variation in pack.variations.values() {
        two_values(checks, &axes, &variation.with);
        let added: BTreeSet<&At<ConstraintId>> = variation.with.iter().collect();
        for dropped in &variation.drops {
            if let Some(added) = added.get(dropped) {
                checks.out.push(
                    Diagnostic::new(
                        Code::Contradiction,
                        dropped.place.clone(),
                        format!("`{dropped}` is dropped and added at once"),
                        "take it out of `drops` or out of `with`",
                    )
                    .with_also(added.place.clone(), "it is added here"),
                );
            }
        }
    }
    for complex in pack.complexes.values() {
        for component in &complex.components {
            two_values(checks, &axes, &component.with);
        }
    }
}

fn check_axis(checks: &mut Checks<'_, '_>, id: &str, place: &Place, axis: &Axis) {
    if axis.constraints.is_empty() {
        let at = checks.place(Sort::Axis, id, &["constraints"]);
        checks.problem(
            Code::EmptyMap,
            at,
            format!("the axis `{id}` has no constraint"),
            "write its constraints, or take the axis out",
        );
        return;
    }
    match (axis.holds, &axis.unset) {
        (Holds::One, None) => checks.problem(
            Code::MissingKey,
            place.clone(),
            format!("the axis `{id}` holds one value and lacks the key `unset`"),
            "add `unset:` with the constraint that counts when nothing is said",
        ),
        (Holds::Many, Some(unset)) => checks.problem(
            Code::Contradiction,
            unset.place.clone(),
            format!("the axis `{id}` holds many values, so none of them is unset"),
            "take `unset` out, or write `holds: one`",
        ),
        (Holds::One, Some(unset)) => {
            let own = axis.constraints.contains_key(unset);
            // What is no constraint at all is told with the other ids that name nothing.
            if !own && checks.declared.has(Sort::Constraint, unset.as_str()) {
                checks.problem(
                    Code::Contradiction,
                    unset.place.clone(),
                    format!("`{unset}` is a constraint of another axis"),
                    format!("write one of the constraints of `{id}`, or add one to it for when nothing is said"),
                );
            }
        }
        (Holds::Many, None) => {}
    }
}

fn two_values(
    checks: &mut Checks<'_, '_>,
    axes: &BTreeMap<&str, OnAxis<'_>>,
    with: &[At<ConstraintId>],
) {
    let mut held: BTreeMap<&str, &At<ConstraintId>> = BTreeMap::new();
    for id in with {
        let Some(on) = axes.get(id.as_str()).filter(|on| on.holds == Holds::One) else {
            continue;
        };
        match held.get(on.axis) {
            // The same one twice is told with other lists that name something twice.
            Some(first) if *first != id => checks.out.push(
                Diagnostic::new(
                    Code::TwoValuesOnAxis,
                    id.place.clone(),
                    format!(
                        "`{id}` and `{first}` are both values of `{}`, which holds one",
                        on.axis
                    ),
                    "take one of them out",
                )
                .with_also(first.place.clone(), format!("`{first}` stands here")),
            ),
            Some(_) => {}
            None => {
                held.insert(on.axis, id);
            }
        }
    }
}
