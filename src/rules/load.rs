//! From the texts of rule files to a checked pack, with every problem of every file at once.

use std::collections::BTreeSet;
use std::sync::Arc;

use serde::de::DeserializeOwned;

use crate::base::{At, Code, Diagnostic, Place, SkillId};

use super::by_kind::sort_rules;
use super::case_read::check_tests;
use super::check::check;
use super::check::copies::tell_copies;
use super::check::declared::{Declared, list};
use super::check::salvaged::{Salvaged, check_salvaged};
use super::check::sections::{Sort, sections};
use super::pack::{Items, Pack};
use super::read::{
    Beyond, Key, Limits, Lost, Node, Reached, check_texts, parse, read_as_far, read_key,
};
use super::shape::{FORMAT, duplicate, entries, format_is_read, unknown_key};

/// Reads and checks a pack from the names and texts of its files, in any order, and those of which
/// there is no text.
///
/// # Errors
///
/// Every problem that was found, sorted by place; each file without a text is one.
pub(crate) fn load(
    files: &[(Arc<str>, Arc<str>)],
    lost: Vec<Lost>,
    limits: &Limits,
) -> Result<Pack, Vec<Diagnostic>> {
    let mut files = files.to_vec();
    files.sort();
    let (mut out, mut declared) = (Vec::new(), Declared::default());
    for Lost { problem, lossy } in lost {
        match lossy {
            Some(text) => declared.words_of_text(&text),
            None => declared.anything(),
        }
        out.push(problem);
    }
    if !check_texts(&files, limits, &mut out) || (files.is_empty() && !out.is_empty()) {
        out.sort();
        return Err(out);
    }
    let mut trees = Vec::new();
    for (name, text) in &files {
        match parse(text, name, limits, &mut out) {
            Some(tree) => trees.push(tree),
            // Nobody knows what it would have declared, so any word of it may be an id.
            None => declared.words_of_text(text),
        }
    }
    let mut loader = Loader {
        pack: Pack::default(),
        salvaged: Salvaged::default(),
        declared,
        out,
    };
    for tree in &trees {
        loader.file(tree);
    }
    let Loader {
        mut pack,
        salvaged,
        declared,
        mut out,
    } = loader;
    sort_rules(&mut pack);
    let spoilt: BTreeSet<Place> = out.iter().map(|problem| problem.place.clone()).collect();
    let (found, declared) = check(&pack, declared);
    out.extend(found);
    if !spoilt.is_empty() {
        out.extend(check_salvaged(&mut pack, salvaged, &spoilt, declared));
    }
    tell_copies(&mut out);
    // What is wrong with the rules would show up again in each case that is read with them.
    if out.is_empty() {
        check_tests(&pack, &mut out);
    }
    out.sort();
    out.dedup();
    if out.is_empty() { Ok(pack) } else { Err(out) }
}

/// What reads the files of a pack one after the other.
pub(super) struct Loader<'t> {
    pack: Pack,
    pub(super) salvaged: Salvaged,
    pub(super) declared: Declared<'t>,
    pub(super) out: Vec<Diagnostic>,
}

impl<'t> Loader<'t> {
    fn file(&mut self, tree: &'t Node) {
        let start = Place::start_of(&tree.place.file);
        let Some(map) = tree.as_map() else {
            self.out.push(Diagnostic::new(
                Code::WrongType,
                tree.place.clone(),
                format!(
                    "a rule file is a map with `format` and one kind, not {}",
                    tree.in_words()
                ),
                format!("write `format: {FORMAT}` and then one kind, such as `exercises:`"),
            ));
            self.declared.words_of_node(tree);
            return;
        };
        if !format_is_read(map, &start, &mut self.out) {
            self.declared.words_of_node(tree);
            return;
        }
        let kinds = kind_words();
        let mut first: Option<&Key> = None;
        for (key, node) in map.iter().filter(|(key, _)| key.text != "format") {
            if !kinds.contains(&key.text.as_str()) {
                let mut problem = unknown_key(key, "kind of thing", &kinds);
                if key.text == "case" {
                    problem.help = String::from(
                        "a case file does not belong in the folder of the rules; tests of the \
                         method, which do, are of the kind `cases`",
                    );
                }
                self.out.push(problem);
                self.declared.words_of_node(node);
                first = first.or(Some(key));
                continue;
            }
            if let Some(first) = first {
                self.out.push(
                    Diagnostic::new(
                        Code::Contradiction,
                        key.place.clone(),
                        format!("`{}` is a second kind in one file", key.text),
                        "put each kind into a file of its own",
                    )
                    .with_also(first.place.clone(), format!("`{}` stands here", first.text)),
                );
            }
            first = first.or(Some(key));
            self.kind(key, node);
        }
        if first.is_none() {
            self.out.push(Diagnostic::new(
                Code::MissingKey,
                start,
                "the file has a format and nothing else",
                format!("add one kind: {}", list(&kinds)),
            ));
        }
    }

