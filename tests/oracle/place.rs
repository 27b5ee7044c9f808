//! What may be placed: allowed, stand-ins, candidates.

use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};

use super::Oracle;
use super::dose::Done;
use super::movement::{Exercise, Set};
use super::select::{Place, Seen};
use super::text::{Points, Selector, Yields};

/// An exercise placed in a part of a day, in a role.
#[derive(Clone, Debug)]
pub struct Item {
    pub exercise: String,
    pub place: Place,
    pub done: Done,
    pub points: Points,
    pub stress: Points,
    /// Half points on the pairs in focus, as placed.
    pub effects: Vec<i64>,
    pub skills: Set,
    pub reference: Option<String>,
    /// Answers of selectors that were asked already, by where the selector stands in memory.
    asked: RefCell<HashMap<usize, bool>>,
}

impl Item {
    pub fn shares_skill(&self, other: &Self) -> bool {
        self.skills.intersection(&other.skills).next().is_some()
    }

    /// All repetitions.
    pub fn reps(&self) -> i64 {
        self.done.sets * self.done.reps
    }

    pub fn top(&self) -> Option<i64> {
        self.done.percent.map(|(_, high)| high)
    }
}

impl Oracle {
    /// Whether a placed item is meant by a rule's selector. Rules do not move once the oracle is made.
    pub fn is(&self, item: &Item, selector: &Selector) -> bool {
        let key = std::ptr::from_ref(selector) as usize;
        if let Some(answer) = item.asked.borrow().get(&key) {
            return *answer;
        }
        let answer = self.matches(selector, self.seen(item));
        item.asked.borrow_mut().insert(key, answer);
        answer
    }

    pub fn seen<'a>(&'a self, item: &'a Item) -> Seen<'a> {
        Seen {
            exercise: &self.exercises[&item.exercise],
            place: Some(&item.place),
        }
    }

    /// Whether the case allows an exercise at all.
    pub fn find_allowed(&self, exercise: &Exercise) -> bool {
        let seen = Seen {
            exercise,
            place: None,
        };
        let excludes = self.pack.rules.exclude.values();
        let mut hard = excludes.filter(|rule| {
            rule.yields == Yields::Never && rule.on.as_ref().is_none_or(|on| on.is_empty())
        });
        exercise
            .asks
            .iter()
            .all(|asks| self.facts.asks(asks) == Some(true))
            && !hard.any(|rule| self.matches(&rule.what, seen))
    }

    /// What stands in for each competition form that is not allowed and that a rule speaks of.
    pub fn find_stand_ins(&self) -> BTreeMap<String, Option<String>> {
        let mut all = BTreeMap::new();
        for rule in self.pack.rules.fullest.values() {
            if self.allowed.contains(&rule.of) || all.contains_key(&rule.of) {
                continue;
            }
            let of_full_form = self.exercises[&rule.of].roles.iter();
            let places: Vec<&String> = of_full_form
                .filter(|role| self.pack.roles[*role].gate.full_form)
                .collect();
            let mut found = None;
            for root in std::iter::once(&rule.of).chain(rule.or_of.iter().flatten()) {
                let under = self.exercises.values().filter(|exercise| {
                    let mut line = exercise.components[0].line.iter();
                    let fits = exercise.roles.iter().any(|role| places.contains(&role));
                    !exercise.complex
                        && (fits || places.is_empty())
                        && line.any(|id| id == root)
                        && self.allowed.contains(&exercise.id)
                });
                let least = under.min_by_key(|exercise| (exercise.departure, exercise.id.clone()));
                found = found.or_else(|| least.map(|exercise| exercise.id.clone()));
            }
            all.insert(rule.of.clone(), found);
        }
        all
    }

    /// Whether the rule's `what` names full forms, and only such for which nothing stands in.
    pub fn asks_for_nothing(&self, what: &Selector) -> bool {
        let gone = |of: &String| self.stand_ins.get(of) == Some(&None);
        !what.full.is_empty() && what.full.iter().all(gone)
    }

