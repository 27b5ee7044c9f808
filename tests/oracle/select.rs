//! Selectors: which exercise or placed item is meant.

use std::collections::BTreeSet;

use super::Oracle;
use super::case::LineBefore;
use super::movement::{Component, Exercise};
use super::rule_text::{Counted, Kept, Shift};
use super::text::{DayFilter, Selector};
use super::yaml::Value;

/// Where an exercise stands, if it is placed.
#[derive(Clone, Debug)]
pub struct Place {
    pub day: usize,
    pub part: String,
    pub role: String,
    pub effort: String,
    /// Top of its load, in percent of its reference, as far as it is settled.
    pub percent: Option<i64>,
}

/// What a selector is asked of.
#[derive(Clone, Copy, Debug)]
pub struct Seen<'a> {
    pub exercise: &'a Exercise,
    pub place: Option<&'a Place>,
}

fn named(list: &[String], id: &str) -> bool {
    list.iter().any(|one| one == id)
}

impl Oracle {
    /// For how many weeks something was done without a gap, the last one included.
    pub fn in_a_row(&self, exercise: &str) -> i64 {
        let lines = self.case.week_before.iter();
        let of_it = lines.filter(|line| line.exercise == exercise);
        let told = of_it.map(|line| line.weeks.unwrap_or(1)).max();
        told.unwrap_or(i64::from(named(&self.case.did_last_week, exercise)))
    }

    /// What a selector says of a line of the week before: its exercise, role and load, and nothing of its day.
    pub fn was(&self, selector: &Selector, line: &LineBefore) -> bool {
        let place = Place {
            day: usize::MAX,
            part: String::new(),
            role: line.role.clone(),
            effort: String::new(),
            percent: line.percent,
        };
        let seen = Seen {
            exercise: &self.exercises[&line.exercise],
            place: Some(&place),
        };
        self.matches(selector, seen)
    }

    /// Exercises that a rule wants again.
    pub fn wanted_again(&self, rule: &Kept) -> BTreeSet<&str> {
        let lines = self.case.week_before.iter();
        let young = lines.filter(|line| line.weeks.unwrap_or(1) < rule.weeks);
        let meant = young.filter(|line| self.was(&rule.what, line));
        meant.map(|line| line.exercise.as_str()).collect()
    }

    /// The least and the most percent that a share may have after the week before.
    pub fn after_shift(&self, rule: &Shift) -> (Option<i64>, Option<i64>) {
        let then = |what: &Selector| -> i64 {
            let lines = self.case.week_before.iter();
            let meant = lines.filter(|line| self.was(what, line));
            let amounts = meant.map(|line| match rule.counted_in.unwrap_or_default() {
                Counted::Items => 1,
                Counted::Sets => line.sets,
                Counted::Reps => line.sets * line.reps,
                Counted::Days => panic!("days of the week before are not known"),
            });
            amounts.sum()
        };
        let (of, to) = (then(&rule.of), then(&rule.to));
        if to == 0 {
            return (None, None);
        }
        // The whole percents between which the share lies.
        let below = (100 * of).div_euclid(to);
        let above = -((-100 * of).div_euclid(to));
        let least = rule.down_at_most.map(|points| below - points);
        (least, rule.up_at_most.map(|points| above + points))
    }

    /// Whether one and the same component meets a selector.
    pub fn matches(&self, selector: &Selector, seen: Seen<'_>) -> bool {
        seen.exercise
            .components
            .iter()
            .any(|component| self.matches_with(selector, seen, component))
    }

    /// Whether a selector is met with this component.
    pub fn matches_with(&self, selector: &Selector, seen: Seen<'_>, component: &Component) -> bool {
        let among = |list: &[Selector]| {
            list.iter()
                .any(|one| self.matches_with(one, seen, component))
        };
        let in_group = |id: &String| self.matches_with(&self.pack.groups[id].what, seen, component);
        self.item_keys(selector, seen)
            && self.component_keys(selector, seen, component)
            && (selector.groups.is_empty() || selector.groups.iter().any(in_group))
            && (selector.any.is_empty() || among(&selector.any))
            && !selector.not.iter().any(|one| self.matches(one, seen))
    }

