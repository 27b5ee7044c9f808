//! From the text of a case file to what it says, with every problem at once.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::base::{Code, Diagnostic, Place};

use super::case::CaseText;
use super::case_check::Case;
use super::case_names::Exercises;
use super::case_read::{Sure, check_at};
use super::check::salvaged::{keys_are_sure, note_sound, spoilt};
use super::pack::Pack;
use super::read::{Key, Limits, Node};
use super::sole::{Sole, read_sole};

const CASE: Sole = Sole {
    key: "case",
    called: "a case file",
    holds: "what is known of the lifter",
};

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
    read_sole(
        &CASE,
        (name, text),
        limits,
        |text: CaseText, place, node, out| {
            let mut found = Vec::new();
            let spoilt = spoilt(out);
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
            let case = check_at(text, pack, names, place, sure, &mut found);
            if !spoilt.is_empty() {
                retain_sure(node, place, &spoilt, &mut found);
            }
            out.append(&mut found);
            case
        },
    )
}

/// Reads a case file that more is to be said of, and checks only that it can be read.
///
/// # Errors
///
/// Every problem of reading it, sorted by place.
pub(crate) fn read_case_text(
    name: &Arc<str>,
    text: &str,
    limits: &Limits,
) -> Result<CaseText, Vec<Diagnostic>> {
    read_sole(&CASE, (name, text), limits, |text, _, _, _| Some(text))
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
