//! The causes that the coach of a case is sure of.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{At, CauseId, Code, Place, SkillId};

use super::case::{CaseText, SureOf};
use super::case_check::Seen;
use super::case_read::Checking;
use super::check::declared::{dangling, list};
use super::check::sections::Sort;
use super::pack::Pack;

/// Skills of whose faults a cause can be behind one.
fn skills_of(pack: &Pack, cause: &CauseId) -> BTreeSet<SkillId> {
    let faults = pack.faults.values();
    faults
        .filter(|fault| fault.causes.contains_key(cause))
        .flat_map(|fault| fault.skills.iter().map(|id| id.value.clone()))
        .collect()
}

fn opposes(pack: &Pack, one: &CauseId, other: &CauseId) -> bool {
    let held = pack.movement_causes.get(one);
    held.is_some_and(|cause| cause.opposes.iter().any(|id| id.value == *other))
}

impl Checking<'_> {
    /// The causes that the coach is sure of, each with its skill.
    pub(super) fn sure_of(
        &mut self,
        text: &CaseText,
        seen: &[Seen],
    ) -> BTreeSet<(SkillId, CauseId)> {
        let pack = self.pack;
        let mut all: BTreeMap<(SkillId, CauseId), Place> = BTreeMap::new();
        for sure in &text.sure_of {
            let Some(cause) = self.cause(&sure.cause) else {
                continue;
            };
            let place = &sure.cause.place;
            if let Some(out) = text.ruled_out.iter().find(|out| out.value == cause) {
                self.contradiction(
                    format!("the case is sure of `{cause}` and rules it out"),
                    "take it out of `sure-of` or out of `ruled-out`",
                    place,
                    (&out.place, "it is ruled out here"),
                );
                continue;
            }
            let Some(skill) = self.skill_of(sure, &cause, seen) else {
                continue;
            };
            let opposite = all.iter().find(|((of, other), _)| {
                *of == skill && (opposes(pack, &cause, other) || opposes(pack, other, &cause))
            });
            if let Some(((_, other), first)) = opposite {
                let (what, first) = (
                    format!("the case is sure of `{cause}` and of its opposite `{other}`"),
                    first.clone(),
                );
                let help = "leave the one in of which the coach is surer; the other waits";
                self.contradiction(what, help, place, (&first, "the opposite stands here"));
                continue;
            }
            let key = (skill, cause);
            if let Some(first) = all.get(&key) {
                let first = first.clone();
                self.twice(&format!("`{}` for `{}`", key.1, key.0), place, &first);
            } else {
                all.insert(key, place.clone());
            }
        }
        all.into_keys().collect()
    }

    /// The skill that is meant: the one that is named, else the only one with a stated fault that the cause can be behind,
    /// else the only one of which the rules know such a fault.
    fn skill_of(&mut self, sure: &At<SureOf>, cause: &CauseId, seen: &[Seen]) -> Option<SkillId> {
        let pack = self.pack;
        let skills = skills_of(pack, cause);
        let known: Vec<&str> = skills.iter().map(SkillId::as_str).collect();
        if let Some(skill) = &sure.skill {
            if skills.contains(&skill.value) {
                return Some(skill.value.clone());
            }
            if pack.skills.contains_key(&skill.value) {
                let what = format!("no fault of `{skill}` has `{cause}` behind it");
                let help = if known.is_empty() {
                    String::from("no fault of the rules has it behind it; leave it out")
                } else {
                    format!("write one of {}", list(&known))
                };
                self.problem(Code::Contradiction, &skill.place, what, help);
            } else {
                self.out
                    .push(dangling(Sort::Skill, skill.as_str(), &skill.place, &known));
            }
            return None;
        }
        let stated: BTreeSet<SkillId> = seen
            .iter()
            .filter(|seen| {
                let fault = pack.faults.get(&seen.fault);
                fault.is_some_and(|fault| fault.causes.contains_key(cause))
            })
            .map(|seen| seen.skill.clone())
            .collect();
        let among = if stated.is_empty() { &skills } else { &stated };
        let mut among = among.iter();
        match (among.next(), among.next()) {
            (Some(only), None) => Some(only.clone()),
            (None, _) => {
                self.problem(
                    Code::Contradiction,
                    &sure.cause.place,
                    format!("no fault of the rules has `{cause}` behind it"),
                    "leave it out, or name it as a cause of a fault",
                );
                None
            }
            _ => {
                self.problem(
                    Code::MissingKey,
                    &sure.cause.place,
                    format!("`{cause}` can be behind faults of several skills, and the case does not say of which"),
                    format!("add `skill:` with one of {}", list(&known)),
                );
                None
            }
        }
    }
}
