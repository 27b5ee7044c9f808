//! From the events of a YAML parser to a located tree, refusing what rule files may not use.

use std::collections::HashMap;
use std::collections::hash_map::Entry;
use std::sync::Arc;

use saphyr_parser::{Event, ScalarStyle, Span};

use super::limits::Limits;
use super::rest::{Rest, lost_quote};
use super::tree::{Key, Kind, Node, Scalar, Standing, Style, place, shortened};
use crate::base::{Code, Diagnostic, Place};

/// After so many problems in one file nobody reads on, and memory stays bounded.
const MOST_PROBLEMS: usize = 100;

/// A list or map that is not closed yet.
struct Open {
    place: Place,
    kind: OpenKind,
}

enum OpenKind {
    List(Vec<Node>),
    Map {
        entries: Vec<(Key, Node)>,
        first_places: HashMap<String, Place>,
        next: Next,
    },
}

/// What a map waits for.
enum Next {
    Key,
    ValueOf(Key),
}

/// Builds one file's tree.
pub(super) struct Builder<'a> {
    file: &'a Arc<str>,
    limits: &'a Limits,
    rest: Rest<'a>,
    open: Vec<Open>,
    root: Option<Node>,
    nodes: usize,
    documents: usize,
    found: Vec<Diagnostic>,
}

impl<'a> Builder<'a> {
    pub(super) fn new(text: &'a str, file: &'a Arc<str>, limits: &'a Limits) -> Self {
        Self {
            file,
            limits,
            rest: Rest::new(text),
            open: Vec::new(),
            root: None,
            nodes: 0,
            documents: 0,
            found: Vec::new(),
        }
    }

    /// The problems found so far.
    pub(super) fn found(&self) -> &[Diagnostic] {
        &self.found
    }

    pub(super) fn report(&mut self, problem: Diagnostic) {
        self.found.push(problem);
    }

    fn problem(&mut self, code: Code, place: Place, what: impl Into<String>, help: &str) {
        self.report(Diagnostic::new(code, place, what, help));
    }

    /// Takes the next event; says whether to go on.
    pub(super) fn take(&mut self, event: Event<'_>, span: &Span) -> bool {
        let at = place(self.file, &span.start);
        match event {
            Event::DocumentStart(_) => {
                self.documents += 1;
                if self.documents > 1 {
                    self.problem(
                        Code::SecondDocument,
                        at,
                        "a second document starts here",
                        "put it into a file of its own, or take out the line `---`",
                    );
                    return false;
                }
            }
            Event::Alias(_) => {
                self.problem(
                    Code::Anchor,
                    at.clone(),
                    "an alias (`*name`) stands here, and aliases are not read",
                    "write the value out, or put a text that starts with `*` in quotes",
                );
                self.attach(at, Kind::Refused);
            }
            Event::Scalar(text, style, anchor, tag) => {
                if !self.count(&at) {
                    return false;
                }
                self.properties(anchor, tag.is_some(), &at);
                if tag.is_some() && !self.wants_key() {
                    self.attach(at, Kind::Refused);
                } else {
                    self.scalar(text.into_owned(), style, at, span);
                }
            }
            Event::SequenceStart(anchor, tag) => {
                self.properties(anchor, tag.is_some(), &at);
                return self.start(at, OpenKind::List(Vec::new()));
            }
            Event::MappingStart(anchor, tag) => {
                self.properties(anchor, tag.is_some(), &at);
                let map = OpenKind::Map {
                    entries: Vec::new(),
                    first_places: HashMap::new(),
                    next: Next::Key,
                };
                return self.start(at, map);
            }
            Event::SequenceEnd | Event::MappingEnd => self.end(),
            _ => {}
        }
        if self.found.len() >= MOST_PROBLEMS {
            let at = place(self.file, &span.start);
            self.problem(
                Code::TooManyProblems,
                at,
                format!("{MOST_PROBLEMS} problems were found up to here; the rest is not read"),
                "put these right first",
            );
            return false;
        }
        true
    }

    /// The tree, if the file had one; the problems go to `out`.
    pub(super) fn finish(mut self, out: &mut Vec<Diagnostic>) -> Option<Node> {
        let root = self.root.take();
        if root.is_none() && self.found.is_empty() {
            self.problem(
                Code::EmptyFile,
                Place::start_of(self.file),
                "there is nothing in this file",
                "write something into it, or take it away",
            );
        }
        out.append(&mut self.found);
        root
    }

    fn count(&mut self, at: &Place) -> bool {
        self.nodes += 1;
        if self.nodes <= self.limits.nodes() {
            return true;
        }
        let most = self.limits.nodes();
        self.problem(
            Code::TooManyNodes,
            at.clone(),
            format!("the file has more than {most} values"),
            "split it into several files, or raise the limit",
        );
        false
    }

    fn properties(&mut self, anchor: usize, tagged: bool, at: &Place) {
        if anchor > 0 {
            self.problem(
                Code::Anchor,
                at.clone(),
                "an anchor (`&name`) stands here, and anchors are not read",
                "take it out and write the value where it is needed, or put a text that starts \
                 with `&` in quotes",
            );
        }
        if tagged {
            self.problem(
                Code::Tag,
                at.clone(),
                "a tag (`!name`) stands here, and tags are not read",
                "take it out, or put a text that starts with `!` in quotes",
            );
        }
    }

    fn start(&mut self, at: Place, kind: OpenKind) -> bool {
        if !self.count(&at) {
            return false;
        }
        if self.open.len() >= self.limits.depth() {
            let most = self.limits.depth();
            self.problem(
                Code::TooDeep,
                at,
                format!("more than {most} lists and maps stand inside each other"),
                "write it flatter; rule files need only a few levels",
            );
            return false;
        }
        self.open.push(Open { place: at, kind });
        true
    }

