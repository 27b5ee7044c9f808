//! Whether a selector holds for an exercise or a placed item.

use std::collections::BTreeMap;

use crate::base::{At, CauseId, EffortId, ExerciseId, PartId, RoleId, StageId};
use crate::graph::{Body, Exercise};
use crate::rules::vocab::{Came, Selector};

use super::setting::Setting;

/// An exercise with as much of its placing as is known; what is absent never matches.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Placed<'a> {
    pub(crate) exercise: usize,
    pub(crate) role: Option<&'a RoleId>,
    pub(crate) part: Option<&'a PartId>,
    pub(crate) effort: Option<&'a EffortId>,
    /// Top of its load, in percent of its reference.
    pub(crate) percent: Option<i64>,
}

impl Placed<'_> {
    /// An exercise that is not placed.
    pub(crate) fn unplaced(exercise: usize) -> Self {
        Self {
            exercise,
            role: None,
            part: None,
            effort: None,
            percent: None,
        }
    }
}

/// By where a selector stands in memory, by component: whether what it asks itself holds wherever the component is placed.
pub(super) type Suited = BTreeMap<usize, Vec<Option<bool>>>;

/// Whether what a selector itself asks of the placing holds.
fn placing_keys(what: &Selector, placed: &Placed<'_>) -> bool {
    (what.roles.is_empty()
        || placed
            .role
            .is_some_and(|role| what.roles.iter().any(|id| id.value == *role)))
        && (what.parts.is_empty()
            || placed
                .part
                .is_some_and(|part| what.parts.iter().any(|id| id.value == *part)))
        && (what.efforts.is_empty()
            || placed
                .effort
                .is_some_and(|effort| what.efforts.iter().any(|id| id.value == *effort)))
        && what
            .percent
            .is_none_or(|range| placed.percent.is_some_and(|percent| range.holds(percent)))
}

