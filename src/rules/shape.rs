//! What stands where in a file: its format, its sections, their ids.

use crate::base::{Code, Diagnostic, Place, nearest};

use super::check::declared::list;
use super::read::{Key, Kind, Node, read_item};

/// The format of rule files and cases that is read.
pub(super) const FORMAT: u32 = 1;

/// Reads the format of a file; whether it is one that is read.
pub(super) fn format_is_read(
    entries: &[(Key, Node)],
    start: &Place,
    out: &mut Vec<Diagnostic>,
) -> bool {
    let Some((_, node)) = entries.iter().find(|(key, _)| key.text == "format") else {
        out.push(Diagnostic::new(
            Code::MissingKey,
            start.clone(),
            "the file lacks the key `format`",
            format!("add the line `format: {FORMAT}`"),
        ));
        return false;
    };
    match read_item::<i64>(node, "format", out) {
        // What stands there has been told.
        None => node.kind == Kind::Refused,
        Some(format) if format == i64::from(FORMAT) => true,
        Some(format) => {
            out.push(Diagnostic::new(
                Code::UnknownFormat,
                node.place.clone(),
                format!("this file has the format {format}, and only format {FORMAT} is read"),
                format!("write `format: {FORMAT}` if the file was written for it, or take a version that reads {format}"),
            ));
            false
        }
    }
}

/// Whether a second document follows behind a tree, of which nothing is read.
pub(super) fn is_cut_off(tree: &Node, told: &[Diagnostic]) -> bool {
    let mut told = told.iter();
    told.any(|told| told.code == Code::SecondDocument && told.place.file == tree.place.file)
}

/// Whether a key was probably meant for the format, which a file lacks.
pub(super) fn is_for_format(key: &Key, entries: &[(Key, Node)]) -> bool {
    nearest(&key.text, ["format"]).is_some() && entries.iter().all(|(key, _)| key.text != "format")
}

/// The entries of a map that must have some; none, with the problem told, where it is something else or empty.
pub(super) fn entries<'t>(
    key: &Key,
    node: &'t Node,
    path: &str,
    holds: &str,
    out: &mut Vec<Diagnostic>,
) -> Option<&'t [(Key, Node)]> {
    match node.as_map() {
        Some([]) => {
            out.push(Diagnostic::new(
                Code::EmptyMap,
                key.place.clone(),
                format!("`{path}` is empty"),
                format!("write {holds} under it, or take it out"),
            ));
            None
        }
        Some(entries) => Some(entries),
        // That has been told.
        None if node.kind == Kind::Refused => None,
        None => {
            out.push(Diagnostic::new(
                Code::WrongType,
                node.place.clone(),
                format!("`{path}` must be a map of {holds}, not {}", node.in_words()),
                "write `id: {...}` for each, on lines of their own",
            ));
            None
        }
    }
}

/// A key that is none of those that may stand there.
pub(super) fn unknown_key(key: &Key, what: &str, allowed: &[&str]) -> Diagnostic {
    let all = list(allowed);
    let help = match nearest(&key.text, allowed.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? Allowed here: {all}"),
        None => format!("allowed here: {all}"),
    };
    Diagnostic::new(
        Code::UnknownKey,
        key.place.clone(),
        format!("`{}` is no {what}", key.text),
        help,
    )
}

/// An id that stands twice.
pub(super) fn duplicate(what: &str, place: &Place, first: &Place) -> Diagnostic {
    Diagnostic::new(
        Code::DuplicateId,
        place.clone(),
        format!("{what} is there twice"),
        "give one of them another id, or take one out",
    )
    .with_also(first.clone(), "it stands here first")
}
