//! How much each stated fault counts by how often it was seen, before demand.

use crate::base::RuleId;
use crate::rules::case_check::Seen;

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

impl Setting<'_> {
    /// How much each fault of the case counts, in the order of the case: the least that a rule gives it, of equals by the first.
    pub(super) fn weighed(&self) -> Vec<Weight> {
        let of = |seen: &Seen| {
            let mut weight = Weight {
                percent: 100,
                rule: None,
            };
            let Some(times) = seen.times else {
                return weight;
            };
            for (id, rule) in self.speaking(&self.rules().how_often) {
                let percent = i64::from(rule.percent(times));
                if rule.is_of(&seen.fault) && percent < weight.percent {
                    weight = Weight {
                        percent,
                        rule: Some(id.value.clone()),
                    };
                }
            }
            weight
        };
        self.case.faults.iter().map(of).collect()
    }
}