impl Setting<'_> {
    /// Whether `what` holds for an item.
    pub(crate) fn matches(&self, what: &Selector, placed: &Placed<'_>) -> bool {
        let Some(exercise) = self.graph.exercises.get(placed.exercise) else {
            return false;
        };
        exercise
            .pieces
            .iter()
            .any(|piece| self.matches_piece(what, placed, exercise, &piece.body))
    }

    /// Whether `what` holds for an item by this component.
    pub(crate) fn matches_piece(
        &self,
        what: &Selector,
        placed: &Placed<'_>,
        exercise: &Exercise,
        body: &Body,
    ) -> bool {
        what.everything
            || (placing_keys(what, placed)
                && what.further_than_before.is_none_or(|range| {
                    let further = self.further_than_before(exercise, placed.role);
                    further.is_some_and(|points| range.holds(points))
                })
                && self.suits(what, placed.exercise, exercise, body)
                && self.nested(what, placed, exercise, body))
    }

    /// Whether what a selector itself asks holds of a component wherever it is placed. That is worked out once and kept by
    /// where the selector stands in memory: rules ask the same of the same exercise many times in one case, and what they ask
    /// stays where it is as long as there is a setting.
    fn suits(&self, what: &Selector, at: usize, exercise: &Exercise, body: &Body) -> bool {
        let held = || {
            self.item_keys(what, at, exercise)
                && self.body_keys(what, exercise, body)
                && self.constraint_keys(what, body)
        };
        let stands = std::ptr::from_ref(what).addr();
        let known = |suited: &Suited| suited.get(&stands)?.get(body.number).copied().flatten();
        if let Some(known) = known(&self.suited.borrow()) {
            debug_assert_eq!(known, held());
            return known;
        }
        let held = held();
        let mut suited = self.suited.borrow_mut();
        let of_bodies = suited.entry(stands).or_default();
        if of_bodies.len() <= body.number {
            of_bodies.resize(body.number + 1, None);
        }
        if let Some(slot) = of_bodies.get_mut(body.number) {
            *slot = Some(held);
        }
        held
    }

    /// By how much an exercise departs further than all that stood in the week before in its role for a skill of it.
    fn further_than_before(&self, exercise: &Exercise, role: Option<&RoleId>) -> Option<i64> {
        let before = self.case.week_before.iter();
        let of_the_role = before.filter(|held| Some(&held.role) == role);
        let stood = of_the_role.filter_map(|held| {
            self.graph
                .exercises
                .get(self.graph.ids.find(held.exercise.as_str())?)
        });
        let of_a_skill = stood.filter(|stood| exercise.skills.meets(&stood.skills));
        let furthest = of_a_skill.map(|stood| stood.departure).max()?;
        Some(exercise.departure - furthest)
    }

    fn item_keys(&self, what: &Selector, at: usize, exercise: &Exercise) -> bool {
        let effects = || self.movement_effects(at);
        (what
            .alone
            .is_none_or(|alone| alone != exercise.is_complex()))
            && what
                .reps_in_complex
                .is_none_or(|range| exercise.is_complex() && range.holds(exercise.round()))
            && what
                .best_effect_on_focus
                .is_none_or(|range| effects().max().is_some_and(|n| range.holds(n)))
            && what
                .worst_effect_on_focus
                .is_none_or(|range| effects().min().is_some_and(|n| range.holds(n)))
            && (what.helps.is_empty()
                || what
                    .helps
                    .iter()
                    .any(|cause| self.helps(at, cause.as_str())))
            && what.trains.iter().all(|(quality, range)| {
                let points = self
                    .graph
                    .qualities
                    .find(quality.as_str())
                    .and_then(|at| exercise.trains.get(at));
                range.holds(points.copied().unwrap_or(0))
            })
            && what
                .new
                .is_none_or(|new| new == self.case.new.contains(&exercise.id))
            && what
                .disliked
                .is_none_or(|disliked| disliked == self.case.disliked.contains(&exercise.id))
            && (what.tried.is_empty()
                || self
                    .case
                    .tried
                    .get(&exercise.id)
                    .is_some_and(|came| what.tried.iter().any(|one| one.value == *came)))
            && what
                .did_last_week
                .is_none_or(|did| did == (self.case.weeks_in_a_row(&exercise.id) > 0))
            && what
                .weeks_in_a_row
                .is_none_or(|range| range.holds(self.case.weeks_in_a_row(&exercise.id)))
    }

    fn body_keys(&self, what: &Selector, exercise: &Exercise, body: &Body) -> bool {
        let in_line = |id: &ExerciseId| {
            *id == exercise.id
                || self
                    .graph
                    .ids
                    .find(id.as_str())
                    .is_some_and(|at| body.line.contains(&at))
        };
        let is = |id: &ExerciseId| {
            *id == exercise.id
                || (self.graph.ids.find(id.as_str()) == Some(body.exercise) && self.unvaried(body))
        };
        (what.exercises.is_empty() || what.exercises.iter().any(|id| is(&id.value)))
            && (what.under.is_empty() || what.under.iter().any(|id| in_line(&id.value)))
            && (what.skills.is_empty()
                || what.skills.iter().any(|id| {
                    self.graph
                        .skills
                        .find(id.as_str())
                        .is_some_and(|skill| body.skills.has(skill))
                }))
            && what.in_focus.is_none_or(|wanted| {
                wanted == self.focus.iter().any(|pair| body.skills.has(pair.skill))
            })
            && (what.shows.is_empty()
                || what
                    .shows
                    .iter()
                    .any(|cause| self.shows(body, cause.as_str()).is_some()))
            && (what.like_tried.is_empty() || self.like_tried(what, body))
            && (what.full.is_empty()
                || what.full.iter().any(|id| {
                    self.full_form(id.as_str())
                        .is_some_and(|at| at == body.exercise && self.unvaried(body))
                }))
            && (what.case_of_skill.is_empty()
                || body
                    .skills
                    .iter()
                    .filter_map(|skill| self.graph.skills.get(skill))
                    .any(|skill| {
                        what.case_of_skill
                            .iter()
                            .all(|(field, test)| self.reading().field_of_skill(skill, field, test))
                    }))
    }

    fn constraint_keys(&self, what: &Selector, body: &Body) -> bool {
        let has = |id: &str| {
            self.graph
                .constraints
                .find(id)
                .is_some_and(|at| body.constraints.has(at))
        };
        let stage = |id: &str| {
            self.graph
                .stages
                .find(id)
                .is_some_and(|at| body.stages.has(at))
        };
        let count = |bits: &crate::graph::Bits| i64::try_from(bits.len()).unwrap_or(i64::MAX);
        (what.with_any.is_empty() || what.with_any.iter().any(|id| has(id.as_str())))
            && what.with_all.iter().all(|id| has(id.as_str()))
            && !what.with_none.iter().any(|id| has(id.as_str()))
            && what
                .unconstrained
                .is_none_or(|wanted| wanted == body.departing.is_empty())
            && what
                .departing
                .is_none_or(|range| range.holds(count(&body.departing)))
            && what
                .strong
                .is_none_or(|range| range.holds(count(&body.strong)))
            && what
                .departure
                .is_none_or(|range| range.holds(body.departure))
            && what.stages_all.iter().all(|id| stage(id.as_str()))
            && !what.stages_none.iter().any(|id| stage(id.as_str()))
    }

    fn nested(
        &self,
        what: &Selector,
        placed: &Placed<'_>,
        exercise: &Exercise,
        body: &Body,
    ) -> bool {
        (what.groups.is_empty()
            || what
                .groups
                .iter()
                .filter_map(|id| self.pack.groups.get(&id.value))
                .any(|group| self.matches_piece(&group.what, placed, exercise, body)))
            && (what.any.is_empty()
                || what
                    .any
                    .iter()
                    .any(|inner| self.matches_piece(inner, placed, exercise, body)))
            && !what.not.iter().any(|inner| self.matches(inner, placed))
    }

    /// Whether a component has all that made something special which the lifter has tried, and of which one of the things
    /// came that `what` names.
    fn like_tried(&self, what: &Selector, body: &Body) -> bool {
        let came = |came: Came| what.like_tried.iter().any(|one| one.value == came);
        let tried = self.case.tried.iter().filter(|(_, held)| came(**held));
        let tried = tried.filter_map(|(id, _)| {
            let at = self.graph.ids.find(id.as_str())?;
            self.graph.exercises.get(at)
        });
        tried.flat_map(|held| &held.pieces).any(|piece| {
            let departing = &piece.body.departing;
            !departing.is_empty()
                && departing.within(&body.departing)
                && piece.body.skills.meets(&body.skills)
        })
    }

    /// The demand of a movement cause that is in focus for a skill of this component and of which the component has a
    /// stage, the most of several; none where there is none.
    fn shows(&self, body: &Body, cause: &str) -> Option<i64> {
        let cause = self.graph.causes.find(cause)?;
        let held = self.graph.causes.get(cause)?;
        let stages = &self.pack.movement_causes.get(held)?.stages;
        let stage = |id: &StageId| self.graph.stages.find(id.as_str());
        let mut happens = stages.iter().filter_map(|id| stage(&id.value));
        if !happens.any(|at| body.stages.has(at)) {
            return None;
        }
        let pairs = self.focus.iter();
        let shown = pairs.filter(|pair| pair.cause == cause && body.skills.has(pair.skill));
        shown.map(|pair| pair.demand).max()
    }

    /// The most demand of these causes of those that can show in an exercise; 0 where none can.
    pub(crate) fn most_shown(&self, exercise: usize, causes: &[At<CauseId>]) -> i64 {
        let pieces = self.graph.exercises.get(exercise);
        let pieces = pieces.iter().flat_map(|held| &held.pieces);
        pieces
            .flat_map(|piece| {
                let shown = |cause: &At<CauseId>| self.shows(&piece.body, cause.as_str());
                causes.iter().filter_map(shown)
            })
            .max()
            .unwrap_or(0)
    }

    /// Whether a component is its exercise as listed, with nothing on top.
    fn unvaried(&self, body: &Body) -> bool {
        self.graph
            .exercises
            .get(body.exercise)
            .and_then(|exercise| exercise.pieces.first())
            .is_some_and(|listed| listed.body.constraints == body.constraints)
    }
}
