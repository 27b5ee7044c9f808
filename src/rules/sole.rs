//! Files that hold one thing beside their format: its key, and what stands there as far as it could be read.

use std::sync::Arc;

use serde::de::DeserializeOwned;

use crate::base::{Code, Diagnostic, Place, nearest};

use super::read::{Beyond, Key, Node, Reached, Standing, read_as_far};
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

/// What the file holds, with the place of its key and as written.
pub(super) fn sole<'t, T: DeserializeOwned>(
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
