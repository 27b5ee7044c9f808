//! Records the facts that a week follows from, as they are derived.

mod effect;
mod seen;

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::base::{CauseId, Cited, FactId, SkillId, Trail, TrailError};
use crate::infer::{Pair, Setting, Wait};
use crate::rules::vocab::Constraint;

use super::claim::{Claim, WaitsFor};
use super::glossary::{Glossary, rule_path};

/// Facts of one case, and where those stand that later ones follow from.
pub(crate) struct Trace<'a> {
    pub(crate) setting: &'a Setting<'a>,
    pub(crate) glossary: Arc<Glossary>,
    pub(crate) trail: Trail<Claim>,
    /// By index of the constraint.
    constraints: Vec<Option<&'a Constraint>>,
    seen: Vec<FactId>,
    observed: BTreeMap<String, FactId>,
    /// That the coach is sure, by skill and cause.
    sure: BTreeMap<(SkillId, CauseId), FactId>,
    /// By place in the focus.
    pub(crate) focus: Vec<FactId>,
    /// By place among those that wait.
    pub(crate) waiting: Vec<FactId>,
    acts: BTreeMap<(usize, usize), FactId>,
    /// By exercise and place in the focus.
    helps: BTreeMap<(usize, usize), FactId>,
    /// By the exercise that stands in.
    stand_ins: BTreeMap<usize, FactId>,
}

impl<'a> Trace<'a> {
    /// Records what the case says and what follows from it before anything is placed.
    ///
    /// # Errors
    ///
    /// Where the trail is full.
    pub(crate) fn of(
        setting: &'a Setting<'a>,
        glossary: &Arc<Glossary>,
    ) -> Result<Self, TrailError> {
        let mut constraints = vec![None; setting.graph.constraints.len()];
        for axis in setting.pack.axes.values() {
            for (id, held) in &axis.constraints {
                if let Some(slot) = setting
                    .graph
                    .constraints
                    .find(id.as_str())
                    .and_then(|at| constraints.get_mut(at))
                {
                    *slot = Some(held);
                }
            }
        }
        let mut trace = Self {
            setting,
            glossary: Arc::clone(glossary),
            trail: Trail::new(),
            constraints,
            seen: Vec::new(),
            observed: BTreeMap::new(),
            sure: BTreeMap::new(),
            focus: Vec::new(),
            waiting: Vec::new(),
            acts: BTreeMap::new(),
            helps: BTreeMap::new(),
            stand_ins: BTreeMap::new(),
        };
        trace.case()?;
        trace.causes()?;
        trace.full_forms()?;
        Ok(trace)
    }

    /// Records a fact that rests on the items with these paths.
    pub(crate) fn push(
        &mut self,
        claim: Claim,
        from: Vec<FactId>,
        paths: &[String],
    ) -> Result<FactId, TrailError> {
        let cites: Vec<Cited> = paths
            .iter()
            .flat_map(|path| self.glossary.cite(path))
            .collect();
        self.trail.push(claim, from, cites)
    }

    fn pair(&self, pair: &Pair) -> Option<(SkillId, CauseId)> {
        let graph = self.setting.graph;
        Some((
            graph.skills.get(pair.skill)?.clone(),
            graph.causes.get(pair.cause)?.clone(),
        ))
    }

    fn causes(&mut self) -> Result<(), TrailError> {
        let rules: Vec<String> = self
            .setting
            .speaking(&self.setting.rules().focus)
            .map(|(id, _)| rule_path("focus", id.as_str()))
            .collect();
        for pair in &self.setting.focus {
            let Some((skill, cause)) = self.pair(pair) else {
                continue;
            };
            let demand = self.demand(pair, &skill, &cause)?;
            let claim = Claim::InFocus {
                skill,
                cause,
                points: pair.demand,
            };
            let fact = self.push(claim, vec![demand], &rules)?;
            self.focus.push(fact);
        }
        for waiting in &self.setting.waiting {
            let Some((skill, cause)) = self.pair(&waiting.pair) else {
                continue;
            };
            let mut from = vec![self.demand(&waiting.pair, &skill, &cause)?];
            let mut paths = rules.clone();
            let why = match waiting.why {
                Wait::TooLittle => WaitsFor::MoreDemand,
                Wait::SkillFull => WaitsFor::RoomInSkill,
                Wait::AllFull => WaitsFor::RoomInAll,
                Wait::Opposed(other) => {
                    let focus = &self.setting.focus;
                    let taken = focus
                        .iter()
                        .position(|p| p.skill == waiting.pair.skill && p.cause == other);
                    let sure = taken.and_then(|at| focus.get(at)).is_some_and(|p| p.sure);
                    from.extend(taken.and_then(|at| self.focus.get(at)));
                    paths = vec![format!("causes.{cause}")];
                    match self.setting.graph.causes.get(other) {
                        Some(other) => WaitsFor::Opposite {
                            cause: other.clone(),
                            look: self.look(&cause, other).filter(|_| !sure),
                            sure,
                        },
                        None => WaitsFor::RoomInSkill,
                    }
                }
            };
            let claim = Claim::Waits {
                skill,
                cause,
                points: waiting.pair.demand,
                why,
            };
            let fact = self.push(claim, from, &paths)?;
            self.waiting.push(fact);
        }
        Ok(())
    }

    /// The look that tells two opposite causes apart: that of the one that waits, else the other's.
    fn look(&self, one: &CauseId, other: &CauseId) -> Option<crate::base::ObservationId> {
        let of = |id: &CauseId| {
            self.setting
                .pack
                .movement_causes
                .get(id)?
                .told_apart_by
                .as_ref()
        };
        of(one).or_else(|| of(other)).map(|look| look.value.clone())
    }

    fn demand(
        &mut self,
        pair: &Pair,
        skill: &SkillId,
        cause: &CauseId,
    ) -> Result<FactId, TrailError> {
        let (from, mut paths) = self.asked_by(skill, cause);
        paths.insert(0, format!("causes.{cause}"));
        let claim = Claim::Demand {
            skill: skill.clone(),
            cause: cause.clone(),
            points: pair.demand,
        };
        self.push(claim, from, &paths)
    }

    fn full_forms(&mut self) -> Result<(), TrailError> {
        for (id, rule) in self.setting.speaking(&self.setting.rules().fullest) {
            let Some(root) = self.setting.graph.ids.find(rule.of.as_str()) else {
                continue;
            };
            let found = self
                .setting
                .full_forms()
                .get(&root)
                .copied()
                .flatten()
                .filter(|found| *found != root);
            let Some(exercise) =
                found.and_then(|at| self.setting.graph.ids.get(at).cloned().map(|id| (at, id)))
            else {
                continue;
            };
            let mut paths = vec![rule_path("fullest", id.as_str())];
            paths.extend(
                self.setting
                    .ruled_out_by(root)
                    .map(|(out, _)| rule_path("exclude", out.as_str())),
            );
            let claim = Claim::StandsIn {
                of: rule.of.value.clone(),
                exercise: exercise.1,
                rule: id.value.clone(),
            };
            let fact = self.push(claim, vec![], &paths)?;
            self.stand_ins.insert(exercise.0, fact);
        }
        Ok(())
    }

    /// The fact that an exercise stands in for a full form, where it does.
    pub(crate) fn stand_in(&self, exercise: usize) -> Option<FactId> {
        self.stand_ins.get(&exercise).copied()
    }
}