    /// The keys that are asked of the item.
    fn item_keys(&self, selector: &Selector, seen: Seen<'_>) -> bool {
        let exercise = seen.exercise;
        let mut all = true;
        if let Some(alone) = selector.alone {
            all &= alone != exercise.complex;
        }
        if let Some(range) = selector.reps_in_complex {
            all &= exercise.complex && range.holds(exercise.reps());
        }
        if let Some(range) = selector.best_effect_on_focus {
            all &= self
                .effects_on_focus(exercise)
                .iter()
                .max()
                .is_some_and(|best| range.holds(*best));
        }
        if let Some(range) = selector.worst_effect_on_focus {
            all &= self
                .effects_on_focus(exercise)
                .iter()
                .min()
                .is_some_and(|worst| range.holds(*worst));
        }
        if !selector.helps.is_empty() {
            all &= selector.helps.iter().any(|cause| self.helps(seen, cause));
        }
        for (quality, range) in &selector.trains {
            all &= range.holds(exercise.trains.get(quality).copied().unwrap_or(0));
        }
        if let Some(new) = selector.new {
            all &= new == named(&self.case.new, &exercise.id);
        }
        if let Some(disliked) = selector.disliked {
            all &= disliked == named(&self.case.disliked, &exercise.id);
        }
        if !selector.tried.is_empty() {
            all &=
                self.case.tried.iter().any(|tried| {
                    tried.exercise == exercise.id && named(&selector.tried, &tried.came)
                });
        }
        if let Some(did) = selector.did_last_week {
            all &= did == (self.in_a_row(&exercise.id) >= 1);
        }
        if let Some(range) = selector.weeks_in_a_row {
            all &= range.holds(self.in_a_row(&exercise.id));
        }
        if let Some(range) = selector.further_than_before {
            let role = seen.place.map(|place| &place.role);
            let before = self.case.week_before.iter();
            let alike = before
                .filter(|line| Some(&line.role) == role)
                .map(|line| &self.exercises[&line.exercise])
                .filter(|other| {
                    let mut pairs = exercise
                        .components
                        .iter()
                        .flat_map(|mine| other.components.iter().map(move |theirs| (mine, theirs)));
                    pairs.any(|(mine, theirs)| mine.shares_skill(theirs))
                });
            let mut by_how_much = alike.map(|other| exercise.departure - other.departure);
            // Above all of them: the least of what it is above each.
            all &= match by_how_much.next() {
                Some(first) => range.holds(by_how_much.fold(first, i64::min)),
                None => false,
            };
        }
        let mut placed = |list: &[String], value: Option<&str>| {
            all &= list.is_empty() || value.is_some_and(|value| named(list, value));
        };
        placed(&selector.roles, seen.place.map(|place| place.role.as_str()));
        placed(&selector.parts, seen.place.map(|place| place.part.as_str()));
        placed(
            &selector.efforts,
            seen.place.map(|place| place.effort.as_str()),
        );
        if let Some(range) = selector.percent {
            all &= seen
                .place
                .and_then(|place| place.percent)
                .is_some_and(|percent| range.holds(percent));
        }
        all
    }

