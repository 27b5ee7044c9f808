//! Rule files as trees in which everything knows its place.

use std::sync::Arc;

use saphyr_parser::{Event, Parser, ScanError};

use super::builder::Builder;
use super::limits::{Limits, too_large};
use super::second;
use crate::base::{Code, Diagnostic, Place};

/// A value in a rule file, with its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    /// Where it starts.
    pub place: Place,
    /// What it is.
    pub kind: Kind,
}

/// What a value is.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Kind {
    /// A text. Whether it is a number or a truth value is for whoever asks to say.
    Scalar(Scalar),
    /// A list, in the order written.
    List(Vec<Node>),
    /// A map, in the order written; of two keys with the same text the second is marked.
    Map(Vec<(Key, Node)>),
    /// Something that rule files may not use; it has been told, and nobody knows what was meant.
    Refused,
}

/// A text and how it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scalar {
    /// The text, without quotes and with escapes resolved.
    pub text: String,
    /// How it was written.
    pub style: Style,
}

/// How a text was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Style {
    /// Without quotes: it may be meant as a number or a truth value.
    Plain,
    /// In single or double quotes.
    Quoted,
    /// As a block after `|` or `>`.
    Block,
}

/// A key of a map, with its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Key {
    /// The key's text.
    pub text: String,
    /// How it was written.
    pub style: Style,
    /// Where it starts.
    pub place: Place,
    /// Whether it can be relied on.
    pub standing: Standing,
}

impl Key {
    /// A key with another text than the one that stands there.
    pub fn called(text: &str, place: &Place) -> Self {
        Self {
            text: text.to_owned(),
            style: Style::Plain,
            place: place.clone(),
            standing: Standing::Sound,
        }
    }

    /// What stands where a key belongs and is none.
    pub(super) const fn refused(place: Place) -> Self {
        Self {
            text: String::new(),
            style: Style::Plain,
            place,
            standing: Standing::Refused,
        }
    }
}

/// Whether a key can be relied on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Nothing is wrong with it.
    Sound,
    /// It stands in its map before; that has been told.
    Again,
    /// It is none that may stand here; that has been told.
    Refused,
}

impl Node {
    /// The entries, if this is a map.
    #[must_use]
    pub fn as_map(&self) -> Option<&[(Key, Self)]> {
        match &self.kind {
            Kind::Map(entries) => Some(entries),
            _ => None,
        }
    }

    /// The items, if this is a list.
    #[must_use]
    pub fn as_list(&self) -> Option<&[Self]> {
        match &self.kind {
            Kind::List(items) => Some(items),
            _ => None,
        }
    }

    /// The text, if this is one.
    #[must_use]
    pub fn as_text(&self) -> Option<&str> {
        match &self.kind {
            Kind::Scalar(scalar) => Some(&scalar.text),
            _ => None,
        }
    }

    /// The entry with this key, if this is a map and has it.
    #[must_use]
    pub fn entry(&self, key: &str) -> Option<(&Key, &Self)> {
        let found = self.as_map()?.iter().find(|(k, _)| k.text == key)?;
        Some((&found.0, &found.1))
    }

    /// What this is, in words that fit after "not": "a list", "a map", "the text `…`".
    #[must_use]
    pub fn in_words(&self) -> String {
        match &self.kind {
            Kind::List(_) => "a list".into(),
            Kind::Map(_) => "a map".into(),
            Kind::Scalar(scalar) => format!("the text `{}`", shortened(&scalar.text)),
            Kind::Refused => "what can't be read".into(),
        }
    }
}

/// A text for a message: its first line, and not more of it than fits there.
pub(super) fn shortened(text: &str) -> String {
    const MOST: usize = 40;
    let first = text.lines().next().unwrap_or("");
    let mut short: String = first.chars().take(MOST).collect();
    if short.len() < text.trim_end().len() {
        short.push('…');
    }
    short
}

/// Reads the text of `file` into a tree.
///
/// `None` if it is no YAML, is read differently by a second reader or goes beyond the limits. Every
/// problem found is added to `out`. There is a tree all the same, with what is wrong marked in it,
/// where there are anchors and aliases, merge keys, tags, values that are empty or null, further
/// documents, keys that are no text or stand twice, and prose that is cut off by a number sign.
pub fn parse(
    text: &str,
    file: &Arc<str>,
    limits: &Limits,
    out: &mut Vec<Diagnostic>,
) -> Option<Node> {
    parse_with(text, file, limits, second::compare, out)
}

/// The same of a text of which it is known that a second reader reads it alike.
///
/// `None` if it is no YAML or goes beyond the limits.
#[cfg(feature = "builtin")]
pub fn parse_known(
    text: &str,
    file: &Arc<str>,
    limits: &Limits,
    out: &mut Vec<Diagnostic>,
) -> Option<Node> {
    parse_with(text, file, limits, |_, _, _| true, out)
}

