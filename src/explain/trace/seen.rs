//! Records what was seen: faults, further looks, and what the coach is sure of.

use std::collections::BTreeMap;

use crate::base::{CauseId, FactId, ObservationId, SkillId, TrailError};
use crate::explain::answer::{Said, Seen};
use crate::explain::claim::Claim;
use crate::explain::glossary::rule_path;
use crate::infer::Weight;
use crate::rules::kinds::{HowOften, Rule};

use super::Trace;

impl Trace<'_> {
    /// Records what the case says of what was seen.
    pub(super) fn case(&mut self) -> Result<(), TrailError> {
        let case = self.setting.case;
        for observation in &case.observed {
            let path = format!("observations.{observation}");
            let fact = self.push(Claim::Observed(observation.clone()), vec![], &[path])?;
            self.observed.insert(observation.to_string(), fact);
        }
        let mut started: BTreeMap<&ObservationId, (Vec<FactId>, Vec<String>)> = BTreeMap::new();
        for seen in &case.faults {
            let claim = Claim::Seen {
                fault: seen.fault.clone(),
                skill: seen.skill.clone(),
                grade: seen.grade.clone(),
                severity: seen.severity,
                times: seen.times,
                from_percent: seen.from_percent,
            };
            let path = format!("faults.{}", seen.fault);
            let fact = self.push(claim, vec![], std::slice::from_ref(&path))?;
            self.seen.push(fact);
            for look in seen.also.difference(&case.observed) {
                let (from, paths) = started.entry(look).or_default();
                from.push(fact);
                paths.push(path.clone());
            }
        }
        for (look, (from, mut paths)) in started {
            paths.push(format!("observations.{look}"));
            let fact = self.push(Claim::Observed(look.clone()), from, &paths)?;
            self.observed.insert(look.to_string(), fact);
        }
        for (at, seen) in case.faults.iter().enumerate() {
            let weight = self.setting.weights.get(at);
            let rule = weight.and_then(Weight::too_seldom);
            let (Some(rule), Some(fact)) = (rule, self.seen.get(at).copied()) else {
                continue;
            };
            let claim = Claim::TooSeldom {
                fault: seen.fault.clone(),
                skill: seen.skill.clone(),
                rule: rule.clone(),
            };
            self.push(
                claim,
                vec![fact],
                &[rule_path(HowOften::KIND, rule.as_str())],
            )?;
        }
        for (skill, cause) in &case.sure_of {
            let claim = Claim::Sure {
                skill: skill.clone(),
                cause: cause.clone(),
            };
            let fact = self.push(claim, vec![], &[format!("causes.{cause}")])?;
            self.sure.insert((skill.clone(), cause.clone()), fact);
        }
        Ok(())
    }

    /// The facts that make a cause of a skill ask for work, and the rules that say how much they count.
    pub(super) fn asked_by(&self, skill: &SkillId, cause: &CauseId) -> (Vec<FactId>, Vec<String>) {
        let case = self.setting.case;
        let sure = self.sure.get(&(skill.clone(), cause.clone()));
        let mut from: Vec<FactId> = sure.copied().into_iter().collect();
        let mut rules = Vec::new();
        for (at, (seen, fact)) in case.faults.iter().zip(&self.seen).enumerate() {
            let weight = self.setting.weights.get(at);
            if weight.is_some_and(|held| held.too_seldom().is_some()) {
                continue;
            }
            let share = self
                .setting
                .pack
                .faults
                .get(&seen.fault)
                .and_then(|fault| fault.causes.get(cause));
            if let Some(share) = share.filter(|_| seen.skill == *skill) {
                from.push(*fact);
                let looks = share.raised_by.keys();
                from.extend(
                    looks
                        .filter(|look| seen.shows(case, &look.value))
                        .filter_map(|look| self.observed.get(look.as_str())),
                );
                let rule = weight.and_then(|held| held.rule.as_ref());
                rules.extend(rule.map(|rule| rule_path(HowOften::KIND, rule.as_str())));
            }
        }
        from.sort();
        from.dedup();
        rules.sort();
        rules.dedup();
        (from, rules)
    }

    /// Whether the case says that the coach is sure of a cause.
    pub(crate) fn is_sure(&self, skill: &SkillId, cause: &CauseId) -> bool {
        self.sure.contains_key(&(skill.clone(), cause.clone()))
    }

    /// The stated faults with what is said of each, in the order of the case.
    pub(crate) fn seen_faults(&self) -> Vec<Seen> {
        let setting = self.setting;
        let said = setting.case.faults.iter().zip(&self.seen);
        said.zip(&setting.weights)
            .map(|((seen, fact), weight)| Seen {
                fault: seen.fault.clone(),
                skill: seen.skill.clone(),
                grade: seen.grade.clone(),
                times: seen.times,
                from_percent: seen.from_percent,
                too_seldom: weight.too_seldom().and_then(|rule| {
                    let rules = &setting.rules().how_often;
                    let (id, _) = rules.iter().find(|(id, _)| id.value == *rule)?;
                    let path = rule_path(HowOften::KIND, rule.as_str());
                    Some(Said {
                        rule: rule.clone(),
                        place: id.place.clone(),
                        words: self.glossary.says(&path).to_owned(),
                    })
                }),
                fact: *fact,
            })
            .collect()
    }
}
