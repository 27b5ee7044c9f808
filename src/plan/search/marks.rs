//! What rules about two days that must hold can see of a session, as small sets.
//!
//! Marks let a walk over the days forget at once every session that can't stand with
//! those chosen. They only ever leave out what breaks a rule; a whole week is still judged in full.

use std::collections::BTreeMap;

use crate::graph::Bits;
use crate::plan::model::{Model, TwoDaysKind};

use super::session::Session;
use super::stage::Stage;

/// The marks of one session.
#[derive(Debug, Clone, Default)]
pub(super) struct Marks {
    /// Keys that it may not share with what a near day has of them, and those that it has.
    what: Bits,
    from: Bits,
    /// By rule on days that differ: its exercises.
    differs: Vec<Bits>,
    /// Exercises that rules on repeats count in it.
    pub(super) repeats: Vec<usize>,
    /// What it waits for on a later day.
    pub(super) waits: Vec<usize>,
    /// Waits that it answers.
    pub(super) gives: Bits,
}

/// The rules that must hold, numbered for marks.
pub(super) struct Marking<'m> {
    model: &'m Model,
    stage: Stage,
    /// By rule of the model: its first key.
    keys_from: Vec<usize>,
    /// By day and other day: keys that the two may not share.
    near: Vec<Vec<Bits>>,
    /// By rule on days that differ: the most that two days share.
    shared: Vec<i64>,
    /// By rule and exercise: its number.
    repeats: BTreeMap<(usize, usize), usize>,
    /// By number: the least and the most.
    limits: Vec<(i64, i64)>,
    /// By follow rule: its first wait.
    waits_from: Vec<usize>,
    /// Whether some rule may be missed, so that marks don't say all.
    pub(super) soft: bool,
}

impl<'m> Marking<'m> {
    pub(super) fn of(model: &'m Model, stage: Stage) -> Self {
        let days = model.days.len();
        let mut near = vec![vec![Bits::default(); days]; days];
        let mut keys_from = Vec::new();
        let (mut next, mut shared, mut soft) = (0usize, Vec::new(), false);
        for rule in &model.two_days {
            keys_from.push(next);
            if !stage.hard(rule.level) {
                soft |= !stage.free(rule.level);
                continue;
            }
            match &rule.kind {
                TwoDaysKind::Apart {
                    what,
                    from,
                    near: of_rule,
                } => {
                    let most = what
                        .iter()
                        .chain(from)
                        .flatten()
                        .flat_map(|keys| keys.iter().max())
                        .max();
                    let width = most.map_or(0, |most| most + 1);
                    for (one, other) in of_rule {
                        if let Some(slot) = near.get_mut(*one).and_then(|row| row.get_mut(*other)) {
                            for key in next..next + width {
                                slot.insert(key);
                            }
                        }
                    }
                    next += width;
                }
                TwoDaysKind::Differ { at_most, .. } => shared.push(*at_most),
                TwoDaysKind::Repeat { .. } => {}
            }
        }
        let mut waits_from = Vec::new();
        let mut wait = 0usize;
        for follow in &model.follows {
            waits_from.push(wait);
            if !stage.hard(follow.level) {
                soft |= !stage.free(follow.level);
                continue;
            }
            let most = follow
                .needs
                .iter()
                .flatten()
                .filter_map(|need| match need {
                    Some(crate::plan::model::Need::Class(class)) => Some(*class),
                    _ => None,
                })
                .max();
            wait += most.map_or(0, |most| most + 1);
        }
        Self {
            model,
            stage,
            keys_from,
            near,
            shared,
            repeats: BTreeMap::new(),
            limits: Vec::new(),
            waits_from,
            soft,
        }
    }

    /// The marks of a session of a day.
    pub(super) fn marks(&mut self, day: usize, session: &Session) -> Marks {
        let mut marks = Marks::default();
        let model = self.model;
        for (at, rule) in model.two_days.iter().enumerate() {
            if !self.stage.hard(rule.level) {
                continue;
            }
            match &rule.kind {
                TwoDaysKind::Apart { what, from, .. } => {
                    let first = self.keys_from.get(at).copied().unwrap_or(0);
                    for (keys, into) in [(what, &mut marks.what), (from, &mut marks.from)] {
                        for item in &session.items {
                            for key in keys
                                .get(day)
                                .and_then(|keys| keys.get(*item))
                                .into_iter()
                                .flat_map(Bits::iter)
                            {
                                into.insert(first + key);
                            }
                        }
                    }
                }
                TwoDaysKind::Differ { what, .. } => {
                    marks
                        .differs
                        .push(self.exercises(day, session, what).collect());
                }
                TwoDaysKind::Repeat {
                    what,
                    at_least,
                    at_most,
                } => {
                    let exercises: Vec<usize> = self.exercises(day, session, what).collect();
                    for exercise in exercises {
                        let next = self.limits.len();
                        let number = *self.repeats.entry((at, exercise)).or_insert(next);
                        if number == next {
                            self.limits.push((*at_least, *at_most));
                        }
                        marks.repeats.push(number);
                    }
                }
            }
        }
        for (at, follow) in model.follows.iter().enumerate() {
            if !self.stage.hard(follow.level) {
                continue;
            }
            let first = self.waits_from.get(at).copied().unwrap_or(0);
            marks.waits.extend(
                session
                    .waits
                    .get(at)
                    .into_iter()
                    .flatten()
                    .map(|class| first + class),
            );
            for item in &session.items {
                for class in follow
                    .gives
                    .get(day)
                    .and_then(|gives| gives.get(*item))
                    .into_iter()
                    .flat_map(Bits::iter)
                {
                    marks.gives.insert(first + class);
                }
            }
        }
        marks
    }

    fn exercises<'s>(
        &self,
        day: usize,
        session: &'s Session,
        what: &'s [Bits],
    ) -> impl Iterator<Item = usize> + use<'s, 'm> {
        let held = self.model.days.get(day);
        session
            .items
            .iter()
            .filter(move |item| what.get(day).is_some_and(|what| what.has(**item)))
            .filter_map(move |item| held?.candidates.get(*item).map(|held| held.exercise))
    }

    /// Least and most days of what a repeat mark counts.
    pub(super) fn limits(&self, repeat: usize) -> (i64, i64) {
        self.limits.get(repeat).copied().unwrap_or((0, i64::MAX))
    }

    /// How many repeat marks there are.
    pub(super) fn repeats(&self) -> usize {
        self.limits.len()
    }

    /// Whether sessions with these marks can't stand in one week on their days.
    pub(super) fn clash(&self, day: usize, one: &Marks, other_day: usize, other: &Marks) -> bool {
        let near = |a: usize, b: usize| self.near.get(a).and_then(|row| row.get(b));
        near(day, other_day).is_some_and(|near| one.what.meets_within(&other.from, near))
            || near(other_day, day).is_some_and(|near| other.what.meets_within(&one.from, near))
            || one
                .differs
                .iter()
                .zip(&other.differs)
                .zip(&self.shared)
                .any(|((a, b), most)| {
                    i64::try_from(a.count_shared(b)).unwrap_or(i64::MAX) > *most
                })
    }
}
