//! The rules of a pack by kind, and those that stand under another kind than the one that they are
//! written for.

use serde::de::DeserializeOwned;

use crate::base::{At, Code, Diagnostic, RuleId};

use super::check::declared::list;
use super::check::sections::{Sort, rule_sections};
use super::kinds::Rules;
use super::load::Loader;
use super::pack::Pack;
use super::read::{Beyond, Fit, Key, Node, Reached, fit, read_as_far};

macro_rules! rule_readers {
    ($($kind:literal $field:ident;)*) => {
        impl<'t> Loader<'t> {
            /// Reads the rules of one kind.
            pub(super) fn rules(&mut self, kind: &str, path: &str, entries: &'t [(Key, Node)]) {
                match kind {
                    $($kind => self.items(Sort::Rule($kind), path, entries, |pack, id, item| {
                        pack.rules.$field.push((id, item));
                    }),)*
                    _ => {}
                }
            }
        }

        /// Puts the rules of each kind in the order of their ids.
        pub(super) fn sort_rules(pack: &mut Pack) {
            $(pack.rules.$field.sort_by_key(|(id, _)| id.value.clone());)*
        }

        /// How well a node fits each kind.
        fn fits(node: &Node) -> Vec<(&'static str, Fit)> {
            let rules = Rules::default();
            vec![$(($kind, fit_of(&rules.$field, node)),)*]
        }

        /// Puts what can be had of a rule where those of a kind are.
        fn salvage(kind: &str, rule: &Misplaced<'_>, rules: &mut Rules, out: &mut Vec<Diagnostic>, beyond: &mut Vec<Beyond>) {
            match kind {
                $($kind => rule.put(&mut rules.$field, out, beyond),)*
                _ => {}
            }
        }
    };
}
rule_sections!(rule_readers);

fn fit_of<T: DeserializeOwned>(_: &[(At<RuleId>, T)], node: &Node) -> Fit {
    fit::<T>(node)
}

/// A rule under another kind.
struct Misplaced<'t> {
    id: Option<At<RuleId>>,
    node: &'t Node,
    path: String,
}

impl Misplaced<'_> {
    fn put<T: DeserializeOwned>(
        &self,
        rules: &mut Vec<(At<RuleId>, T)>,
        out: &mut Vec<Diagnostic>,
        beyond: &mut Vec<Beyond>,
    ) {
        match read_as_far::<T>(self.node, &self.path, out, beyond) {
            Reached::Whole(rule) | Reached::Salvaged(rule) => {
                rules.extend(self.id.clone().map(|id| (id, rule)));
            }
            Reached::Nothing => {}
        }
    }
}

/// The keys of a rule that problems say are none of its kind's, and how many problems there are
/// with its keys, those that it lacks among them.
fn wrong_keys<'t>(node: &'t Node, found: &[Diagnostic]) -> (Vec<&'t str>, usize) {
    let is_unknown = |key: &Key| {
        let mut found = found.iter();
        found.any(|problem| problem.code == Code::UnknownKey && problem.place == key.place)
    };
    let entries = node.as_map().unwrap_or_default();
    let unknown = entries.iter().filter(|(key, _)| is_unknown(key));
    let unknown: Vec<&str> = unknown.map(|(key, _)| key.text.as_str()).collect();
    let lacks =
        |problem: &&Diagnostic| problem.code == Code::MissingKey && problem.place == node.place;
    let in_all = unknown.len() + found.iter().filter(lacks).count();
    (unknown, in_all)
}

/// The only other kind that a rule fits, with all its keys there and right; of the values fewer may
/// be wrong than `wrong`.
fn only_other(kind: &str, node: &Node, wrong: usize) -> Option<&'static str> {
    let mut all = fits(node);
    all.retain(|(other, fit)| *other != kind && *fit != Fit::Not);
    if all.iter().any(|(_, fit)| *fit == Fit::Whole) {
        all.retain(|(_, fit)| *fit == Fit::Whole);
    }
    match all.as_slice() {
        [(only, Fit::Whole)] => Some(only),
        [(only, Fit::Keys { wrong_values })] if *wrong_values < wrong => Some(only),
        _ => None,
    }
}

impl<'t> Loader<'t> {
    /// Whether a rule with these problems is one of another kind. Then that is told in their place,
    /// with what is wrong with it as a rule of that kind.
    pub(super) fn is_misplaced(
        &mut self,
        sort: Sort,
        (key, node): &'t (Key, Node),
        found: usize,
    ) -> bool {
        let Sort::Rule(kind) = sort else {
            return false;
        };
        let (unknown, wrong) = wrong_keys(node, self.out.get(found..).unwrap_or_default());
        if unknown.is_empty() {
            return false;
        }
        let Some(other) = only_other(kind, node, wrong) else {
            return false;
        };
        self.out.truncate(found);
        let told = Diagnostic::new(
            Code::UnknownKey,
            key.place.clone(),
            format!(
                "the keys of `rules.{kind}.{}` are those of the kind `{other}`; `{kind}` has no {}",
                key.text,
                list(&unknown)
            ),
            format!("move it to `{other}` under `rules`, or give it the keys of `{kind}`"),
        );
        // That the word of the section stands twice has been told.
        self.out.extend((!self.section_again).then_some(told));
        let id = RuleId::new(&key.text).ok();
        let rule = Misplaced {
            id: id.map(|id| At::new(id, key.place.clone())),
            node,
            path: format!("rules.{other}.{}", key.text),
        };
        let (salvaged, beyond) = (&mut self.salvaged.pack.rules, &mut self.salvaged.beyond);
        salvage(other, &rule, salvaged, &mut self.out, beyond);
        let there = Sort::Rule(other);
        if rule.id.is_none() {
            self.declared.bad_id(there, &key.text);
        } else if self
            .declared
            .add(there, &key.text, &key.place, Some(node))
            .is_none()
        {
            self.declared.broken(there, &key.text);
        }
        true
    }
}
