//! What an exercise does to a cause, in half points, and what it gives to qualities and takes from regions.

use super::Oracle;
use super::movement::{Component, Exercise};
use super::select::{Place, Seen};
use super::text::Points;

impl Oracle {
    /// Net effect of one component on a movement cause of a skill, before any role.
    fn component_effect(&self, component: &Component, skill: &str, cause: &str) -> i64 {
        let mut all: Vec<i64> = Vec::new();
        for id in &component.with {
            let axis = self
                .pack
                .axes
                .values()
                .find(|axis| axis.constraints.contains_key(id))
                .unwrap();
            all.extend(axis.constraints[id].effect.get(cause));
        }
        all.extend(
            component
                .own_effects
                .iter()
                .filter_map(|own| own.get(cause)),
        );
        let mut helps: Vec<i64> = all.iter().copied().filter(|one| *one > 0).collect();
        helps.sort_unstable_by(|one, other| other.cmp(one));
        let harm: i64 = all.iter().filter(|one| **one < 0).sum();
        let help = 2 * helps.first().unwrap_or(&0) + helps.get(1).unwrap_or(&0);
        let whole = help + 2 * harm;

        let own = component.skills.iter().any(|own| own == skill);
        // What is carried over is judged by the stages of what was worked on.
        let of_skill: Vec<&String> = if own {
            self.pack.skills[skill].stages.iter().collect()
        } else {
            let worked_on = component.skills.iter();
            worked_on
                .flat_map(|worked_on| &self.pack.skills[worked_on].stages)
                .collect()
        };
        let wanted: Vec<&String> = self.pack.causes.movement[cause]
            .stages
            .iter()
            .filter(|stage| of_skill.contains(stage))
            .collect();
        let there = wanted
            .iter()
            .filter(|stage| component.stages.contains(**stage))
            .count();
        let staged = if there == 0 {
            0
        } else if there < wanted.len() {
            whole / 2
        } else {
            whole
        };
        if own {
            return staged;
        }
        let carried = self.pack.rules.carry_over.values().filter(|rule| {
            rule.to == skill
                && component.skills.contains(&rule.from)
                && rule.causes.iter().any(|one| one == cause)
        });
        staged * carried.map(|rule| rule.percent).max().unwrap_or(0) / 100
    }

    /// Net effect of an exercise on a movement cause of a skill, before any role.
    pub fn movement_effect(&self, exercise: &Exercise, skill: &str, cause: &str) -> i64 {
        let each: Vec<i64> = exercise
            .components
            .iter()
            .map(|component| self.component_effect(component, skill, cause))
            .collect();
        let (most, least) = (*each.iter().max().unwrap(), *each.iter().min().unwrap());
        if exercise.complex {
            most.max(0) + least.min(0)
        } else {
            most
        }
    }

    /// The effects on the movement pairs in focus, before any role.
    pub fn effects_on_focus(&self, exercise: &Exercise) -> Vec<i64> {
        let pairs = self
            .facts
            .focus
            .iter()
            .filter(|(_, cause)| self.pack.causes.movement.contains_key(cause));
        pairs
            .map(|(skill, cause)| self.movement_effect(exercise, skill, cause))
            .collect()
    }

    /// Whether something helps a movement cause for a skill that it trains, nothing carried over.
    pub fn helps(&self, seen: Seen<'_>, cause: &str) -> bool {
        if !self.pack.causes.movement.contains_key(cause) {
            return false;
        }
        seen.exercise.skills().iter().any(|skill| {
            let each = seen.exercise.components.iter().map(|component| {
                if component.skills.contains(skill) {
                    self.component_effect(component, skill, cause)
                } else {
                    0
                }
            });
            let (most, least) = (each.clone().max().unwrap(), each.min().unwrap());
            most.max(0) + least.min(0) > 0
        })
    }

    fn capacity_effect(&self, seen: Seen<'_>, cause: &str) -> i64 {
        let points = self.points(seen);
        let served = self.pack.causes.capacity[cause].served_by.iter();
        let most = served
            .map(|quality| points.get(quality).copied().unwrap_or(0))
            .max()
            .unwrap_or(0);
        (2 * most).min(6)
    }

    /// Quality points of something as it is placed.
    pub fn points(&self, seen: Seen<'_>) -> Points {
        let percent = seen
            .place
            .map_or(100, |place| self.pack.roles[&place.role].trains_percent);
        let counts = |quality: &String| {
            let held = self.pack.qualities[quality].counts_when.as_ref();
            held.is_none_or(|selector| self.matches(selector, seen))
        };
        let given = seen
            .exercise
            .trains
            .iter()
            .filter(|(quality, _)| counts(quality));
        given
            .map(|(quality, points)| (quality.clone(), points * percent / 100))
            .collect()
    }

    /// Stress points of an exercise in a role.
    pub fn stress(&self, exercise: &Exercise, role: &str) -> Points {
        let percent = self.pack.roles[role].stress_percent;
        exercise
            .stress
            .iter()
            .map(|(region, points)| (region.clone(), points * percent / 100))
            .collect()
    }

    /// The effects of a placed item on all pairs in focus, in their order.
    pub fn effects(&self, exercise: &Exercise, place: &Place) -> Vec<i64> {
        let seen = Seen {
            exercise,
            place: Some(place),
        };
        let half = self.pack.roles[&place.role].help == "half";
        let of = |skill: &String, cause: &String| {
            let net = if self.pack.causes.movement.contains_key(cause) {
                self.movement_effect(exercise, skill, cause)
            } else {
                self.capacity_effect(seen, cause)
            };
            if half && net > 0 { net / 2 } else { net }
        };
        self.facts
            .focus
            .iter()
            .map(|(skill, cause)| of(skill, cause))
            .collect()
    }
}
