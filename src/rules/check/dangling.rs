//! Ids that name nothing.

use std::collections::BTreeMap;

use crate::base::{Code, Diagnostic, Place};

use super::Checks;
use super::items::items;
use super::names::former_ids;
use super::sections::Sort;
use super::walk::{Spot, Visit};

/// Finds references to what is not there, and ids that stand twice in one list.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let former = former_ids(checks);
    let mut found = Found { checks, former };
    for item in items(found.checks.pack) {
        item.walk(&mut found);
    }
}

struct Found<'c, 'p, 't> {
    checks: &'c mut Checks<'p, 't>,
    /// Ids of earlier versions, with those of today.
    former: BTreeMap<(Sort, &'p str), &'p str>,
}

impl<'p> Visit<'p> for Found<'_, '_, '_> {
    fn id(&mut self, sort: Sort, id: &'p str, spot: &Spot<'_, 'p>) {
        // Rules that are named without their kind are looked for among all of them.
        if sort != Sort::AnyRule && !self.checks.declared.may_be(sort, id) {
            let mut problem = self.checks.declared.dangling(sort, id, spot.near());
            if let Some(now) = self.former.get(&(sort, id)) {
                problem.help = format!("it is called `{now}` now; write that");
            }
            self.checks.out.push(problem);
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
