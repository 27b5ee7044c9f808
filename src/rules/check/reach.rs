//! What a selector reaches as far as rules alone say it: exercises by name, and where they stand.
//! What hangs on the case or on constraints is compared as it is written.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{At, SkillId};
use crate::rules::pack::Pack;
use crate::rules::read::Node;

use super::Checks;
use super::lineage::MOST_STEPS;
use super::names::canonical;
use super::sections::Sort;

/// Groups of groups beyond this are told elsewhere, and so are groups in a circle.
const MOST_NESTED: usize = 12;

/// An exercise, or a component of a complex.
struct Piece<'p> {
    /// The exercise as listed, which for a component is the complex.
    listed: &'p str,
    /// The exercise itself and all that it comes from, itself first.
    line: Vec<&'p str>,
    /// Whether nothing is on top of it.
    plain: bool,
    skills: &'p [At<SkillId>],
}

/// Every exercise of a pack with what names it.
pub(super) struct Exercises<'p>(Vec<Piece<'p>>);

/// The same before pieces are put together again, by their numbers.
struct Found<'t> {
    pieces: BTreeSet<usize>,
    placed: BTreeMap<&'static str, BTreeSet<&'t str>>,
    rest: BTreeSet<String>,
}

/// What a selector reaches.
pub(super) struct Reach<'p, 't> {
    exercises: BTreeSet<&'p str>,
    /// Whether it names any.
    named: bool,
    /// By key, where it asks for one: roles, parts, efforts.
    placed: BTreeMap<&'static str, BTreeSet<&'t str>>,
    /// Whatever else it asks for, as written.
    rest: BTreeSet<String>,
}

impl Reach<'_, '_> {
    /// Whether all that this reaches is reached by another too.
    pub(super) fn within(&self, other: &Self) -> bool {
        other.rest.is_subset(&self.rest)
            && other.placed.iter().all(|(key, most)| {
                self.placed
                    .get(key)
                    .is_some_and(|held| held.is_subset(most))
            })
            && self.exercises.is_subset(&other.exercises)
    }

    /// Whether it names exercises, and none of them is there.
    pub(super) fn is_nothing(&self) -> bool {
        self.named && self.exercises.is_empty()
    }
}

impl<'p> Exercises<'p> {
    pub(super) fn of(pack: &'p Pack) -> Self {
        let line_of = |id: &'p str| {
            let mut line = vec![id];
            let mut at = id;
            // What stands further down, or in a circle, has been told.
            for _ in 0..MOST_STEPS {
                let Some(variation) = super::items::get(&pack.variations, at) else {
                    break;
                };
                at = variation.from.as_str();
                line.push(at);
            }
            line
        };
        let piece = |listed: &'p str, id: &'p str, plain: bool| {
            let line = line_of(id);
            let root = line
                .last()
                .and_then(|root| super::items::get(&pack.roots, root));
            Piece {
                listed,
                plain,
                skills: root.map_or(&[], |root| root.skills.as_slice()),
                line,
            }
        };
        let single = pack.roots.keys().chain(pack.variations.keys());
        let mut all: Vec<Piece<'p>> = single
            .map(|id| piece(id.as_str(), id.as_str(), true))
            .collect();
        for (id, complex) in &pack.complexes {
            all.extend(complex.components.iter().map(|component| {
                let plain = component.with.is_empty();
                piece(id.as_str(), component.exercise.as_str(), plain)
            }));
        }
        Self(all)
    }

    /// How many of them are told apart: exercises, and components of complexes.
    pub(super) fn len(&self) -> usize {
        self.0.len()
    }

    /// What the selector written at a node reaches.
    pub(super) fn reach<'t>(
        &self,
        checks: &Checks<'_, 't>,
        selector: Option<&'t Node>,
    ) -> Reach<'p, 't> {
        let found = self.read(checks, selector, MOST_NESTED);
        let listed = |at: &usize| self.0.get(*at).map(|piece| piece.listed);
        Reach {
            named: found.pieces.len() < self.0.len(),
            exercises: found.pieces.iter().filter_map(listed).collect(),
            placed: found.placed,
            rest: found.rest,
        }
    }

    fn read<'t>(
        &self,
        checks: &Checks<'_, 't>,
        selector: Option<&'t Node>,
        depth: usize,
    ) -> Found<'t> {
        let mut pieces = self.which(|_| true);
        let (mut placed, mut rest) = (BTreeMap::new(), BTreeSet::new());
        for (key, value) in selector.and_then(Node::as_map).unwrap_or_default() {
            let items = value.as_list().unwrap_or_default();
            let named: BTreeSet<&str> = items.iter().filter_map(Node::as_text).collect();
            let found = match key.text.as_str() {
                "everything" => continue,
                "exercises" | "full" => Some(self.which(|piece| {
                    named.contains(piece.listed)
                        || (piece.plain
                            && piece.line.first().is_some_and(|own| named.contains(own)))
                })),
                "under" => Some(self.which(|piece| {
                    named.contains(piece.listed) || piece.line.iter().any(|id| named.contains(id))
                })),
                "skills" => Some(
                    self.which(|piece| piece.skills.iter().any(|id| named.contains(id.as_str()))),
                ),
                "groups" => self.any_of(
                    checks,
                    named.iter().map(|id| {
                        let group = checks.node(Sort::Group, id)?;
                        group.entry("what").map(|(_, what)| what)
                    }),
                    depth,
                ),
                "any" => self.any_of(checks, items.iter().map(Some), depth),
                "not" => self
                    .any_of(checks, items.iter().map(Some), depth)
                    .map(|out| {
                        let listed = |at: &usize| self.0.get(*at).map(|piece| piece.listed);
                        let out: BTreeSet<&str> = out.iter().filter_map(listed).collect();
                        self.which(|piece| !out.contains(piece.listed))
                    }),
                "roles" | "parts" | "efforts" => {
                    let word = match key.text.as_str() {
                        "roles" => "roles",
                        "parts" => "parts",
                        _ => "efforts",
                    };
                    placed.insert(word, named);
                    continue;
                }
                _ => None,
            };
            match found {
                Some(found) => pieces.retain(|piece| found.contains(piece)),
                None => {
                    rest.insert(format!("{}: {}", key.text, canonical(Some(value))));
                }
            }
        }
        Found {
            pieces,
            placed,
            rest,
        }
    }

    fn which(&self, holds: impl Fn(&Piece<'p>) -> bool) -> BTreeSet<usize> {
        let all = self.0.iter().enumerate();
        all.filter(|(_, piece)| holds(piece))
            .map(|(at, _)| at)
            .collect()
    }

    /// What one of several selectors reaches, if all of them ask for nothing but names.
    fn any_of<'t>(
        &self,
        checks: &Checks<'_, 't>,
        selectors: impl Iterator<Item = Option<&'t Node>>,
        depth: usize,
    ) -> Option<BTreeSet<usize>> {
        let mut all = BTreeSet::new();
        for selector in selectors {
            let depth = depth.checked_sub(1)?;
            let found = self.read(checks, Some(selector?), depth);
            if !found.placed.is_empty() || !found.rest.is_empty() {
                return None;
            }
            all.extend(found.pieces);
        }
        Some(all)
    }
}
