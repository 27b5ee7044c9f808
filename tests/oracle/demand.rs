//! From what was seen to the causes that are worked on.

use std::collections::{BTreeMap, BTreeSet};

use super::case::{CaseText, Facts, SeenFault};
use super::movement::Set;
use super::rule_text::{Focus, HowOften};
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

/// Skill and cause of what the coach is sure of: where no skill is said, the one whose stated faults have the cause, or
/// else the one that has such faults at all.
pub fn sure(pack: &PackText, case: &CaseText) -> BTreeSet<Pair> {
    let mut all = BTreeSet::new();
    for word in &case.sure_of {
        let skill = word.skill.clone().unwrap_or_else(|| {
            let of_case: Vec<&String> = case
                .faults
                .iter()
                .filter(|seen| pack.faults[&seen.fault].causes.contains_key(&word.cause))
                .map(|seen| {
                    seen.skill
                        .as_ref()
                        .unwrap_or(&pack.faults[&seen.fault].skills[0])
                })
                .collect();
            let of_pack = pack
                .faults
                .values()
                .filter(|fault| fault.causes.contains_key(&word.cause))
                .flat_map(|fault| &fault.skills);
            let named = of_case.first().copied();
            named.or(of_pack.into_iter().next()).unwrap().clone()
        });
        all.insert((skill, word.cause.clone()));
    }
    all
}

/// How many hundredths of a fault count.
fn counts(seen: &SeenFault, often: &[&HowOften]) -> i64 {
    let (Some(times), Some(of)) = (seen.seen, seen.of) else {
        return 100;
    };
    let mut least = 100;
    for rule in often {
        if rule
            .faults
            .as_ref()
            .is_some_and(|faults| !faults.contains(&seen.fault))
        {
            continue;
        }
        // Rising steps: the last that is reached is what counts.
        let mut percent = 0;
        for step in &rule.steps {
            if step.from <= times * 100 / of {
                percent = step.percent;
            }
        }
        least = least.min(percent);
    }
    least
}

/// What a word of the coach asks for: a hundred times the worst grade that the case states for the skill, or else the
/// mildest that the pack has for it.
fn word(pack: &PackText, case: &CaseText, often: &[&HowOften], (skill, cause): &Pair) -> i64 {
    let mut stated = Vec::new();
    for seen in &case.faults {
        let fault = &pack.faults[&seen.fault];
        let of_skill = seen.skill.as_ref().unwrap_or(&fault.skills[0]) == skill;
        if of_skill && counts(seen, often) > 0 {
            stated.push(fault.grades[&seen.grade].severity);
        }
    }
    let mut known = Vec::new();
    for fault in pack.faults.values() {
        if fault.skills.contains(skill) && fault.causes.contains_key(cause) {
            known.extend(fault.grades.values().map(|grade| grade.severity));
        }
    }
    100 * stated.iter().max().or(known.iter().min()).unwrap()
}

/// The demand of each skill and cause.
pub fn demand(
    pack: &PackText,
    case: &CaseText,
    sure: &BTreeSet<Pair>,
    often: &[&HowOften],
) -> BTreeMap<Pair, i64> {
    let in_general = observed(pack, case);
    let mut all: BTreeMap<Pair, i64> = BTreeMap::new();
    for seen in &case.faults {
        let fault = &pack.faults[&seen.fault];
        let mut observed = in_general.clone();
        for (look, least) in &fault.onset {
            if seen.from_percent.is_some_and(|start| start >= *least) {
                observed.insert(look.clone());
            }
        }
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
            let whole = percent.min(100) * fault.grades[&seen.grade].severity;
            let part = whole * counts(seen, often) / 100;
            *all.entry((skill.clone(), cause.clone())).or_insert(0) += part;
        }
    }
    for pair in sure {
        let asked = word(pack, case, often, pair);
        let held = all.entry(pair.clone()).or_insert(0);
        if *held < asked {
            *held = asked;
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
    let sure = |pair: &Pair| facts.sure.contains(pair);
    pairs.retain(|(pair, demand)| sure(pair) || *demand >= least);
    pairs.sort_by(|one, other| other.1.cmp(&one.1).then_with(|| one.0.cmp(other.0)));
    // A stable sort: what the coach is sure of comes before all else, in the same order.
    pairs.sort_by_key(|(pair, _)| if sure(pair) { 0 } else { 1 });
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
