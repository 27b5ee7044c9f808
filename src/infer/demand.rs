//! Demand of each (skill, cause), and which causes are worked on now.
//!
//! Integers: percent, raised, ruled out, capped at 100, times severity; times the
//! percent that the fault counts, the only division; summed over faults, capped at
//! 300. What the coach is sure of has at least 100 times a severity.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{CauseId, ObservationId, SkillId};
use crate::graph::Graph;
use crate::rules::case_check::Case;
use crate::rules::pack::Pack;
use crate::rules::vocab::Share;

use super::often::Weight;

/// The most that one fault's share may come to, in percent.
const SHARE_CAP: i64 = 100;
/// The most demand that a pair may have: severity 3 at 100 percent.
pub(super) const DEMAND_CAP: i64 = 300;

/// Demand by (skill, cause), both by index.
#[derive(Debug, Clone, Default)]
pub(crate) struct Demand {
    pub(crate) by_pair: BTreeMap<(usize, usize), i64>,
    /// Of which the coach is sure.
    sure: BTreeSet<(usize, usize)>,
}

/// As how severe a cause counts that the coach is sure of: as the severest stated fault of the skill; where none is
/// stated, as the mildest grade of the faults of the skill that the cause can be behind.
/// A fault that was seen too seldom to count is none here.
fn severity_of_sure(
    pack: &Pack,
    case: &Case,
    weights: &[Weight],
    (skill, cause): (&SkillId, &CauseId),
) -> u8 {
    let stated = case
        .faults
        .iter()
        .zip(weights)
        .filter(|(seen, weight)| seen.skill == *skill && weight.percent > 0);
    let severest = stated.map(|(seen, _)| seen.severity).max();
    let mildest = || {
        let faults = pack.faults.values().filter(|fault| {
            fault.causes.contains_key(cause) && fault.skills.iter().any(|id| id.value == *skill)
        });
        let grades = faults.flat_map(|fault| fault.grades.values());
        grades.map(|grade| grade.severity.value).min()
    };
    severest.or_else(mildest).unwrap_or(1)
}

/// What a share comes to in percent, with these further looks true; 0 where one rules the cause out.
pub(super) fn percent_of(share: &Share, is_true: impl Fn(&ObservationId) -> bool) -> i64 {
    if share.ruled_out_by.iter().any(|look| is_true(&look.value)) {
        return 0;
    }
    let raised = share
        .raised_by
        .iter()
        .filter(|(look, _)| is_true(&look.value));
    let raised: i64 = raised.map(|(_, points)| i64::from(points.value)).sum();
    (i64::from(share.percent.value) + raised).min(SHARE_CAP)
}

impl Demand {
    /// What the faults of a case ask for.
    pub(crate) fn of(pack: &Pack, graph: &Graph, case: &Case, weights: &[Weight]) -> Self {
        let mut by_pair = BTreeMap::new();
        for (seen, weight) in case.faults.iter().zip(weights) {
            let (Some(skill), Some(fault)) = (
                graph.skills.find(seen.skill.as_str()),
                pack.faults.get(&seen.fault),
            ) else {
                continue;
            };
            for (cause, share) in &fault.causes {
                let Some(at) = graph.causes.find(cause.as_str()) else {
                    continue;
                };
                let percent = if case.ruled_out.contains(&cause.value) {
                    0
                } else {
                    percent_of(share, |look| seen.shows(case, look))
                };
                *by_pair.entry((skill, at)).or_insert(0) +=
                    percent * i64::from(seen.severity) * weight.percent / 100;
            }
        }
        let mut sure = BTreeSet::new();
        for (skill, cause) in &case.sure_of {
            let (Some(of), Some(at)) = (
                graph.skills.find(skill.as_str()),
                graph.causes.find(cause.as_str()),
            ) else {
                continue;
            };
            let least =
                SHARE_CAP * i64::from(severity_of_sure(pack, case, weights, (skill, cause)));
            let held = by_pair.entry((of, at)).or_insert(0);
            *held = least.max(*held);
            sure.insert((of, at));
        }
        by_pair.retain(|_, demand| {
            *demand = (*demand).min(DEMAND_CAP);
            *demand > 0
        });
        Self { by_pair, sure }
    }

