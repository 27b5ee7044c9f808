//! Selectors: groups that lead back to themselves, keys that come too early, full forms that are none.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Code, Diagnostic, Place};
use crate::rules::read::Node;
use crate::rules::vocab::{Form, Selector};

use super::Checks;
use super::circle::Links;
use super::items::{get, items};
use super::sections::Sort;
use super::unplaced;
use super::walk::{Spot, Visit};

/// More groups inside groups than anyone can follow.
const MOST_NESTED: usize = 12;

/// Rule kinds that speak before an item's load is known, so that `percent` means nothing in them.
const BEFORE_LOADS: [&str; 5] = ["dose", "cap", "load-step", "trim", "least-load"];

/// Rule kinds that are asked of the week before too, which tells neither part nor effort of what stood in it.
const OF_THE_WEEK_BEFORE: [&str; 2] = ["kept", "shift"];

/// Groups that ask for something, each with the place where it is asked for.
type Asking<'p> = BTreeMap<&'p str, Place>;

/// Checks every selector.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let (percents, places) = groups(checks);
    for item in items(checks.pack) {
        let node = checks.node(item.sort, item.id);
        let early = match item.sort {
            Sort::Rule(kind) if BEFORE_LOADS.contains(&kind) => Some(kind),
            _ => None,
        };
        item.walk(&mut Selectors {
            checks,
            node,
            early,
            before: matches!(item.sort, Sort::Rule(kind) if OF_THE_WEEK_BEFORE.contains(&kind)),
            percents: &percents,
            places: &places,
        });
    }
    unplaced::check(checks);
}

/// Checks what groups make of one another; those that ask for a percent, and those that ask for a part or an effort.
fn groups<'p>(checks: &mut Checks<'p, '_>) -> (Asking<'p>, Asking<'p>) {
    let mut links = Links::default();
    let (mut percents, mut places) = (Asking::new(), Asking::new());
    let mut used_by: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for item in items(checks.pack)
        .into_iter()
        .filter(|item| item.sort == Sort::Group)
    {
        let mut inside = Inside {
            node: checks.node(item.sort, item.id),
            groups: Vec::new(),
            percent: None,
            place: None,
        };
        item.walk(&mut inside);
        for (group, place) in inside.groups {
            if checks.declared.is_read(Sort::Group, group) {
                links.add(item.id, group, place);
                used_by.entry(group).or_default().insert(item.id);
            }
        }
        if let Some(place) = inside.percent {
            percents.insert(item.id, place);
        }
        if let Some(place) = inside.place {
            places.insert(item.id, place);
        }
    }
    for path in links.circles() {
        let help = "let one of them say what it selects without the next";
        checks.out.extend(links.problem(
            Code::Circle,
            &path,
            "these groups are made of one another in a circle",
            help,
        ));
    }
    for id in links.deeper_than(MOST_NESTED) {
        let place = checks.own_place(Sort::Group, id);
        let what =
            format!("the group `{id}` is made of groups of groups, more than {MOST_NESTED} deep");
        checks.problem(
            Code::TooDeep,
            place,
            what,
            "name what it selects more directly",
        );
    }
    (spread(percents, &used_by), spread(places, &used_by))
}

/// With the groups that ask by way of others.
fn spread<'p>(mut asking: Asking<'p>, used_by: &BTreeMap<&str, BTreeSet<&'p str>>) -> Asking<'p> {
    let mut open: Vec<&str> = asking.keys().copied().collect();
    while let Some(at) = open.pop() {
        let Some(place) = asking.get(at).cloned() else {
            continue;
        };
        for user in used_by.get(at).into_iter().flatten() {
            if !asking.contains_key(user) {
                asking.insert(user, place.clone());
                open.push(user);
            }
        }
    }
    asking
}

/// Where a selector itself asks for a part or an effort.
fn asks_where(selector: &Selector) -> Option<&Place> {
    let part = selector.parts.first().map(|part| &part.place);
    part.or_else(|| selector.efforts.first().map(|effort| &effort.place))
}

