//! Files that hold one thing beside their format: its key, and what stands there as far as it could be read.

use std::sync::Arc;

use serde::de::DeserializeOwned;

use crate::base::{Code, Diagnostic, Place, nearest};

use super::check::together::tell_together;
use super::read::{Beyond, Key, Limits, Node, Reached, Standing, parse, read_as_far, settle};
use super::shape::{format_is_read, is_cut_off, is_for_format};

/// A sort of such files.
pub(super) struct Sole {
    /// The key.
    pub(super) key: &'static str,
    /// What such a file is called.
    pub(super) called: &'static str,
    /// What belongs under the key.
    pub(super) holds: &'static str,
}

/// What comes of a file of such a sort: what it holds goes to `then` with the place of its key and as written.
///
/// # Errors
///
/// Every problem that was found, sorted by place.
pub(super) fn read_sole<T: DeserializeOwned, R>(
    sort: &Sole,
    (name, text): (&Arc<str>, &str),
    limits: &Limits,
    then: impl FnOnce(T, &Place, &Node, &mut Vec<Diagnostic>) -> Option<R>,
) -> Result<R, Vec<Diagnostic>> {
    let (mut out, mut beyond) = (Vec::new(), Vec::new());
    let tree = parse(text, name, limits, &mut out);
    let held = tree
        .as_ref()
        .and_then(|tree| sole(sort, name, tree, &mut out, &mut beyond));
    let made = held.and_then(|(held, place, node)| then(held, &place, node, &mut out));
    settle(beyond, &mut out);
    finish(made, out)
}

/// What was made, if there is no problem.
pub(super) fn finish<R>(made: Option<R>, mut out: Vec<Diagnostic>) -> Result<R, Vec<Diagnostic>> {
    match made {
        Some(made) if out.is_empty() => Ok(made),
        _ => {
            tell_together(&mut out);
            Err(out)
        }
    }
}

/// What the file holds, with the place of its key and as written.
fn sole<'t, T: DeserializeOwned>(
    sort: &Sole,
    name: &Arc<str>,
    tree: &'t Node,
    out: &mut Vec<Diagnostic>,
    beyond: &mut Vec<Beyond>,
) -> Option<(T, Place, &'t Node)> {
    let Sole {
        key: word,
        called,
        holds,
    } = sort;
    let Some(map) = tree.as_map() else {
        out.push(Diagnostic::new(
            Code::WrongType,
            tree.place.clone(),
            format!(
                "{called} is a map with `format` and `{word}`, not {}",
                tree.in_words()
            ),
            format!("write `format: 1` and then `{word}:`"),
        ));
        return None;
    };
    let is_there = tree.entry(word).is_some();
    let lacks_format_alone = is_there && tree.entry("format").is_none();
    if !format_is_read(map, &Place::start_of(name), out) && !lacks_format_alone {
        return None;
    }
    let mut misspelt = false;
    let told = |key: &Key| key.standing == Standing::Refused || is_for_format(key, map);
    for (key, _) in map
        .iter()
        .filter(|(key, _)| key.text != "format" && key.text != *word && !told(key))
    {
        let near = !is_there && nearest(&key.text, [*word]).is_some();
        misspelt |= near;
        let help = if near {
            format!("did you mean `{word}`?")
        } else {
            format!("{called} has `format` and `{word}`; {holds} goes under `{word}`")
        };
        out.push(Diagnostic::new(
            Code::UnknownKey,
            key.place.clone(),
            format!("`{}` means nothing in {called}", key.text),
            help,
        ));
    }
    let Some((key, node)) = tree.entry(word) else {
        if misspelt || is_cut_off(tree, out) {
            return None;
        }
        out.push(Diagnostic::new(
            Code::MissingKey,
            Place::start_of(name),
            format!("the file lacks the key `{word}`"),
            format!("add `{word}:` with {holds} under it"),
        ));
        return None;
    };
    match read_as_far::<T>(node, word, out, beyond) {
        Reached::Whole(held) | Reached::Salvaged(held) => Some((held, key.place.clone(), node)),
        Reached::Nothing => {
            out.extend(beyond.drain(..).map(Beyond::in_broken));
            None
        }
    }
}