    fn gate_holds(&self, exercise: &Exercise, role: &str) -> bool {
        let gate = &self.pack.roles[role].gate;
        let stands_in = self
            .stand_ins
            .values()
            .any(|one| one.as_ref() == Some(&exercise.id));
        let full = !exercise.complex
            && (stands_in
                || (exercise.components[0].competition && self.allowed.contains(&exercise.id)));
        let on_focus = self.effects_on_focus(exercise);
        let holds = |range: Option<super::text::Range>, value: Option<&i64>| {
            range.is_none_or(|range| value.is_some_and(|value| range.holds(*value)))
        };
        (!gate.full_form || full)
            && (!gate.skill_in_focus
                || exercise
                    .skills()
                    .iter()
                    .any(|skill| self.facts.skill_in_focus(skill)))
            && holds(gate.best_effect_on_focus, on_focus.iter().max())
            && holds(gate.worst_effect_on_focus, on_focus.iter().min())
    }

    /// A candidate, or why there is none: ids of rules, or a word.
    pub fn item(
        &self,
        day: usize,
        part: &str,
        role: &str,
        exercise: &str,
    ) -> Result<Item, Vec<String>> {
        let exercise = &self.exercises[exercise];
        if !self.pack.parts[part].roles.iter().any(|one| one == role) {
            return Err(vec![String::from("part")]);
        }
        let effort = self.days[day].effort.clone();
        let place = Place {
            day,
            part: part.to_owned(),
            role: role.to_owned(),
            effort,
            percent: None,
        };
        let doses = self.doses(exercise, &place);
        let [dose] = doses.as_slice() else {
            return Err(vec![String::from("dose")]);
        };
        let done = self.done(exercise, &place, dose);
        let before_its_load = Seen {
            exercise,
            place: Some(&place),
        };
        let of_part = self.pack.parts[part].what.as_ref();
        let taken = of_part.is_none_or(|what| self.matches(what, before_its_load));
        let place = Place {
            percent: done.percent.map(|(_, high)| high),
            ..place
        };
        let seen = Seen {
            exercise,
            place: Some(&place),
        };

        let mut against = Vec::new();
        let mut unless = |holds: bool, why: &str| {
            if !holds {
                against.push(why.to_owned());
            }
        };
        unless(self.allowed.contains(&exercise.id), "allowed");
        unless(taken, "part");
        unless(exercise.roles.iter().any(|one| one == role), "role");
        unless(self.gate_holds(exercise, role), "gate");
        for (id, rule) in &self.pack.rules.exclude {
            let hard = rule.yields == Yields::Never && self.on_day(rule.on.as_ref(), day);
            unless(!hard || !self.matches(&rule.what, seen), id);
        }
        for (id, rule) in &self.pack.rules.least_load {
            let reference = exercise.reference.as_ref();
            let light = done.asked.is_some_and(|(low, _)| {
                let best = reference.and_then(|id| self.best_of(id));
                best.is_some_and(|best| {
                    let bar = self.bar_for(best * low / 100);
                    let load = self.load(&bar, reference, low).unwrap();
                    load.0 < self.least_load(&bar, rule)
                })
            });
            unless(
                !light || rule.say.is_some() || !self.matches(&rule.what, seen),
                id,
            );
        }
        let above = done.percent.is_some_and(|(low, _)| low > exercise.highest);
        if above && done.percent != done.asked {
            against.push("too heavy".to_owned());
        }
        if !against.is_empty() {
            return Err(against);
        }
        Ok(Item {
            exercise: exercise.id.clone(),
            points: self.points(seen),
            stress: self.stress(exercise, role),
            effects: self.effects(exercise, &place),
            skills: exercise.skills(),
            reference: exercise.reference.clone(),
            place,
            done,
            asked: RefCell::default(),
        })
    }
}