/// What a group's selectors name.
struct Inside<'p, 't> {
    node: Option<&'t Node>,
    groups: Vec<(&'p str, &'p Place)>,
    percent: Option<Place>,
    place: Option<Place>,
}

impl<'p> Visit<'p> for Inside<'p, '_> {
    fn selector(&mut self, selector: &'p Selector, spot: &Spot<'_, 'p>) {
        self.groups.extend(
            selector
                .groups
                .iter()
                .map(|group| (group.as_str(), &group.place)),
        );
        if selector.percent.is_some() && self.percent.is_none() {
            self.percent = Some(spot.field("percent").key_place(self.node));
        }
        if self.place.is_none() {
            self.place = asks_where(selector).cloned();
        }
    }
}

struct Selectors<'c, 'p, 't> {
    checks: &'c mut Checks<'p, 't>,
    node: Option<&'t Node>,
    early: Option<&'static str>,
    /// Whether it is asked of the week before.
    before: bool,
    percents: &'c Asking<'p>,
    places: &'c Asking<'p>,
}

impl<'p> Visit<'p> for Selectors<'_, '_, '_> {
    fn selector(&mut self, selector: &'p Selector, spot: &Spot<'_, 'p>) {
        for id in &selector.full {
            let text = "`full` names competition forms";
            self.checks.competition_root(id.as_str(), &id.place, text);
        }
        if self.before {
            self.asks_where(selector);
        }
        let Some(kind) = self.early else { return };
        let what = format!(
            "a `{kind}` rule speaks before the load is known, so it can't ask for a percent"
        );
        let help = "select by something else, such as `roles`, `efforts` or `groups`";
        if selector.percent.is_some() {
            let place = spot.field("percent").key_place(self.node);
            self.checks
                .problem(Code::Contradiction, place, what.clone(), help);
        }
        for group in &selector.groups {
            if let Some(asked) = self.percents.get(group.as_str()) {
                self.checks.out.push(
                    Diagnostic::new(Code::Contradiction, group.place.clone(), what.clone(), help)
                        .with_also(asked.clone(), format!("`{group}` asks for it here")),
                );
            }
        }
    }
}

impl Selectors<'_, '_, '_> {
    /// Says of a selector that it asks where something stood in the week before.
    fn asks_where(&mut self, selector: &Selector) {
        let what = "what stood in the week before is known by exercise, role and load, and not by part or effort";
        let help = "select by something else, such as `roles`";
        let problem =
            |place: &Place| Diagnostic::new(Code::Contradiction, place.clone(), what, help);
        if let Some(place) = asks_where(selector) {
            self.checks.out.push(problem(place));
        }
        for group in &selector.groups {
            if let Some(asked) = self.places.get(group.as_str()) {
                let problem = problem(&group.place);
                let said = format!("`{group}` asks for it here");
                self.checks.out.push(problem.with_also(asked.clone(), said));
            }
        }
    }
}

impl Checks<'_, '_> {
    /// An id that was read must be a root of competition form; whether it is, or nothing is known of it.
    pub(super) fn competition_root(&mut self, id: &str, place: &Place, text: &str) -> bool {
        if !self.declared.is_read(Sort::Exercise, id) {
            return true;
        }
        let what = match get(&self.pack.roots, id) {
            Some(root) if root.form == Form::Competition => return true,
            Some(_) => format!("{text}, and `{id}` is of training form"),
            None if get(&self.pack.complexes, id).is_some() => {
                format!("{text}, and `{id}` is a complex")
            }
            None => format!("{text}, and `{id}` is a variation"),
        };
        let known = self
            .pack
            .roots
            .iter()
            .filter(|(_, root)| root.form == Form::Competition);
        let known: Vec<&str> = known.map(|(id, _)| id.as_str()).collect();
        let help = match known.as_slice() {
            [] => String::from("no root has `form: competition`; give one of them that form"),
            known => format!(
                "roots of competition form are {}",
                super::declared::list(known)
            ),
        };
        self.problem(Code::Contradiction, place.clone(), what, help);
        false
    }
}
