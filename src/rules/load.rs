//! From the texts of rule files to a checked pack, with every problem of every file at once.

use std::sync::Arc;

use serde::de::DeserializeOwned;

use crate::base::{At, Code, Diagnostic, Place};

use super::by_kind::sort_rules;
use super::case_read::check_tests;
use super::check::check;
use super::check::copies::tell_copies;
use super::check::declared::{Declared, list};
use super::check::salvaged::{Doubles, NO_ID, Salvaged, check_salvaged, spoilt};
use super::check::sections::{Sort, sections};
use super::check::together::tell_together;
use super::inside::inside_of;
use super::pack::{Items, Pack};
use super::parsed::{Parse, parse_all};
use super::read::{
    Beyond, Fit, Key, Limits, Lost, Node, Reached, Standing, check_texts, fit, read_as_far,
    read_key,
};
use super::shape::{
    FORMAT, duplicate, entries, format_is_read, is_cut_off, is_for_format, unknown_key,
};

/// Reads and checks a pack from the names and texts of its files, in any order, and those of which
/// there is no text.
///
/// # Errors
///
/// Every problem that was found, sorted by place; each file without a text is one.
pub(crate) fn load(
    parse: Parse,
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
    for ((_, text), (tree, new)) in files.iter().zip(parse_all(parse, &files, limits)) {
        let before = out.len();
        out.extend(new);
        let mut new = out.iter().skip(before);
        // Nobody knows what was not read would have declared, so any word of it may be an id.
        if tree.is_none() || new.any(|told| told.code == Code::SecondDocument) {
            declared.words_of_text(text);
        }
        trees.extend(tree);
    }
    let mut loader = Loader {
        pack: Pack::default(),
        salvaged: Salvaged::default(),
        doubles: Doubles::default(),
        section_again: false,
        declared,
        out,
    };
    for tree in &trees {
        loader.file(tree);
    }
    let Loader {
        mut pack,
        salvaged,
        doubles,
        declared,
        mut out,
        ..
    } = loader;
    sort_rules(&mut pack);
    let spoilt = spoilt(&out);
    let (found, declared) = check(&pack, declared);
    out.extend(found);
    if !spoilt.is_empty() {
        let found = check_salvaged(&mut pack, salvaged, doubles, &spoilt, declared, &mut out);
        out.extend(found);
    }
    tell_copies(&mut out);
    // What is wrong with the rules would show up again in each case that is read with them.
    if out.is_empty() {
        check_tests(&pack, &mut out);
    }
    tell_together(&mut out);
    if out.is_empty() { Ok(pack) } else { Err(out) }
}