    fn kind(&mut self, key: &'t Key, node: &'t Node) {
        let kind = key.text.as_str();
        let variants = variant_words(kind);
        if variants.is_empty() {
            match entries(key, node, kind, "ids", &mut self.out) {
                Some(entries) => self.section(kind, "", entries),
                None => self.declared.words_of_node(node),
            }
            return;
        }
        let holds = format!("sections ({})", list(&variants));
        let Some(sections) = entries(key, node, kind, &holds, &mut self.out) else {
            self.declared.words_of_node(node);
            return;
        };
        for (key, node) in sections {
            let variant = key.text.as_str();
            if !variants.contains(&variant) {
                self.out
                    .push(unknown_key(key, &format!("section of `{kind}`"), &variants));
                self.declared.words_of_node(node);
                continue;
            }
            match entries(
                key,
                node,
                &format!("{kind}.{variant}"),
                "ids",
                &mut self.out,
            ) {
                Some(entries) => self.section(kind, variant, entries),
                None => self.declared.words_of_node(node),
            }
        }
    }

    /// Reads the items of one section.
    pub(super) fn items<I, T>(
        &mut self,
        sort: Sort,
        path: &str,
        entries: &'t [(Key, Node)],
        put: impl Fn(&mut Pack, At<I>, T),
    ) where
        I: DeserializeOwned,
        T: DeserializeOwned,
    {
        for entry in entries {
            let (key, node) = entry;
            let id: Option<I> = read_key(key, path, &mut self.out);
            let item_path = format!("{path}.{}", key.text);
            let (mut beyond, found) = (Vec::new(), self.out.len());
            let reached = read_as_far::<T>(node, &item_path, &mut self.out, &mut beyond);
            if self.out.len() > found && self.is_misplaced(sort, entry, found) {
                continue;
            }
            let (item, salvaged) = match reached {
                Reached::Whole(item) => {
                    self.declared.beyond.extend(beyond);
                    (Some(item), None)
                }
                Reached::Salvaged(item) => {
                    self.salvaged.beyond.extend(beyond);
                    (None, Some(item))
                }
                Reached::Nothing => {
                    self.out.extend(beyond.into_iter().map(Beyond::in_broken));
                    (None, None)
                }
            };
            let first = id
                .as_ref()
                .and_then(|_| self.declared.add(sort, &key.text, &key.place, Some(node)));
            if let Some(first) = first {
                let (one, _, _) = sort.words();
                self.out.push(duplicate(
                    &format!("the {one} `{}`", key.text),
                    &key.place,
                    first,
                ));
            } else if id.is_some() && item.is_none() {
                self.declared.broken(sort, &key.text);
            } else if id.is_none() {
                self.declared.bad_id(sort, &key.text);
            }
            self.inner(
                sort,
                node,
                first.is_none() && id.is_some() && item.is_some(),
            );
            if let (Some(id), None) = (id, first) {
                let id = At::new(id, key.place.clone());
                match (item, salvaged) {
                    (Some(item), _) => put(&mut self.pack, id, item),
                    (None, Some(item)) => put(&mut self.salvaged.pack, id, item),
                    (None, None) => {}
                }
            }
        }
    }

    /// Notes the ids that are declared inside an item.
    fn inner(&mut self, sort: Sort, node: &'t Node, read: bool) {
        match sort {
            Sort::Axis => {
                let held = node
                    .entry("constraints")
                    .and_then(|(_, held)| held.as_map())
                    .unwrap_or_default();
                for (key, node) in held {
                    if SkillId::new(&key.text).is_err() {
                        self.declared.bad_id(Sort::Constraint, &key.text);
                    } else if let Some(first) =
                        self.declared
                            .add(Sort::Constraint, &key.text, &key.place, Some(node))
                    {
                        self.out.push(duplicate(
                            &format!("the constraint `{}`", key.text),
                            &key.place,
                            first,
                        ));
                    } else if !read {
                        self.declared.broken(Sort::Constraint, &key.text);
                    }
                }
            }
            Sort::Skill => {
                let held = node
                    .entry("stages")
                    .and_then(|(_, held)| held.as_list())
                    .unwrap_or_default();
                for stage in held {
                    let Some(text) = stage.as_text() else {
                        continue;
                    };
                    if SkillId::new(text).is_err() {
                        self.declared.bad_id(Sort::Stage, text);
                    } else {
                        // Skills share stages, so a second one is no problem.
                        let _first = self.declared.add(Sort::Stage, text, &stage.place, None);
                    }
                }
            }
            _ => {}
        }
    }
}

fn put<I: Ord, T>(items: &mut Items<I, T>, id: At<I>, item: T) {
    items.insert(id, item);
}

macro_rules! readers {
    ($($kind:literal $variant:literal $sort:ident $field:ident;)*) => {
        /// The kinds that a file can hold, each once.
        fn kind_words() -> Vec<&'static str> {
            let mut all = vec![$($kind,)* "rules"];
            all.dedup();
            all
        }

        /// The sections of a kind, none where it has none.
        fn variant_words(kind: &str) -> Vec<&'static str> {
            if kind == "rules" {
                return super::kinds::KINDS.to_vec();
            }
            let all = [$(($kind, $variant),)*];
            all.iter().filter(|(of, variant)| *of == kind && !variant.is_empty()).map(|(_, variant)| *variant).collect()
        }

        impl<'t> Loader<'t> {
            fn section(&mut self, kind: &str, variant: &str, entries: &'t [(Key, Node)]) {
                let path = if variant.is_empty() { kind.to_owned() } else { format!("{kind}.{variant}") };
                match (kind, variant) {
                    $(($kind, $variant) => {
                        self.items(Sort::$sort, &path, entries, |pack, id, item| put(&mut pack.$field, id, item));
                    })*
                    _ => self.rules(variant, &path, entries),
                }
            }
        }
    };
}

sections!(readers);