    /// The largest demand of a cause over all skills.
    pub(crate) fn largest(&self, cause: usize) -> i64 {
        self.by_pair
            .iter()
            .filter(|((_, held), _)| *held == cause)
            .map(|(_, n)| *n)
            .max()
            .unwrap_or(0)
    }
}

/// A (skill, cause) that the week works on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Pair {
    pub(crate) skill: usize,
    pub(crate) cause: usize,
    pub(crate) demand: i64,
    /// Whether the cause is one of movement, not of capacity.
    pub(crate) movement: bool,
    /// Whether the coach is sure of it.
    pub(crate) sure: bool,
}

/// Why a cause waits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Wait {
    /// Its demand is below what is worked on.
    TooLittle,
    /// The skill has as many causes as are worked on at once.
    SkillFull,
    /// The week has as many causes as are worked on at once.
    AllFull,
    /// It asks for the opposite of this cause, which has the better support.
    Opposed(usize),
}

/// A cause with demand that is not worked on now.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Waiting {
    pub(crate) pair: Pair,
    pub(crate) why: Wait,
}

/// Bounds of the `focus` rules that speak, the strictest of each.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Bounds {
    pub(crate) per_skill: Option<usize>,
    pub(crate) in_all: Option<usize>,
    pub(crate) demand: i64,
    /// Whether any speaks; where none does, every cause is worked on, opposed or not.
    pub(crate) speak: bool,
}

/// Takes causes by falling demand, then skill, then cause; those first of which the coach is sure.
pub(crate) fn focus(
    pack: &Pack,
    graph: &Graph,
    demand_of: &Demand,
    bounds: Bounds,
) -> (Vec<Pair>, Vec<Waiting>) {
    let mut pairs: Vec<Pair> = demand_of
        .by_pair
        .iter()
        .map(|(&(skill, cause), &demand)| Pair {
            skill,
            cause,
            demand,
            movement: graph
                .causes
                .get(cause)
                .is_some_and(|id| pack.movement_causes.contains_key(id)),
            sure: demand_of.sure.contains(&(skill, cause)),
        })
        .collect();
    pairs.sort_by_key(|pair| (!pair.sure, -pair.demand, pair.skill, pair.cause));
    let (mut taken, mut waiting): (Vec<Pair>, Vec<Waiting>) = (Vec::new(), Vec::new());
    for pair in pairs {
        let of_skill: Vec<usize> = taken
            .iter()
            .filter(|held| held.skill == pair.skill)
            .map(|held| held.cause)
            .collect();
        let why = if !pair.sure && pair.demand < bounds.demand {
            Some(Wait::TooLittle)
        } else if let Some(other) = of_skill
            .iter()
            .filter(|_| bounds.speak)
            .find(|other| opposed(pack, graph, pair.cause, **other))
        {
            Some(Wait::Opposed(*other))
        } else if bounds.per_skill.is_some_and(|most| of_skill.len() >= most) {
            Some(Wait::SkillFull)
        } else if bounds.in_all.is_some_and(|most| taken.len() >= most) {
            Some(Wait::AllFull)
        } else {
            None
        };
        match why {
            None => taken.push(pair),
            Some(why) => waiting.push(Waiting { pair, why }),
        }
    }
    (taken, waiting)
}

fn opposed(pack: &Pack, graph: &Graph, one: usize, other: usize) -> bool {
    let states = |a: usize, b: usize| {
        let (Some(a), Some(b)) = (graph.causes.get(a), graph.causes.get(b)) else {
            return false;
        };
        pack.movement_causes
            .get(a)
            .is_some_and(|cause| cause.opposes.iter().any(|id| id.value == *b))
    };
    states(one, other) || states(other, one)
}
