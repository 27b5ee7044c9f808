//! Records what an exercise does to a cause, and through which of its constraints.

use crate::base::{CauseId, ConstraintId, FactId, TrailError};
use crate::explain::claim::Claim;
use crate::explain::glossary::constraint_path;
use crate::graph::Body;
use crate::infer::Pair;

use super::Trace;

/// The most constraints that are named as what helps: help counts for the two strongest.
const MOST_NAMED: usize = 2;

impl<'a> Trace<'a> {
    /// The component of an exercise that helps a cause most, by what its constraints say.
    fn strongest(&self, exercise: usize, cause: usize) -> Option<&'a Body> {
        let stages = self
            .setting
            .graph
            .causes
            .get(cause)
            .and_then(|id| self.setting.pack.movement_causes.get(id));
        let there = |body: &Body| {
            stages.is_none_or(|cause| {
                let mut at = cause
                    .stages
                    .iter()
                    .filter_map(|stage| self.setting.graph.stages.find(stage.as_str()));
                at.any(|stage| body.stages.has(stage))
            })
        };
        let pieces = &self.setting.graph.exercises.get(exercise)?.pieces;
        let most = |body: &Body| body.effects.get(cause).copied().unwrap_or(0);
        // Of equals the first component.
        pieces
            .iter()
            .map(|piece| &piece.body)
            .filter(|body| there(body))
            .rev()
            .max_by_key(|body| most(body))
    }

    /// Constraints of a component that help a cause, the strongest first, with their points.
    fn helping(&self, body: &Body, cause: &CauseId) -> Vec<(usize, ConstraintId, i64)> {
        let mut all: Vec<(usize, ConstraintId, i64)> = body
            .constraints
            .iter()
            .filter_map(|at| {
                let points = i64::from(
                    self.constraints
                        .get(at)
                        .copied()
                        .flatten()?
                        .effect
                        .get(cause)?
                        .value,
                );
                Some((at, self.setting.graph.constraints.get(at)?.clone(), points))
            })
            .filter(|(_, _, points)| *points > 0)
            .collect();
        all.sort_by(|one, other| (-one.2, &one.1).cmp(&(-other.2, &other.1)));
        all.truncate(MOST_NAMED);
        all
    }

    /// The constraints of an exercise that help a pair in focus most.
    pub(crate) fn by(&self, exercise: usize, pair: &Pair) -> Vec<ConstraintId> {
        let Some(cause) = self.setting.graph.causes.get(pair.cause) else {
            return Vec::new();
        };
        let body = self.strongest(exercise, pair.cause);
        body.map_or_else(Vec::new, |body| {
            self.helping(body, cause)
                .into_iter()
                .map(|(_, id, _)| id)
                .collect()
        })
    }

    /// Records what an exercise does to a pair in focus, if it does anything.
    pub(crate) fn effect(
        &mut self,
        exercise: usize,
        place: usize,
    ) -> Result<Option<FactId>, TrailError> {
        if let Some(fact) = self.helps.get(&(exercise, place)) {
            return Ok(Some(*fact));
        }
        let (Some(pair), Some(id)) = (
            self.setting.focus.get(place),
            self.setting.graph.ids.get(exercise),
        ) else {
            return Ok(None);
        };
        let half_points = self
            .setting
            .effects(exercise)
            .get(place)
            .copied()
            .unwrap_or(0);
        let Some((skill, cause)) = self.pair(pair).filter(|_| half_points != 0) else {
            return Ok(None);
        };
        let mut from: Vec<FactId> = self.focus.get(place).copied().into_iter().collect();
        let mut by = Vec::new();
        if half_points > 0 {
            let helping = self
                .strongest(exercise, pair.cause)
                .map_or_else(Vec::new, |body| self.helping(body, &cause));
            for (at, constraint, points) in helping {
                from.push(self.act(at, pair.cause, &constraint, &cause, points)?);
                by.push(constraint);
            }
        }
        let paths = [self.glossary.exercise_path(id.as_str())];
        let claim = Claim::Helps {
            exercise: id.clone(),
            skill,
            cause,
            half_points,
            by,
            sure: pair.sure,
        };
        let fact = self.push(claim, from, &paths)?;
        self.helps.insert((exercise, place), fact);
        Ok(Some(fact))
    }

    fn act(
        &mut self,
        at: usize,
        cause: usize,
        constraint: &ConstraintId,
        cause_id: &CauseId,
        points: i64,
    ) -> Result<FactId, TrailError> {
        if let Some(fact) = self.acts.get(&(at, cause)) {
            return Ok(*fact);
        }
        let claim = Claim::Acts {
            constraint: constraint.clone(),
            cause: cause_id.clone(),
            points,
        };
        let fact = self.push(claim, vec![], &[constraint_path(constraint.as_str())])?;
        self.acts.insert((at, cause), fact);
        Ok(fact)
    }
}
