//! From the text of a case file to what it says, with every problem at once.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::base::{Code, Diagnostic, Place, nearest};

use super::case::CaseText;
use super::case_check::Case;
use super::case_names::Exercises;
use super::case_read::{Sure, check_at, finish};
use super::check::salvaged::{keys_are_sure, note_sound, spoilt};
use super::pack::Pack;
use super::read::{Beyond, Key, Limits, Node, Reached, Standing, parse, read_as_far, settle};
use super::shape::{format_is_read, is_cut_off, is_for_format};

/// Reads a case file and checks it against a pack.
///
/// # Errors
///
/// Every problem that was found, sorted by place.
pub(crate) fn read_case(
    name: &Arc<str>,
    text: &str,
    pack: &Pack,
    names: &dyn Exercises,
    limits: &Limits,
) -> Result<Case, Vec<Diagnostic>> {
    let mut out = Vec::new();
    let mut beyond = Vec::new();
    let tree = parse(text, name, limits, &mut out);
    let read = tree
        .as_ref()
        .and_then(|tree| text_of(name, tree, &mut out, &mut beyond));
    let case = read.and_then(|(text, place, node)| {
        let mut found = Vec::new();
        let spoilt = spoilt(&out);
        let is_bar_sure = match node.entry("gym") {
            Some((key, gym)) => {
                !spoilt.contains(&key.place)
                    && keys_are_sure(gym, &["bar", "other-bars", "collars"], &spoilt)
            }
            None => keys_are_sure(node, &["gym"], &spoilt),
        };
        let days_read = text.training_days.len();
        let is_named = |(key, days): (&Key, &Node)| {
            let days = days.as_map().unwrap_or_default();
            let whole = |(key, _): &(Key, Node)| !spoilt.contains(&key.place);
            !spoilt.contains(&key.place) && days.len() == days_read && days.iter().all(whole)
        };
        let sure = Sure {
            bar: is_bar_sure,
            days: node.entry("training-days").is_none_or(is_named),
        };
        let case = check_at(text, pack, names, &place, sure, &mut found);
        if !spoilt.is_empty() {
            retain_sure(node, &place, &spoilt, &mut found);
        }
        out.append(&mut found);
        case
    });
    settle(beyond, &mut out);
    finish(case, out)
}

/// The case of a file as far as it could be read, with the place of its key and as written.
fn text_of<'t>(
    name: &Arc<str>,
    tree: &'t Node,
    out: &mut Vec<Diagnostic>,
    beyond: &mut Vec<Beyond>,
) -> Option<(CaseText, Place, &'t Node)> {
    let Some(map) = tree.as_map() else {
        out.push(Diagnostic::new(
            Code::WrongType,
            tree.place.clone(),
            format!(
                "a case file is a map with `format` and `case`, not {}",
                tree.in_words()
            ),
            "write `format: 1` and then `case:`",
        ));
        return None;
    };
    let case_is_there = tree.entry("case").is_some();
    let lacks_format_alone = case_is_there && tree.entry("format").is_none();
    if !format_is_read(map, &Place::start_of(name), out) && !lacks_format_alone {
        return None;
    }
    let mut misspelt = false;
    let told = |key: &Key| key.standing == Standing::Refused || is_for_format(key, map);
    for (key, _) in map
        .iter()
        .filter(|(key, _)| key.text != "format" && key.text != "case" && !told(key))
    {
        let near = !case_is_there && nearest(&key.text, ["case"]).is_some();
        misspelt |= near;
        let help = if near {
            "did you mean `case`?"
        } else {
            "a case file has `format` and `case`; what belongs to the case goes under `case`"
        };
        out.push(Diagnostic::new(
            Code::UnknownKey,
            key.place.clone(),
            format!("`{}` means nothing in a case file", key.text),
            help,
        ));
    }
    let Some((key, node)) = tree.entry("case") else {
        if misspelt || is_cut_off(tree, out) {
            return None;
        }
        out.push(Diagnostic::new(
            Code::MissingKey,
            Place::start_of(name),
            "the file lacks the key `case`",
            "add `case:` with what is known of the lifter under it",
        ));
        return None;
    };
    match read_as_far::<CaseText>(node, "case", out, beyond) {
        Reached::Whole(case) | Reached::Salvaged(case) => Some((case, key.place.clone(), node)),
        Reached::Nothing => {
            out.extend(beyond.drain(..).map(Beyond::in_broken));
            None
        }
    }
}

/// Keeps what is wrong with a case in the parts of it that were read; `whole` is its own place.
fn retain_sure(node: &Node, whole: &Place, spoilt: &BTreeSet<Place>, found: &mut Vec<Diagnostic>) {
    let mut sound = BTreeSet::new();
    note_sound(node, spoilt, &mut sound);
    // What a map lacks is sure where no key of it was perhaps meant for that.
    let sure_of_skill: BTreeSet<&Place> = [("faults", "fault"), ("sure-of", "cause")]
        .into_iter()
        .filter_map(|(held, named)| Some((node.entry(held)?.1.as_list()?, named)))
        .flat_map(|(all, named)| all.iter().map(move |one| (one, named)))
        .filter(|(one, named)| keys_are_sure(one, &[*named, "skill"], spoilt))
        .filter_map(|(one, named)| Some(&one.entry(named)?.1.place))
        .collect();
    let faults = node.entry("faults").and_then(|(_, seen)| seen.as_list());
    let sure_of_times: BTreeSet<&Place> = faults
        .unwrap_or_default()
        .iter()
        .filter(|one| keys_are_sure(one, &["seen", "of"], spoilt))
        .flat_map(|one| ["seen", "of"].map(|key| one.entry(key)))
        .filter_map(|entry| Some(&entry?.1.place))
        .collect();
    // A best that has a day needs to know what day it is.
    let bests = node.entry("bests").and_then(|(_, bests)| bests.as_map());
    let days: BTreeSet<&Place> = bests
        .unwrap_or_default()
        .iter()
        .filter_map(|(_, best)| Some(&best.entry("on")?.1.place))
        .collect();
    found.retain(|problem| match problem.code {
        Code::MissingKey if days.contains(&problem.place) => {
            sound.contains(&problem.place) && keys_are_sure(node, &["today"], spoilt)
        }
        Code::MissingKey if problem.place == *whole => keys_are_sure(node, &["phase"], spoilt),
        Code::MissingKey => {
            sure_of_skill.contains(&problem.place) || sure_of_times.contains(&problem.place)
        }
        _ => sound.contains(&problem.place),
    });
}
