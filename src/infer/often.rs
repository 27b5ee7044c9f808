//! How much each stated fault counts by how often it was seen, before demand.

use crate::base::{At, FaultId, RuleId};
use crate::rules::case_check::Seen;
use crate::rules::kinds::HowOften;

use super::Setting;

/// How much a stated fault counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Weight {
    /// Percent of what it asks for, 0 to 100; 0 where it was seen too seldom.
    pub(crate) percent: i64,
    /// The rule that says so; none where it counts whole.
    pub(crate) rule: Option<RuleId>,
}

impl Weight {
    /// The rule by which the fault was seen too seldom to count, where it was.
    pub(crate) fn too_seldom(&self) -> Option<&RuleId> {
        self.rule.as_ref().filter(|_| self.percent == 0)
    }
}

/// How much a fault counts that was seen so often: the least that one of these rules gives it, of equals by the first.
pub(super) fn weight<'r>(
    speaking: impl Iterator<Item = (&'r At<RuleId>, &'r HowOften)>,
    fault: &FaultId,
    times: (u16, u16),
) -> Weight {
    let mut least = Weight {
        percent: 100,
        rule: None,
    };
    for (id, rule) in speaking.filter(|(_, rule)| rule.is_of(fault)) {
        let percent = i64::from(rule.percent(times));
        if percent < least.percent {
            least = Weight {
                percent,
                rule: Some(id.value.clone()),
            };
        }
    }
    least
}

impl Setting<'_> {
    /// How much each fault of the case counts, in the order of the case: the least that a rule gives it, of equals by the first.
    pub(super) fn weighed(&self) -> Vec<Weight> {
        let of = |seen: &Seen| {
            let whole = Weight {
                percent: 100,
                rule: None,
            };
            seen.times.map_or(whole, |times| {
                weight(self.speaking(&self.rules().how_often), &seen.fault, times)
            })
        };
        self.case.faults.iter().map(of).collect()
    }
}
