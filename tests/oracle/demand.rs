//! From what was seen to the causes that are worked on.

use std::collections::BTreeMap;

use super::case::{CaseText, Facts};
use super::movement::Set;
use super::rule_text::Focus;
use super::text::PackText;

type Pair = (String, String);

/// What the case lists and what a measured value makes true.
fn observed(pack: &PackText, case: &CaseText) -> Set {
    let mut all: Set = case.observed.iter().cloned().collect();
    for (id, observation) in &pack.observations {
        if let Some(measured) = &observation.measured
            && case
                .measured
                .get(&measured.by)
                .is_some_and(|value| measured.is.holds(*value))
        {
            all.insert(id.clone());
        }
    }
    all
}

/// The demand of each skill and cause.
pub fn demand(pack: &PackText, case: &CaseText) -> BTreeMap<Pair, i64> {
    let observed = observed(pack, case);
    let mut all: BTreeMap<Pair, i64> = BTreeMap::new();
    for seen in &case.faults {
        let fault = &pack.faults[&seen.fault];
        let skill = seen.skill.as_ref().unwrap_or(&fault.skills[0]);
        for (cause, share) in &fault.causes {
            let raised = share
                .raised_by
                .iter()
                .filter(|(look, _)| observed.contains(*look));
            let mut percent = share.percent + raised.map(|(_, points)| points).sum::<i64>();
            if share
                .ruled_out_by
                .iter()
                .any(|look| observed.contains(look))
                || case.ruled_out.contains(cause)
            {
                percent = 0;
            }
            let part = percent.min(100) * fault.grades[&seen.grade].severity;
            *all.entry((skill.clone(), cause.clone())).or_insert(0) += part;
        }
    }
    for value in all.values_mut() {
        *value = (*value).min(300);
    }
    all
}

fn opposed(pack: &PackText, one: &str, other: &str) -> bool {
    let states = |from: &str, to: &str| {
        pack.causes
            .movement
            .get(from)
            .is_some_and(|cause| cause.opposes.iter().any(|id| id == to))
    };
    states(one, other) || states(other, one)
}

/// The pairs that are worked on. `facts` know the demand, and no focus yet.
pub fn focus(pack: &PackText, facts: &Facts, rules: &[&Focus]) -> Vec<Pair> {
    let per_skill = rules.iter().map(|rule| rule.per_skill_at_most).min();
    let in_all = rules.iter().filter_map(|rule| rule.in_all_at_most).min();
    let least = rules
        .iter()
        .filter_map(|rule| rule.demand_at_least)
        .max()
        .unwrap_or(0);
    let mut pairs: Vec<(&Pair, i64)> = facts
        .demand
        .iter()
        .map(|(pair, demand)| (pair, *demand))
        .filter(|(_, demand)| *demand > 0)
        .collect();
    pairs.retain(|(_, demand)| *demand >= least);
    pairs.sort_by(|one, other| other.1.cmp(&one.1).then_with(|| one.0.cmp(other.0)));
    let mut taken: Vec<Pair> = Vec::new();
    for ((skill, cause), _) in pairs {
        let of_skill: Vec<&Pair> = taken.iter().filter(|(held, _)| held == skill).collect();
        let full = per_skill.is_some_and(|most| i64::try_from(of_skill.len()).unwrap() >= most)
            || in_all.is_some_and(|most| i64::try_from(taken.len()).unwrap() >= most);
        // No focus rule: all are taken, opposed or not.
        let clash =
            !rules.is_empty() && of_skill.iter().any(|(_, held)| opposed(pack, held, cause));
        if !full && !clash {
            taken.push((skill.clone(), cause.clone()));
        }
    }
    taken
}
