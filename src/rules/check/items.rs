//! Every item of a pack, whatever its kind.

use std::str::FromStr;

use crate::base::{Code, Diagnostic, Place};
use crate::rules::kinds::{Rule, Rules};
use crate::rules::pack::{Items, Pack};
use crate::rules::read::Node;

use super::Checks;
use super::sections::{Sort, rule_sections, sections};
use super::walk::{Spot, Visit, Walk};

/// So many problems that nobody looks at the exact place of each any more.
const MANY: usize = 2_000;

/// One item.
pub(crate) struct Item<'p> {
    pub(crate) sort: Sort,
    pub(crate) id: &'p str,
    /// Where its key stands.
    pub(crate) place: &'p Place,
    pub(crate) body: &'p dyn Walk,
}

impl<'p> Item<'p> {
    /// Shows a visitor everything in it.
    pub(crate) fn walk(&self, visit: &mut dyn Visit<'p>) {
        self.body.walk(&Spot::item(self.place), visit);
    }
}

/// Every item of a pack.
pub(crate) fn items(pack: &Pack) -> Vec<Item<'_>> {
    let mut all = Vec::new();
    macro_rules! each {
        ($($kind:literal $variant:literal $sort:ident $field:ident;)*) => {
            let Pack { $($field,)* rules: _, composed: _ } = pack;
            $(all.extend($field.iter().map(|(id, body)| {
                Item { sort: Sort::$sort, id: id.as_str(), place: &id.place, body: body as &dyn Walk }
            }));)*
        };
    }
    macro_rules! each_rule {
        ($($kind:literal $field:ident;)*) => {
            let Rules { $($field,)* } = &pack.rules;
            $(all.extend($field.iter().map(|(id, body)| {
                Item { sort: Sort::Rule($kind), id: id.as_str(), place: &id.place, body: body as &dyn Walk }
            }));)*
        };
    }
    sections!(each);
    rule_sections!(each_rule);
    all
}

/// Every rule of a pack with the word of its kind and its id.
pub(crate) fn rules(pack: &Pack) -> Vec<(&'static str, &str, &dyn AnyRule)> {
    let mut all: Vec<(&'static str, &str, &dyn AnyRule)> = Vec::new();
    macro_rules! each_rule {
        ($($kind:literal $field:ident;)*) => {
            $(all.extend(pack.rules.$field.iter().map(|(id, body)| {
                ($kind, id.as_str(), body as &dyn AnyRule)
            }));)*
        };
    }
    rule_sections!(each_rule);
    all
}

/// What every rule has, for rules of any kind in one list.
pub(crate) trait AnyRule {
    /// When it speaks.
    fn when(&self) -> Option<&crate::rules::vocab::Condition>;
    /// What it does where that can't be decided.
    fn if_unknown(&self) -> Option<crate::rules::vocab::IfUnknown>;
}

impl<R: Rule> AnyRule for R {
    fn when(&self) -> Option<&crate::rules::vocab::Condition> {
        Rule::when(self)
    }
    fn if_unknown(&self) -> Option<crate::rules::vocab::IfUnknown> {
        Rule::if_unknown(self)
    }
}

impl<'t> Checks<'_, 't> {
    /// Adds a problem.
    pub(crate) fn problem(
        &mut self,
        code: Code,
        place: Place,
        what: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.out.push(Diagnostic::new(code, place, what, help));
    }

    /// The item as written.
    pub(crate) fn node(&self, sort: Sort, id: &str) -> Option<&'t Node> {
        self.declared.node(sort, id)
    }

    /// The place of a key of an item; the item's own where it is not written.
    pub(crate) fn key_place(&self, sort: Sort, id: &str, key: &str) -> Place {
        let entry = self.node(sort, id).and_then(|node| node.entry(key));
        entry.map_or_else(|| self.own_place(sort, id), |(key, _)| key.place.clone())
    }

    /// Where an item's key stands.
    pub(crate) fn own_place(&self, sort: Sort, id: &str) -> Place {
        self.declared
            .place(sort, id)
            .cloned()
            .unwrap_or_else(Place::unknown)
    }

    /// The place of a value inside an item, by keys; the item's own where it is not written.
    pub(crate) fn place(&self, sort: Sort, id: &str, keys: &[&str]) -> Place {
        // Looking keys up takes time in long maps, so after very many problems the item must do.
        let mut at = self.node(sort, id).filter(|_| self.out.len() < MANY);
        for key in keys {
            at = at.and_then(|node| node.entry(key)).map(|(_, node)| node);
        }
        at.map_or_else(|| self.own_place(sort, id), |node| node.place.clone())
    }
}

/// The item with the id of this text.
pub(crate) fn get<'p, I: FromStr + Ord, T>(items: &'p Items<I, T>, id: &str) -> Option<&'p T> {
    items.get(&id.parse::<I>().ok()?)
}
