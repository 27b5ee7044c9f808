//! What a rule that reads an exercise without its place may not ask.
//!
//! A hard `exclude` of every day rules an exercise out before it stands anywhere. There no role,
//! part, effort or percent matches, so that `not` of one of them would match everything.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Code, Diagnostic, Place};
use crate::rules::read::Node;
use crate::rules::vocab::{Selector, Yields};

use super::Checks;
use super::items::{get, items};
use super::sections::Sort;
use super::walk::{Spot, Step, Visit};

/// Keys of a selector that ask where something stands, where they are given.
fn asked(selector: &Selector) -> Vec<&'static str> {
    let keys = [
        ("roles", !selector.roles.is_empty()),
        ("parts", !selector.parts.is_empty()),
        ("efforts", !selector.efforts.is_empty()),
        ("percent", selector.percent.is_some()),
    ];
    keys.into_iter()
        .filter_map(|(key, given)| given.then_some(key))
        .collect()
}

/// Whether a spot lies under a `not`.
fn negated(spot: &Spot<'_, '_>) -> bool {
    matches!(spot.last(), Step::Field("not")) || spot.up().is_some_and(negated)
}

/// What a selector with all that is in it asks of a place.
struct Inside<'p, 't> {
    node: Option<&'t Node>,
    /// A key that asks of a place, whether under a `not`.
    keys: Vec<(Place, bool)>,
    /// Groups that it names, whether under a `not`.
    groups: Vec<(&'p str, &'p Place, bool)>,
}

impl<'p> Visit<'p> for Inside<'p, '_> {
    fn selector(&mut self, selector: &'p Selector, spot: &Spot<'_, 'p>) {
        let under = negated(spot);
        for key in asked(selector) {
            self.keys
                .push((spot.field(key).key_place(self.node), under));
        }
        let groups = selector.groups.iter();
        self.groups
            .extend(groups.map(|group| (group.as_str(), &group.place, under)));
    }
}

/// Where groups ask of a place: anywhere in them, and under a `not`.
#[derive(Default)]
struct Asking<'p> {
    anywhere: BTreeMap<&'p str, Place>,
    negated: BTreeMap<&'p str, Place>,
}

fn groups<'p>(checks: &Checks<'p, '_>) -> Asking<'p> {
    let mut asking = Asking::default();
    let mut users: BTreeMap<&str, Vec<(&str, bool)>> = BTreeMap::new();
    for item in items(checks.pack)
        .into_iter()
        .filter(|item| item.sort == Sort::Group)
    {
        let mut inside = Inside {
            node: checks.node(item.sort, item.id),
            keys: Vec::new(),
            groups: Vec::new(),
        };
        item.walk(&mut inside);
        for (place, under) in inside.keys {
            asking.anywhere.entry(item.id).or_insert(place.clone());
            if under {
                asking.negated.entry(item.id).or_insert(place);
            }
        }
        for (group, _, under) in inside.groups {
            users.entry(group).or_default().push((item.id, under));
        }
    }
    // What one group asks is carried to those that name it; circles have been told and end here too.
    let mut open: Vec<&str> = asking.anywhere.keys().copied().collect();
    while let Some(group) = open.pop() {
        let (Some(some), not) = (
            asking.anywhere.get(group).cloned(),
            asking.negated.get(group).cloned(),
        ) else {
            continue;
        };
        for (user, under) in users.get(group).into_iter().flatten() {
            let not = not.clone().or_else(|| under.then(|| some.clone()));
            let mut new = !asking.anywhere.contains_key(user);
            asking.anywhere.entry(user).or_insert(some.clone());
            if let (Some(place), false) = (not, asking.negated.contains_key(user)) {
                asking.negated.insert(user, place);
                new = true;
            }
            if new {
                open.push(user);
            }
        }
    }
    asking
}

/// Checks every hard `exclude` that speaks of every day.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let asking = groups(checks);
    let rules = checks.pack.rules.exclude.iter();
    let hard: BTreeSet<&str> = rules
        .filter(|(_, rule)| rule.yields == Yields::Never && rule.on.takes_every_day())
        .map(|(id, _)| id.as_str())
        .collect();
    let of_hard = items(checks.pack)
        .into_iter()
        .filter(|item| item.sort == Sort::Rule("exclude") && hard.contains(item.id));
    for item in of_hard {
        let mut inside = Inside {
            node: checks.node(item.sort, item.id),
            keys: Vec::new(),
            groups: Vec::new(),
        };
        item.walk(&mut inside);
        let what = format!(
            "`exclude.{}` rules out what does not stand somewhere, and without its place no exercise does: it would rule out everything",
            item.id
        );
        let help = "write what it rules out without `not`, such as the other roles, or name the days with `on`";
        let keys = inside.keys.into_iter().filter(|(_, under)| *under);
        let mut told: BTreeSet<Place> = BTreeSet::new();
        for (place, _) in keys {
            if told.insert(place.clone()) {
                checks.problem(Code::Contradiction, place, what.clone(), help);
            }
        }
        for (group, place, under) in inside.groups {
            if get(&checks.pack.groups, group).is_none() {
                continue;
            }
            let anywhere = asking.anywhere.get(group).filter(|_| under);
            if let Some(asked) = anywhere.or_else(|| asking.negated.get(group)) {
                checks.out.push(
                    Diagnostic::new(Code::Contradiction, place.clone(), what.clone(), help)
                        .with_also(asked.clone(), format!("`{group}` asks for it here")),
                );
            }
        }
    }
}