    /// The keys that are asked of a component.
    fn component_keys(&self, selector: &Selector, seen: Seen<'_>, component: &Component) -> bool {
        let own = |list: &[String]| seen.exercise.complex && named(list, &seen.exercise.id);
        let some = |list: &[String], yes: &dyn Fn(&String) -> bool| {
            list.is_empty() || list.iter().any(yes)
        };
        let every = |list: &[String], yes: &dyn Fn(&String) -> bool| list.iter().all(yes);
        let has = |id: &String| component.with.contains(id);
        let stage = |id: &String| component.stages.contains(id);
        let mut all = (selector.exercises.is_empty()
            || named(&selector.exercises, &component.line[0])
            || own(&selector.exercises))
            && (selector.under.is_empty()
                || component.line.iter().any(|id| named(&selector.under, id))
                || own(&selector.under))
            && some(&selector.skills, &|id| component.skills.contains(id))
            && some(&selector.with_any, &has)
            && every(&selector.with_all, &has)
            && !selector.with_none.iter().any(has)
            && every(&selector.stages_all, &stage)
            && !selector.stages_none.iter().any(stage)
            && some(&selector.shows, &|id| self.shows(component, id))
            && some(&selector.like_tried, &|came| {
                self.is_like_tried(component, came)
            })
            && some(&selector.full, &|id| self.is_full(component, id));
        if let Some(free) = selector.unconstrained {
            all &= free == component.departing.is_empty();
        }
        let count = |set: &super::movement::Set| i64::try_from(set.len()).unwrap();
        all &= selector
            .departing
            .is_none_or(|range| range.holds(count(&component.departing)));
        all &= selector
            .strong
            .is_none_or(|range| range.holds(count(&component.strong)));
        all &= selector
            .departure
            .is_none_or(|range| range.holds(component.departure));
        if !selector.case_of_skill.is_empty() {
            all &= component.skills.iter().any(|skill| {
                let passes = |field: &str, test| {
                    self.facts
                        .test(test, self.facts.field_of_skill(skill, field))
                        == Some(true)
                };
                selector
                    .case_of_skill
                    .iter()
                    .all(|(field, test)| passes(field, test))
            });
        }
        if let Some(focus) = selector.in_focus {
            all &= focus
                == component
                    .skills
                    .iter()
                    .any(|skill| self.facts.skill_in_focus(skill));
        }
        all
    }

    /// Whether a component has all departing constraints of a component of something that was tried with this outcome.
    fn is_like_tried(&self, component: &Component, came: &str) -> bool {
        let tried = self.case.tried.iter().filter(|tried| tried.came == came);
        tried
            .flat_map(|tried| &self.exercises[&tried.exercise].components)
            .any(|one| {
                let shared = one
                    .skills
                    .iter()
                    .any(|skill| component.skills.contains(skill));
                shared && !one.departing.is_empty() && one.departing.is_subset(&component.departing)
            })
    }

    /// Whether a movement cause in focus can show in a component.
    fn shows(&self, component: &Component, cause: &str) -> bool {
        let Some(held) = self.pack.causes.movement.get(cause) else {
            return false;
        };
        let trained = |skill: &String| component.skills.contains(skill);
        let focus = self.facts.focus.iter();
        focus
            .clone()
            .any(|(skill, one)| one == cause && trained(skill))
            && held.stages.iter().any(|id| component.stages.contains(id))
    }

    /// Whether a component is this competition form, or what stands in for it.
    fn is_full(&self, component: &Component, of: &str) -> bool {
        match self.stand_ins.get(of) {
            Some(one) => one.as_ref() == Some(&component.line[0]),
            None => component.line[0] == of,
        }
    }

    /// Whether a rule about sessions speaks of a day.
    pub fn on_day(&self, filter: Option<&DayFilter>, day: usize) -> bool {
        let Some(filter) = filter else { return true };
        let this = &self.days[day];
        let marked = |list: &[String]| this.marks.iter().any(|mark| named(list, mark));
        let next = if this.day == 7 { 1 } else { this.day + 1 };
        let eve = || {
            self.days
                .iter()
                .any(|other| other.day == next && named(&filter.eve_of, &other.effort))
        };
        (filter.efforts.is_empty() || named(&filter.efforts, &this.effort))
            && (filter.marks.is_empty() || marked(&filter.marks))
            && !marked(&filter.without_marks)
            && (filter.eve_of.is_empty() || eve())
            && filter.case_of_day.iter().all(|(field, test)| {
                let number = self.of_days[day].get(field).copied();
                self.facts.test(test, number.map(Value::from).as_ref()) == Some(true)
            })
    }
}