/// What reads the files of a pack one after the other.
pub(super) struct Loader<'t> {
    pack: Pack,
    pub(super) salvaged: Salvaged,
    pub(super) declared: Declared<'t>,
    /// Items whose id stands before.
    doubles: Doubles<'t>,
    /// Whether the section that is read stands before: then its word is perhaps not the one meant.
    pub(super) section_again: bool,
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
        let kinds = kind_words();
        let is_kind = |key: &Key| kinds.contains(&key.text.as_str());
        if !format_is_read(map, &start, &mut self.out)
            && (tree.entry("format").is_some() || !map.iter().any(|(key, _)| is_kind(key)))
        {
            self.declared.words_of_node(tree);
            return;
        }
        let mut first: Option<&Key> = None;
        // What else there is may stand in a second document.
        let mut refused = is_cut_off(tree, &self.out);
        for (key, node) in map.iter().filter(|(key, _)| key.text != "format") {
            if key.standing == Standing::Refused || is_for_format(key, map) {
                self.declared.words_of_node(node);
                refused = true;
                continue;
            }
            if !is_kind(key) {
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
            if let Some(first) = first.filter(|_| key.standing != Standing::Again) {
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
        if first.is_none() && !refused {
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
                None => self.unread(kind, "", node),
            }
            return;
        }
        let holds = format!("sections ({})", list(&variants));
        let Some(sections) = entries(key, node, kind, &holds, &mut self.out) else {
            self.unread(kind, "", node);
            return;
        };
        for (key, node) in sections {
            let variant = key.text.as_str();
            if key.standing == Standing::Refused {
                self.unread(kind, "", node);
                continue;
            }
            if !variants.contains(&variant) {
                self.out
                    .push(unknown_key(key, &format!("section of `{kind}`"), &variants));
                self.declared.words_of_node(node);
                continue;
            }
            let path = format!("{kind}.{variant}");
            match entries(key, node, &path, "ids", &mut self.out) {
                Some(entries) => {
                    self.section_again = key.standing == Standing::Again;
                    self.section(kind, variant, entries);
                    self.section_again = false;
                }
                None => self.unread(kind, variant, node),
            }
        }
    }

    /// Notes that nothing could be read of a kind, or of one section of it: any word there may be an
    /// id, and any id may be meant where there is no word.
    fn unread(&mut self, kind: &str, variant: &str, node: &Node) {
        self.declared.words_of_node(node);
        let holds = node.as_map().is_some_and(|map| !map.is_empty()) || node.as_list().is_some();
        if !holds {
            for sort in sorts_of(kind, variant) {
                self.declared.unnamed(sort);
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
            if key.standing == Standing::Refused {
                self.declared.words_of_node(node);
                self.declared.unnamed(sort);
                continue;
            }
            let again = key.standing == Standing::Again;
            let before = self.out.len();
            let id: Option<I> = read_key(key, path, &mut self.out);
            if again {
                self.out.truncate(before);
            }
            let item_path = format!("{path}.{}", key.text);
            let (mut beyond, found) = (Vec::new(), self.out.len());
            let reached = read_as_far::<T>(node, &item_path, &mut self.out, &mut beyond);
            if self.out.len() > found
                && (self.is_misplaced(sort, entry, found)
                    || self.is_of_other(sort, path, entry, found))
            {
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
                if !again {
                    self.out.push(duplicate(
                        &format!("the {one} `{}`", key.text),
                        &key.place,
                        first,
                    ));
                }
                self.declared.doubled(sort, key, first);
            } else if id.is_some() && item.is_none() {
                self.declared.broken(sort, &key.text);
            } else if id.is_none() {
                self.declared.bad_id(sort, &key.text);
            }
            self.inside(
                sort,
                node,
                first.is_none() && id.is_some() && item.is_some(),
            );
            let text = id.as_ref().map_or(NO_ID, |_| key.text.as_str());
            let Some(id) =
                id.or_else(|| read_key(&Key::called(NO_ID, &key.place), path, &mut Vec::new()))
            else {
                continue;
            };
            let is_own = first.is_none() && text != NO_ID;
            let id = At::new(id, key.place.clone());
            match (item, salvaged) {
                (Some(item), _) if is_own => put(&mut self.pack, id, item),
                (_, Some(item)) if is_own => put(&mut self.salvaged.pack, id, item),
                (Some(item), _) | (_, Some(item)) => {
                    if let Some(pack) = self.doubles.add(sort, text, &key.place, node) {
                        put(pack, id, item);
                    }
                }
                (None, None) => {}
            }
        }
    }
}

impl<'t> Loader<'t> {
    /// Whether an item in a section that stands before has the keys of another section: that the word
    /// of the section stands twice has been told, and its problems follow from that.
    fn is_of_other(
        &mut self,
        sort: Sort,
        path: &str,
        entry: &'t (Key, Node),
        found: usize,
    ) -> bool {
        let (key, node) = entry;
        let is_other = self.section_again
            && path
                .split_once('.')
                .is_some_and(|(kind, variant)| fits_other(kind, variant, node));
        if is_other {
            self.out.truncate(found);
            self.declared.add(sort, &key.text, &key.place, Some(node));
            self.declared.broken(sort, &key.text);
        }
        is_other
    }
}

fn fit_in<I, T: DeserializeOwned>(_: &Items<I, T>, node: &Node) -> Fit {
    fit::<T>(node)
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
        pub(super) fn variant_words(kind: &str) -> Vec<&'static str> {
            if kind == "rules" {
                return super::kinds::KINDS.to_vec();
            }
            let all = [$(($kind, $variant),)*];
            all.iter().filter(|(of, variant)| *of == kind && !variant.is_empty()).map(|(_, variant)| *variant).collect()
        }

        /// Whether a node has the keys of another section of a kind.
        fn fits_other(kind: &str, variant: &str, node: &Node) -> bool {
            let pack = Pack::default();
            $(($kind == kind && $variant != variant && fit_in(&pack.$field, node) != Fit::Not) ||)* false
        }

        /// What a kind lists, or one section of it.
        fn sorts_of(kind: &str, variant: &str) -> Vec<Sort> {
            let all = [$(($kind, $variant, Sort::$sort),)*];
            let here = all.iter().filter(|(of, section, _)| *of == kind && (variant.is_empty() || variant == *section));
            let mut sorts: Vec<Sort> = here.map(|(_, _, sort)| *sort).collect();
            if kind == "rules" {
                let kinds = super::kinds::KINDS.iter().copied();
                sorts.extend(kinds.filter(|word| variant.is_empty() || variant == *word).map(Sort::Rule));
            }
            let inside = sorts.iter().filter_map(|sort| inside_of(*sort));
            let inside: Vec<Sort> = inside.map(|(_, inner)| inner).collect();
            sorts.extend(inside);
            sorts
        }

        impl<'t> Loader<'t> {
            fn section(&mut self, kind: &str, variant: &str, entries: &'t [(Key, Node)]) {
                self.declared.holds(kind, variant);
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