    fn end(&mut self) {
        let Some(open) = self.open.pop() else {
            return;
        };
        let kind = match open.kind {
            OpenKind::List(items) => Kind::List(items),
            OpenKind::Map { entries, .. } => Kind::Map(entries),
        };
        if self.wants_key() {
            self.problem(
                Code::KeyNotText,
                open.place.clone(),
                "a list or map stands where a key belongs",
                "write the key as one word; a text that starts with `[` or `{` needs quotes",
            );
        }
        self.attach(open.place, kind);
    }

    fn wants_key(&self) -> bool {
        matches!(
            self.open.last(),
            Some(Open {
                kind: OpenKind::Map {
                    next: Next::Key,
                    ..
                },
                ..
            })
        )
    }

    /// Puts a value where it belongs; where a key belongs it is one that was refused.
    fn attach(&mut self, at: Place, kind: Kind) {
        let node = Node { place: at, kind };
        match self.open.last_mut() {
            // Of several documents the first is read.
            None => drop(self.root.get_or_insert(node)),
            Some(Open {
                kind: OpenKind::List(items),
                ..
            }) => items.push(node),
            Some(Open {
                kind: OpenKind::Map { entries, next, .. },
                ..
            }) => match std::mem::replace(next, Next::Key) {
                Next::Key => *next = Next::ValueOf(Key::refused(node.place)),
                Next::ValueOf(key) => entries.push((key, node)),
            },
        }
    }

    fn scalar(&mut self, text: String, style: ScalarStyle, at: Place, span: &Span) {
        let style = match style {
            ScalarStyle::Plain => Style::Plain,
            ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted => Style::Quoted,
            ScalarStyle::Literal | ScalarStyle::Folded => Style::Block,
        };
        if self.wants_key() {
            self.key(text, style, at);
        } else if style == Style::Plain && is_null(&text) {
            self.null(&text, at.clone());
            if !(self.open.is_empty() && text.is_empty()) {
                self.attach(at, Kind::Refused);
            }
        } else {
            // Ids and numbers are of one word and begin small; what begins with a capital is a text.
            let is_text = text.contains(' ') || text.starts_with(char::is_uppercase);
            let before = self.found.len();
            if style == Style::Plain && is_text {
                let cut = self.rest.cut_off(&text, &at, span.end.index());
                self.found.extend(cut);
                self.found.extend(lost_quote(&text, &at));
            }
            let kind = if self.found.len() > before {
                Kind::Refused
            } else {
                Kind::Scalar(Scalar { text, style })
            };
            self.attach(at, kind);
        }
    }

    fn null(&mut self, text: &str, at: Place) {
        let written = if text.is_empty() {
            String::from("is empty")
        } else {
            format!("is `{text}`, which is nothing")
        };
        match self.open.last() {
            // A file with nothing but comments and dashes: `finish` says so.
            None if text.is_empty() => {}
            // Its key has been told.
            Some(Open {
                kind:
                    OpenKind::Map {
                        next: Next::ValueOf(key),
                        ..
                    },
                ..
            }) if key.standing == Standing::Refused => {}
            Some(Open {
                kind:
                    OpenKind::Map {
                        next: Next::ValueOf(key),
                        ..
                    },
                ..
            }) => {
                let what = format!("the value of `{}` {written}", shortened(&key.text));
                let at = key.place.clone();
                let digits = key.text.bytes().all(|b| b.is_ascii_digit());
                let help = if digits && text.is_empty() {
                    "write numbers with a point, such as 2.5: a comma ends the value before it"
                } else {
                    "write a value, or take the key out; an empty map is `{}`, an empty list `[]`"
                };
                self.problem(Code::Null, at, what, help);
            }
            _ => self.problem(
                Code::Null,
                at,
                format!("this value {written}"),
                "write a value or take it out; a text needs quotes here",
            ),
        }
    }

    fn key(&mut self, text: String, style: Style, at: Place) {
        if style == Style::Plain && is_null(&text) {
            self.problem(
                Code::Null,
                at.clone(),
                "a key is empty or null",
                "write a word before the colon",
            );
            self.attach(at, Kind::Refused);
            return;
        }
        if style == Style::Plain && text == "<<" {
            self.problem(
                Code::MergeKey,
                at.clone(),
                "a merge key (`<<`) stands here, and merge keys are not read",
                "write the keys out",
            );
            self.attach(at, Kind::Refused);
            return;
        }
        let Some(Open {
            kind: OpenKind::Map {
                first_places, next, ..
            },
            ..
        }) = self.open.last_mut()
        else {
            return;
        };
        let mut key = Key {
            text,
            style,
            place: at,
            standing: Standing::Sound,
        };
        let twice = match first_places.entry(key.text.clone()) {
            Entry::Vacant(entry) => {
                entry.insert(key.place.clone());
                None
            }
            Entry::Occupied(entry) => {
                key.standing = Standing::Again;
                let what = format!(
                    "the key `{}` stands twice in this map",
                    shortened(&key.text)
                );
                let help = "take one out, or give it another name";
                let told = Diagnostic::new(Code::DuplicateKey, key.place.clone(), what, help);
                Some(told.with_also(entry.get().clone(), "it stands here first"))
            }
        };
        *next = Next::ValueOf(key);
        self.found.extend(twice);
    }
}

fn is_null(text: &str) -> bool {
    matches!(text, "" | "~" | "null" | "Null" | "NULL")
}
