//! The ids that are declared inside an item: the constraints of an axis, the stages of a skill.

use crate::base::{SkillId, nearest};

use super::check::sections::Sort;
use super::load::Loader;
use super::read::{Key, Kind, Node, Standing};
use super::shape::duplicate;

/// The key under which items of a sort declare ids, and the sort of those.
pub(super) fn inside_of(sort: Sort) -> Option<(&'static str, Sort)> {
    match sort {
        Sort::Axis => Some(("constraints", Sort::Constraint)),
        Sort::Skill => Some(("stages", Sort::Stage)),
        _ => None,
    }
}

/// Whether an item lacks a key, and has none that was perhaps meant for it.
fn lacks(node: &Node, key: &str) -> bool {
    let meant =
        |other: &Key| other.standing == Standing::Refused || nearest(&other.text, [key]).is_some();
    let entries = node.as_map();
    entries.is_some_and(|entries| !entries.iter().any(|(other, _)| meant(other)))
}

impl<'t> Loader<'t> {
    /// Notes the ids that are declared inside an item; `read` says whether it was read whole.
    pub(super) fn inside(&mut self, sort: Sort, node: &'t Node, read: bool) {
        let Some((key, inner)) = inside_of(sort) else {
            return;
        };
        match node.entry(key).map(|(_, held)| &held.kind) {
            Some(Kind::Map(held)) if sort == Sort::Axis => self.constraints(held, read),
            Some(Kind::List(held)) if sort == Sort::Skill => self.stages(held),
            // Stages need not be there, and constraints are there where an axis was read.
            None if read || (sort == Sort::Skill && lacks(node, key)) => {}
            _ => self.unread_inside(inner, node, key),
        }
    }

    fn constraints(&mut self, held: &'t [(Key, Node)], read: bool) {
        let sort = Sort::Constraint;
        for (key, node) in held {
            if key.standing == Standing::Refused {
                self.declared.unnamed(sort);
            } else if SkillId::new(&key.text).is_err() {
                self.declared.bad_id(sort, &key.text);
            } else if let Some(first) = self.declared.add(sort, &key.text, &key.place, Some(node)) {
                if key.standing != Standing::Again {
                    self.out.push(duplicate(
                        &format!("the constraint `{}`", key.text),
                        &key.place,
                        first,
                    ));
                }
                self.declared.doubled(sort, key, first);
            } else if !read {
                self.declared.broken(sort, &key.text);
            }
        }
    }

    fn stages(&mut self, held: &'t [Node]) {
        for stage in held {
            match stage.as_text() {
                Some(text) if SkillId::new(text).is_ok() => {
                    // Skills share stages, so a second one is no problem.
                    let _first = self.declared.add(Sort::Stage, text, &stage.place, None);
                }
                Some(text) => self.declared.bad_id(Sort::Stage, text),
                None => self.declared.unnamed(Sort::Stage),
            }
        }
    }

    /// Notes that what an item declares under a key could not be read: any id may be one of them, or
    /// any word under what was probably meant for the key.
    fn unread_inside(&mut self, sort: Sort, node: &'t Node, key: &str) {
        let entries = node.as_map().unwrap_or_default();
        let mut meant = entries.iter().filter(|(other, held)| {
            let holds = matches!(held.kind, Kind::List(_) | Kind::Map(_));
            holds && other.text != key && nearest(&other.text, [key]).is_some()
        });
        match meant.next() {
            Some((_, held)) => self.declared.words_of_node(held),
            None => self.declared.unnamed(sort),
        }
    }
}
