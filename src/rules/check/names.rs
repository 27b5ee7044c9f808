//! Names that two things of a kind share, and former ids that are in use again.

use std::collections::BTreeMap;

use crate::base::{Code, Diagnostic, Place, SkillId};
use crate::rules::read::Node;
use crate::rules::vocab::Names;

use super::Checks;
use super::items::{Item, items};
use super::sections::Sort;
use super::walk::{Spot, Step, Visit};

/// One name with whose it is.
struct Name<'p> {
    /// What shares must not share: a sort, and the item for what is named inside it.
    scope: (Sort, &'p str),
    /// Case folded, hyphens and gaps made one.
    key: String,
    text: &'p str,
    place: &'p Place,
    owner: &'p str,
}

/// Checks names.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let mut collected = Collect {
        item: None,
        names: Vec::new(),
        former: Vec::new(),
    };
    for item in items(checks.pack) {
        let body = item.body;
        let spot = Spot::item(item.place);
        collected.item = Some(item);
        body.walk(&spot, &mut collected);
    }
    let Collect {
        mut names, former, ..
    } = collected;
    names.sort_by(|one, other| one.place.cmp(other.place));
    let mut seen: BTreeMap<((Sort, &str), &str), &Name<'_>> = BTreeMap::new();
    for name in &names {
        let Some(first) = seen.get(&(name.scope, name.key.as_str())) else {
            seen.insert((name.scope, name.key.as_str()), name);
            continue;
        };
        let what = if first.owner == name.owner {
            format!("`{}` has the name `{}` twice", name.owner, name.text)
        } else {
            format!(
                "`{}` and `{}` share the name `{}`",
                first.owner, name.owner, name.text
            )
        };
        checks.out.push(
            Diagnostic::new(
                Code::SharedName,
                name.place.clone(),
                what,
                "take it from one of them, or say it more exactly",
            )
            .with_also(first.place.clone(), "it stands here first"),
        );
    }
    check_former(checks, former);
}

struct Collect<'p> {
    item: Option<Item<'p>>,
    names: Vec<Name<'p>>,
    former: Vec<(Sort, &'p str, &'p str, &'p Place)>,
}

impl<'p> Visit<'p> for Collect<'p> {
    fn names(&mut self, names: &'p Names, spot: &Spot<'_, 'p>) {
        let Some(item) = &self.item else { return };
        // The names of a constraint stand below its axis, those of a value in its field.
        let outer = spot.up().map(Spot::last);
        let (scope, owner) = match (spot.last(), outer) {
            (Step::Key(value, _), _) => ((item.sort, item.id), value),
            (_, Some(Step::Key(inner, _))) => ((Sort::Constraint, ""), inner),
            _ => ((item.sort, ""), item.id),
        };
        for name in names.en.iter().filter(|name| !name.trim().is_empty()) {
            let key = folded(name);
            self.names.push(Name {
                scope,
                key,
                text: name,
                place: &name.place,
                owner,
            });
        }
        if scope.1.is_empty() {
            let former = names.formerly.iter().filter(|old| !old.trim().is_empty());
            self.former
                .extend(former.map(|old| (scope.0, old.as_str(), owner, &old.place)));
        }
    }
}

/// Upper case, hyphens and wide gaps make no other name.
fn folded(name: &str) -> String {
    let lower = name.to_lowercase().replace('-', " ");
    let words: Vec<&str> = lower.split_whitespace().collect();
    words.join(" ")
}

fn check_former(checks: &mut Checks<'_, '_>, mut former: Vec<(Sort, &str, &str, &Place)>) {
    former.sort_by(|one, other| one.3.cmp(other.3));
    let mut seen: BTreeMap<(Sort, &str), &Place> = BTreeMap::new();
    for (sort, old, owner, place) in former {
        let (one, _, _) = sort.words();
        if let Err(bad) = SkillId::new(old) {
            checks.problem(
                Code::BadId,
                place.clone(),
                bad.to_string(),
                "write the id that it had",
            );
        } else if let Some(live) = checks.declared.place(sort, old) {
            let what = format!("`{owner}` was formerly `{old}`, but there is a {one} `{old}`");
            checks.out.push(
                Diagnostic::new(
                    Code::Contradiction,
                    place.clone(),
                    what,
                    "take it out of `formerly`, or give the other another id",
                )
                .with_also(live.clone(), format!("`{old}` stands here")),
            );
        } else if let Some(first) = seen.get(&(sort, old)) {
            let what = format!("two were formerly `{old}`, and only one can be meant");
            checks.out.push(
                Diagnostic::new(Code::DuplicateId, place.clone(), what, "take one out")
                    .with_also((*first).clone(), "it stands here first"),
            );
        } else {
            seen.insert((sort, old), place);
        }
    }
}

/// The former ids of what a pack names, with the id of today.
pub(super) fn former_ids<'p>(checks: &Checks<'p, '_>) -> BTreeMap<(Sort, &'p str), &'p str> {
    let mut collected = Collect {
        item: None,
        names: Vec::new(),
        former: Vec::new(),
    };
    for item in items(checks.pack) {
        let body = item.body;
        let spot = Spot::item(item.place);
        collected.item = Some(item);
        body.walk(&spot, &mut collected);
    }
    collected
        .former
        .into_iter()
        .map(|(sort, old, owner, _)| ((sort, old), owner))
        .collect()
}

/// A value as written, with all that has no order in order, so that what means the same reads the same.
pub(super) fn canonical(node: Option<&Node>) -> String {
    use crate::rules::read::Kind;
    let Some(node) = node else {
        return String::new();
    };
    match &node.kind {
        Kind::Scalar(scalar) => format!("{:?}", scalar.text),
        Kind::Refused => String::new(),
        Kind::List(items) => {
            let mut items: Vec<String> = items.iter().map(|item| canonical(Some(item))).collect();
            items.sort();
            format!("[{}]", items.join(","))
        }
        Kind::Map(entries) => {
            let mut entries: Vec<String> = entries
                .iter()
                .map(|(key, value)| format!("{:?}:{}", key.text, canonical(Some(value))))
                .collect();
            entries.sort();
            format!("{{{}}}", entries.join(","))
        }
    }
}