fn parse_with(
    text: &str,
    file: &Arc<str>,
    limits: &Limits,
    is_read_alike: fn(&str, &Node, &mut Vec<Diagnostic>) -> bool,
    out: &mut Vec<Diagnostic>,
) -> Option<Node> {
    if text.len() > limits.bytes_per_file() {
        out.push(too_large(file, limits));
        return None;
    }
    // A byte order mark is no part of the text, and would only shift the first line's columns.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut found = Vec::new();
    let root = build(text, file, limits, &mut found);
    let same = root
        .as_ref()
        .is_some_and(|node| is_read_alike(text, node, &mut found));
    out.append(&mut found);
    root.filter(|_| same)
}

fn build(
    text: &str,
    file: &Arc<str>,
    limits: &Limits,
    found: &mut Vec<Diagnostic>,
) -> Option<Node> {
    let mut builder = Builder::new(text, file, limits);
    let mut parser = Parser::new_from_str(text);
    while let Some(event) = parser.next_event() {
        let go_on = match event {
            Ok((Event::StreamEnd, _)) => false,
            Ok((event, span)) => builder.take(event, &span),
            Err(error) => {
                if let Some(problem) = tab_before(text, file, error.marker().line()) {
                    builder.report(problem);
                } else if let Some(problem) = syntax(&error, file, builder.found()) {
                    builder.report(problem);
                }
                false
            }
        };
        if !go_on {
            break;
        }
    }
    builder.finish(found)
}

/// The problem of a tab in the indentation of a line or one beside it, on which a parser stumbles.
fn tab_before(text: &str, file: &Arc<str>, line: usize) -> Option<Diagnostic> {
    let near = text
        .lines()
        .enumerate()
        .skip(line.saturating_sub(2))
        .take(3);
    let (at, column) = near.into_iter().find_map(|(at, content)| {
        let indentation = content.chars().take_while(|c| matches!(c, ' ' | '\t'));
        let column = indentation.into_iter().position(|c| c == '\t')?;
        Some((at, column))
    })?;
    let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX).saturating_add(1);
    Some(Diagnostic::new(
        Code::Syntax,
        Place::new(file, number(at), number(column)),
        "this line is indented with a tab, and YAML is indented with spaces only",
        "use spaces: as many as the lines beside it have",
    ))
}

fn syntax(error: &ScanError, file: &Arc<str>, before: &[Diagnostic]) -> Option<Diagnostic> {
    let info = error.info();
    let place = place(file, error.marker());
    if info.contains("unknown anchor") {
        return Some(Diagnostic::new(
            Code::Anchor,
            place,
            "an alias (`*name`) stands here, and aliases are not read",
            "write the value out, or put a text that starts with `*` in quotes",
        ));
    }
    // Prose that goes on after what was taken for a comment: that has been said already.
    let said = before
        .last()
        .is_some_and(|d| d.code == Code::SwallowedComment);
    if info.contains("comment intercepting") && said {
        return None;
    }
    Some(Diagnostic::new(
        Code::Syntax,
        place,
        format!("this is not YAML: {}", in_plain_words(info)),
        "look at the indentation, colons, brackets and quotes here and on the line above; put \
         quotes around a text that has a colon or starts with a sign",
    ))
}

/// What a parser stumbled over, in words for people who know no parsers.
fn in_plain_words(info: &str) -> &str {
    const WORDS: [(&str, &str); 8] = [
        (
            "mapping values are not allowed",
            "a colon stands where none may, as in a text without quotes, or after a line that is \
             indented otherwise",
        ),
        (
            "did not find expected key",
            "this is no key of the map above: mostly the line is indented otherwise than the \
             lines that it belongs to",
        ),
        (
            "simple key expect ':'",
            "the line above is no `key: value`; a colon with a space after it is missing",
        ),
        (
            "invalid indentation in quoted scalar",
            "the text that begins here lacks its last quotation mark",
        ),
        (
            "invalid trailing content",
            "the quotation mark before this ends its text; a text with one inside is put in the \
             other sort of quotation marks",
        ),
        (
            "invalid indentation in flow construct",
            "a bracket or brace further up is not closed",
        ),
        (
            "expected ',' or",
            "a comma or the closing bracket or brace is missing before this",
        ),
        (
            "unexpected character",
            "a text can't begin with this sign unless it stands in quotes",
        ),
    ];
    let plain = WORDS.iter().find(|(word, _)| info.contains(word));
    plain.map_or(info, |(_, words)| words)
}

/// The place of a marker, whose lines count from 1 and columns from 0, both in characters.
pub(super) fn place(file: &Arc<str>, marker: &saphyr_parser::Marker) -> Place {
    let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Place::new(
        file,
        number(marker.line().max(1)),
        number(marker.col().saturating_add(1)),
    )
}
