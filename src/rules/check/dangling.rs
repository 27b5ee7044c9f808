//! Ids that name nothing.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Code, Diagnostic, Place, is_slip};

use super::Checks;
use super::items::items;
use super::names::former_ids;
use super::sections::Sort;
use super::walk::{Spot, Visit};

/// Finds references to what is not there, and ids that stand twice in one list.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let former = former_ids(checks);
    let mut found = Found {
        checks,
        former,
        nothing: BTreeMap::new(),
        dangling: BTreeMap::new(),
    };
    for item in items(found.checks.pack) {
        item.walk(&mut found);
    }
    for (listed, nothing) in std::mem::take(&mut found.nothing) {
        found.checks.out.push(nothing.told(listed));
    }
    found.lose();
    for ((sort, id), places) in std::mem::take(&mut found.dangling) {
        found.tell(sort, id, &places);
    }
}

/// Places that name things of sorts of which there is nothing at all, all listed in one kind of file.
struct Nothing<'p> {
    sorts: BTreeSet<Sort>,
    places: usize,
    first: (&'p Place, &'p str),
}

impl Nothing<'_> {
    fn told(&self, listed: &str) -> Diagnostic {
        let (first, id) = self.first;
        let words: Vec<&str> = self.sorts.iter().map(|sort| sort.words().0).collect();
        let none = words.join(" or ");
        let what = if self.places == 1 {
            format!("no file defines any {none}, and `{id}` is named here")
        } else {
            format!(
                "no file defines any {none}; {} places name one, the first is `{id}` here",
                self.places
            )
        };
        Diagnostic::new(
            Code::DanglingId,
            first.clone(),
            what,
            format!("put back the file that has `{listed}`, or write one"),
        )
    }
}

impl<'p> Found<'_, 'p, '_> {
    fn nothing(&mut self, sort: Sort, id: &'p str, place: &'p Place) {
        let (_, _, listed) = sort.words();
        let nothing = self.nothing.entry(listed).or_insert(Nothing {
            sorts: BTreeSet::new(),
            places: 0,
            first: (place, id),
        });
        nothing.sorts.insert(sort);
        nothing.places += 1;
        if place < nothing.first.0 {
            nothing.first = (place, id);
        }
    }

    /// Where of two items with one id one was perhaps meant to have another, that is told with them,
    /// and not at each place that names it: ids of the same sort that are like none there is, if there
    /// are no more of them than such items.
    fn lose(&mut self) {
        let mut unlike: BTreeMap<Sort, Vec<(&'p str, Place)>> = BTreeMap::new();
        for ((sort, id), places) in &self.dangling {
            let declared = &mut self.checks.declared;
            if declared.doubles(*sort) > 0
                && !self.former.contains_key(&(*sort, id))
                && declared.may_ask()
                && !is_slip(id, declared.ids(*sort))
                && let Some(place) = places.iter().min()
            {
                unlike
                    .entry(*sort)
                    .or_default()
                    .push((id, (*place).clone()));
            }
        }
        for (sort, ids) in unlike {
            if ids.len() <= self.checks.declared.doubles(sort) {
                for (id, place) in ids {
                    self.dangling.remove(&(sort, id));
                    self.checks.declared.lose(sort, id, place);
                }
            }
        }
    }

    /// Tells each place that names nothing by an id.
    fn tell(&mut self, sort: Sort, id: &'p str, places: &[&'p Place]) {
        let Some(first) = places.first() else { return };
        let mut problem = self.checks.declared.dangling(sort, id, first);
        if let Some(now) = self.former.get(&(sort, id)) {
            problem.help = format!("it is called `{now}` now; write that");
        }
        let all = places.iter().map(|place| Diagnostic {
            place: (*place).clone(),
            ..problem.clone()
        });
        self.checks.out.extend(all);
    }
}

struct Found<'c, 'p, 't> {
    checks: &'c mut Checks<'p, 't>,
    /// Ids of earlier versions, with those of today.
    former: BTreeMap<(Sort, &'p str), &'p str>,
    /// By the kind in which they would be listed.
    nothing: BTreeMap<&'static str, Nothing<'p>>,
    /// Ids that name nothing, with the places that name them.
    dangling: BTreeMap<(Sort, &'p str), Vec<&'p Place>>,
}

impl<'p> Visit<'p> for Found<'_, 'p, '_> {
    fn id(&mut self, sort: Sort, id: &'p str, spot: &Spot<'_, 'p>) {
        // Rules that are named without their kind are looked for among all of them.
        if sort == Sort::AnyRule || self.checks.declared.may_be(sort, id) {
            return;
        }
        if self.checks.declared.has_none(sort) {
            self.nothing(sort, id, spot.near());
        } else {
            self.dangling
                .entry((sort, id))
                .or_default()
                .push(spot.near());
        }
    }

    fn ids(&mut self, ids: &mut dyn Iterator<Item = (&'p str, &'p Place)>, _: &Spot<'_, 'p>) {
        let mut seen: BTreeMap<&str, &Place> = BTreeMap::new();
        for (id, place) in ids {
            if let Some(first) = seen.get(id) {
                self.checks.out.push(
                    Diagnostic::new(
                        Code::DuplicateId,
                        place.clone(),
                        format!("`{id}` stands twice in this list"),
                        "take one out",
                    )
                    .with_also((*first).clone(), "it stands here first"),
                );
            } else {
                seen.insert(id, place);
            }
        }
    }
}
