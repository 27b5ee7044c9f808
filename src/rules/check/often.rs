//! How often a fault must be seen, and from which load on: steps that rise, conditions that can be asked before demand.

use crate::base::{Code, Place};
use crate::rules::kinds::{HowOften, Rule};
use crate::rules::vocab::Condition;

use super::Checks;
use super::sections::Sort;

/// Checks the rules of this kind, and onsets.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for least in pack.faults.values().flat_map(|fault| fault.onset.values()) {
        checks.at(least, "onset", 1, 120);
    }
    for (id, rule) in &pack.rules.how_often {
        let sort = Sort::Rule(HowOften::KIND);
        checks.some(sort, id.as_str(), &["steps"], rule.steps.len(), "step");
        for step in &rule.steps {
            checks.at(&step.from, "from", 1, 100);
            checks.at(&step.percent, "percent", 1, 100);
        }
        for (one, next) in rule.steps.iter().zip(rule.steps.iter().skip(1)) {
            let read = |place: &Place| !place.is_unknown();
            if next.from <= one.from && read(&one.from.place) && read(&next.from.place) {
                checks.problem(
                    Code::OutOfRange,
                    next.from.place.clone(),
                    format!(
                        "a step from {} stands after one from {}",
                        next.from, one.from
                    ),
                    "write the steps by rising `from`, each once",
                );
            }
            if next.percent < one.percent && read(&one.percent.place) && read(&next.percent.place) {
                checks.problem(
                    Code::OutOfRange,
                    next.percent.place.clone(),
                    format!(
                        "what was seen more often counts {} percent, what was seen less {}",
                        next.percent, one.percent
                    ),
                    "let `percent` rise with `from`, or stay",
                );
            }
        }
        if let Some(asked) = rule.when.as_ref().and_then(follows) {
            checks.problem(
                Code::Contradiction,
                asked.clone(),
                format!("a `{}` rule speaks before demand is known, so it can't ask for demand or focus", HowOften::KIND),
                "ask for something that the case itself says",
            );
        }
    }
}

/// The first place at which a condition asks for what follows from what was seen.
fn follows(condition: &Condition) -> Option<&Place> {
    let own = condition
        .demand
        .keys()
        .chain(&condition.focus_causes)
        .map(|id| &id.place)
        .chain(condition.focus_skills.iter().map(|id| &id.place));
    let inner = condition
        .all
        .iter()
        .chain(&condition.any)
        .chain(&condition.none);
    own.chain(inner.filter_map(follows)).min()
}
