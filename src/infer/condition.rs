//! Conditions, three-valued.

use std::cell::RefCell;
use std::collections::BTreeSet;

use crate::base::{CaseFieldId, SkillId};
use crate::graph::Graph;
use crate::rules::case_check::{Case, Value};
use crate::rules::kinds::Rule;
use crate::rules::vocab::{Condition, FieldTest, IfUnknown, Range};

use super::demand::{Demand, Pair};

/// Reads conditions for one case and notes which missing fields were asked for.
pub(crate) struct Reading<'a> {
    pub(crate) graph: &'a Graph,
    pub(crate) case: &'a Case,
    pub(crate) demand: &'a Demand,
    pub(crate) focus: &'a [Pair],
    /// Fields that a condition needed and the case does not say.
    pub(crate) missing: RefCell<BTreeSet<CaseFieldId>>,
}

/// Three-valued "and": false wins, then unknown.
fn all(parts: impl Iterator<Item = Option<bool>>) -> Option<bool> {
    let mut known = true;
    for part in parts {
        match part {
            Some(false) => return Some(false),
            Some(true) => {}
            None => known = false,
        }
    }
    known.then_some(true)
}

/// Three-valued "or": true wins, then unknown.
fn any(parts: impl Iterator<Item = Option<bool>>) -> Option<bool> {
    all(parts.map(|part| part.map(|held| !held))).map(|held| !held)
}

impl Reading<'_> {
    /// Whether a rule speaks in this case.
    pub(crate) fn speaks<R: Rule>(&self, rule: &R) -> bool {
        match rule.when() {
            None => true,
            Some(condition) => self
                .holds(condition)
                .unwrap_or(rule.if_unknown() == Some(IfUnknown::Apply)),
        }
    }

    /// Whether a condition holds; none where the case does not say enough.
    pub(crate) fn holds(&self, condition: &Condition) -> Option<bool> {
        let mut parts: Vec<Option<bool>> = Vec::new();
        for (field, test) in &condition.case {
            parts.push(self.field(field, test));
        }
        if !condition.phase.is_empty() {
            parts.push(Some(
                condition
                    .phase
                    .iter()
                    .any(|phase| phase.value == self.case.phase),
            ));
        }
        if !condition.faults.is_empty() {
            let seen = |id| self.case.faults.iter().any(|seen| seen.fault == id);
            parts.push(Some(
                condition
                    .faults
                    .iter()
                    .any(|fault| seen(fault.value.clone())),
            ));
        }
        for (cause, range) in &condition.demand {
            let largest = self
                .graph
                .causes
                .find(cause.as_str())
                .map_or(0, |cause| self.demand.largest(cause));
            parts.push(Some(range.holds(largest)));
        }
        if !condition.focus_causes.is_empty() {
            let held = |id: &str| {
                self.graph
                    .causes
                    .find(id)
                    .is_some_and(|cause| self.focus.iter().any(|pair| pair.cause == cause))
            };
            parts.push(Some(
                condition.focus_causes.iter().any(|id| held(id.as_str())),
            ));
        }
        if !condition.focus_skills.is_empty() {
            let held = |id: &str| {
                self.graph
                    .skills
                    .find(id)
                    .is_some_and(|skill| self.focus.iter().any(|pair| pair.skill == skill))
            };
            parts.push(Some(
                condition.focus_skills.iter().any(|id| held(id.as_str())),
            ));
        }
        if !condition.known_best.is_empty() {
            parts.push(Some(
                condition
                    .known_best
                    .iter()
                    .any(|id| self.case.bests.contains_key(&id.value)),
            ));
        }
        for (id, range) in &condition.best_age {
            let stated = self.case.bests.contains_key(&id.value);
            let day = self.case.best_days.get(&id.value);
            parts.push(match (day, self.case.today) {
                _ if !stated => Some(false),
                (Some(day), Some(today)) => Some(range.holds(today - day)),
                _ => None,
            });
        }
        parts.extend(condition.all.iter().map(|inner| self.holds(inner)));
        if !condition.any.is_empty() {
            parts.push(any(condition.any.iter().map(|inner| self.holds(inner))));
        }
        parts.extend(
            condition
                .none
                .iter()
                .map(|inner| self.holds(inner).map(|held| !held)),
        );
        all(parts.into_iter())
    }

    fn field(&self, field: &CaseFieldId, test: &FieldTest) -> Option<bool> {
        if let Some(known) = test.known {
            let said = self.case.says(field);
            if said != known {
                return Some(false);
            }
        }
        let asks = !(test.is.is_empty()
            && test.is_not.is_empty()
            && test.has.is_empty()
            && test.has_none.is_empty())
            || test.at_least.is_some()
            || test.at_most.is_some();
        if !asks {
            return Some(true);
        }
        let Some(value) = self.case.value(field) else {
            self.missing.borrow_mut().insert(field.clone());
            return None;
        };
        self.passes(&value, test)
    }

    /// Whether the case's value of a field for one skill passes; the case's own value where none is said for the skill.
    pub(crate) fn field_of_skill(
        &self,
        skill: &SkillId,
        field: &CaseFieldId,
        test: &FieldTest,
    ) -> bool {
        match self.case.by_skill.get(&(skill.clone(), field.clone())) {
            Some(value) => self.passes(value, test) == Some(true),
            None => self.field(field, test) == Some(true),
        }
    }

    fn passes(&self, value: &Value, test: &FieldTest) -> Option<bool> {
        let range = Range {
            at_least: test.at_least,
            at_most: test.at_most,
        };
        let numbered = test.at_least.is_some() || test.at_most.is_some();
        let held = match value {
            Value::Word(word) => {
                (test.is.is_empty() || test.is.iter().any(|id| id.value == *word))
                    && !test.is_not.iter().any(|id| id.value == *word)
            }
            Value::Words(words) => {
                (test.has.is_empty() || test.has.iter().any(|id| words.contains(&id.value)))
                    && !test.has_none.iter().any(|id| words.contains(&id.value))
            }
            Value::Number(number) => !numbered || range.holds(*number),
            Value::Date(day) => match self.case.today {
                _ if !numbered => true,
                Some(today) => range.holds(day - today),
                None => return None,
            },
        };
        Some(held)
    }
}
