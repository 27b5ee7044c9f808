//! A case set against a pack: everything that is known before placing.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use crate::base::{At, CaseFieldId, QualityId, RoleId, RuleId};
use crate::graph::{Graph, Kind};
use crate::rules::case_check::{Before, Case, Value};
use crate::rules::kinds::{Exclude, Rule, Rules};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Condition, Yields};

use super::condition::Reading;
use super::demand::{Bounds, Demand, Pair, Waiting, focus};
use super::effect::{Carry, of_exercise};
use super::often::Weight;
use super::select::{Placed, Suited};
use super::worth::scaled;

/// A case set against a pack.
pub(crate) struct Setting<'a> {
    pub(crate) pack: &'a Pack,
    pub(crate) graph: &'a Graph,
    pub(crate) case: &'a Case,
    pub(crate) demand: Demand,
    /// How much each stated fault counts, in the order of the case.
    pub(crate) weights: Vec<Weight>,
    /// Causes worked on, in the order in which they were taken.
    pub(crate) focus: Vec<Pair>,
    /// Causes that wait.
    pub(crate) waiting: Vec<Waiting>,
    /// Effect of each exercise on each pair in focus; 0 on a capacity pair.
    effects: Vec<Vec<i64>>,
    /// Whether each exercise may be placed at all.
    pub(crate) allowed: Vec<bool>,
    /// For each root with a `fullest` rule: what is its full form in this case.
    full: BTreeMap<usize, Option<usize>>,
    /// Fields that a condition asked for and the case does not say.
    missing: RefCell<BTreeSet<CaseFieldId>>,
    /// Whether each rule of a kind speaks, of the kinds that were asked.
    said: RefCell<BTreeMap<&'static str, Rc<[bool]>>>,
    /// What selectors say of pieces wherever they are placed, as far as it was asked.
    pub(super) suited: RefCell<Suited>,
    /// Rules that are left out, by kind and id.
    without: BTreeSet<(&'static str, RuleId)>,
}

impl<'a> Setting<'a> {
    /// Works out demand, focus, effects, what is allowed and what stands in.
    pub(crate) fn new(pack: &'a Pack, graph: &'a Graph, case: &'a Case) -> Self {
        Self::without(pack, graph, case, BTreeSet::new())
    }

    /// The same with some rules left out, by kind and id.
    pub(crate) fn without(
        pack: &'a Pack,
        graph: &'a Graph,
        case: &'a Case,
        without: BTreeSet<(&'static str, RuleId)>,
    ) -> Self {
        let mut setting = Self {
            pack,
            graph,
            case,
            demand: Demand::default(),
            weights: Vec::new(),
            focus: Vec::new(),
            waiting: Vec::new(),
            effects: vec![Vec::new(); graph.exercises.len()],
            allowed: vec![false; graph.exercises.len()],
            full: BTreeMap::new(),
            missing: RefCell::new(BTreeSet::new()),
            said: RefCell::new(BTreeMap::new()),
            suited: RefCell::default(),
            without,
        };
        setting.weights = setting.weighed();
        setting.demand = Demand::of(pack, graph, case, &setting.weights);
        let bounds = setting.bounds();
        (setting.focus, setting.waiting) = focus(pack, graph, &setting.demand, bounds);
        let carries = setting.carries();
        setting.effects = graph
            .exercises
            .iter()
            .map(|exercise| {
                let on = |pair: &Pair| {
                    if pair.movement {
                        of_exercise(pack, graph, &carries, exercise, pair)
                    } else {
                        0
                    }
                };
                setting.focus.iter().map(on).collect()
            })
            .collect();
        setting.allowed = (0..graph.exercises.len())
            .map(|at| setting.may_be_placed(at))
            .collect();
        setting.full = setting.stand_ins();
        // What was asked before there were stand-ins may be otherwise now.
        setting.suited.take();
        setting
    }

    /// Reads conditions with what is known by now.
    pub(crate) fn reading(&self) -> Reading<'_> {
        Reading {
            graph: self.graph,
            case: self.case,
            demand: &self.demand,
            focus: &self.focus,
            missing: RefCell::new(BTreeSet::new()),
        }
    }

    /// Whether a condition holds; what it asked in vain is noted.
    pub(crate) fn holds(&self, condition: &Condition) -> Option<bool> {
        let reading = self.reading();
        let held = reading.holds(condition);
        self.missing
            .borrow_mut()
            .extend(reading.missing.into_inner());
        held
    }

    /// Whether each rule of one kind speaks.
    fn said<R: Rule>(&self, rules: &[(At<RuleId>, R)]) -> Rc<[bool]> {
        if let Some(said) = self.said.borrow().get(R::KIND) {
            return Rc::clone(said);
        }
        let left_out = |id: &RuleId| {
            let mut without = self.without.iter();
            without.any(|(kind, out)| *kind == R::KIND && out == id)
        };
        let reading = self.reading();
        let speaks = |(id, rule): &(At<RuleId>, R)| !left_out(&id.value) && reading.speaks(rule);
        let said: Rc<[bool]> = rules.iter().map(speaks).collect();
        self.missing
            .borrow_mut()
            .extend(reading.missing.into_inner());
        self.said.borrow_mut().insert(R::KIND, Rc::clone(&said));
        said
    }

    /// The rules of one kind that speak, by id; `rules` is that kind's list of this pack.
    pub(crate) fn speaking<'b, R: Rule>(
        &'b self,
        rules: &'b [(At<RuleId>, R)],
    ) -> impl Iterator<Item = (&'b At<RuleId>, &'b R)> {
        let said = self.said(rules);
        let speaks = move |(at, _): &(usize, _)| said.get(*at) == Some(&true);
        let speaking = rules.iter().enumerate().filter(speaks);
        speaking.map(|(_, (id, rule))| (id, rule))
    }

    /// Case fields whose absence left a condition open, so far.
    pub(crate) fn missing(&self) -> BTreeSet<CaseFieldId> {
        self.missing.borrow().clone()
    }

    /// All rules of the pack.
    pub(crate) fn rules(&self) -> &'a Rules {
        &self.pack.rules
    }

    fn bounds(&self) -> Bounds {
        let mut bounds = Bounds::default();
        for (_, rule) in self.speaking(&self.pack.rules.focus) {
            bounds.speak = true;
            let most = usize::from(rule.per_skill_at_most.value);
            bounds.per_skill = Some(bounds.per_skill.map_or(most, |held| held.min(most)));
            if let Some(in_all) = &rule.in_all_at_most {
                let most = usize::from(in_all.value);
                bounds.in_all = Some(bounds.in_all.map_or(most, |held| held.min(most)));
            }
            if let Some(demand) = &rule.demand_at_least {
                bounds.demand = bounds.demand.max(demand.value);
            }
        }
        bounds
    }

    fn carries(&self) -> Vec<Carry> {
        let mut carries = Vec::new();
        for (_, rule) in self.speaking(&self.pack.rules.carry_over) {
            let (Some(from), Some(to)) = (
                self.graph.skills.find(rule.from.as_str()),
                self.graph.skills.find(rule.to.as_str()),
            ) else {
                continue;
            };
            for cause in rule
                .causes
                .iter()
                .filter_map(|id| self.graph.causes.find(id.as_str()))
            {
                carries.push(Carry {
                    from,
                    to,
                    cause,
                    percent: i64::from(rule.percent.value),
                });
            }
        }
        carries
    }

    /// What stood in the week before, as far as that tells where: neither part nor day.
    pub(crate) fn before(&self) -> impl Iterator<Item = (&Before, Placed<'_>)> {
        self.case.week_before.iter().filter_map(|held| {
            let placed = Placed {
                role: Some(&held.role),
                percent: held.percent,
                ..Placed::unplaced(self.graph.ids.find(held.exercise.as_str())?)
            };
            Some((held, placed))
        })
    }

    /// Effect on each pair in focus, before the role; 0 on a capacity pair.
    pub(crate) fn effects(&self, exercise: usize) -> &[i64] {
        self.effects.get(exercise).map_or(&[], Vec::as_slice)
    }

    /// Effects on the movement pairs in focus.
    pub(crate) fn movement_effects(&self, exercise: usize) -> impl Iterator<Item = i64> + '_ {
        self.focus
            .iter()
            .zip(self.effects(exercise))
            .filter(|(pair, _)| pair.movement)
            .map(|(_, effect)| *effect)
    }

    /// Whether an exercise helps a cause, net, for some skill that it trains.
    pub(crate) fn helps(&self, exercise: usize, cause: &str) -> bool {
        let (Some(exercise), Some(cause)) = (
            self.graph.exercises.get(exercise),
            self.graph.causes.find(cause),
        ) else {
            return false;
        };
        let movement = self
            .graph
            .causes
            .get(cause)
            .is_some_and(|id| self.pack.movement_causes.contains_key(id));
        movement
            && exercise.skills.iter().any(|skill| {
                of_exercise(
                    self.pack,
                    self.graph,
                    &[],
                    exercise,
                    &Pair {
                        skill,
                        cause,
                        demand: 0,
                        movement,
                        sure: false,
                    },
                ) > 0
            })
    }

    /// What is the full form of a competition root in this case; none where nothing stands in.
    pub(crate) fn full_form(&self, root: &str) -> Option<usize> {
        let at = self.graph.ids.find(root)?;
        match self.full.get(&at) {
            Some(full) => *full,
            None => Some(at),
        }
    }

    /// Whether an exercise is the full form of some competition root.
    pub(crate) fn is_full_form(&self, exercise: usize) -> bool {
        let root = self
            .graph
            .exercises
            .get(exercise)
            .is_some_and(|held| held.kind == Kind::Root { competition: true });
        (root && self.allowed.get(exercise) == Some(&true))
            || self.full.values().any(|full| *full == Some(exercise))
    }

    /// For each `fullest` rule: its root and what stands for it.
    pub(crate) fn full_forms(&self) -> &BTreeMap<usize, Option<usize>> {
        &self.full
    }

    fn may_be_placed(&self, at: usize) -> bool {
        self.graph
            .exercises
            .get(at)
            .is_some_and(|exercise| self.asks(exercise))
            && self.ruled_out_by(at).is_none()
    }

    /// The first hard `exclude` rule that rules an exercise out everywhere.
    pub(crate) fn ruled_out_by(&self, at: usize) -> Option<(&At<RuleId>, &Exclude)> {
        self.speaking(&self.pack.rules.exclude).find(|(_, rule)| {
            rule.yields == Yields::Never
                && rule.on.takes_every_day()
                && self.matches(&rule.what, &Placed::unplaced(at))
        })
    }

    fn stand_ins(&self) -> BTreeMap<usize, Option<usize>> {
        let mut full = BTreeMap::new();
        for (_, rule) in self.speaking(&self.pack.rules.fullest) {
            let Some(root) = self.graph.ids.find(rule.of.as_str()) else {
                continue;
            };
            let under = std::iter::once(&rule.of).chain(&rule.or_of);
            let found = under
                .filter_map(|id| self.graph.ids.find(id.as_str()))
                .find_map(|above| self.fullest_under(above, root));
            full.insert(
                root,
                if self.allowed.get(root) == Some(&true) {
                    Some(root)
                } else {
                    found
                },
            );
        }
        full
    }

    /// What stands in under an exercise: it must be able to take the place that the root has as a full form.
    fn fullest_under(&self, above: usize, root: usize) -> Option<usize> {
        let places: Vec<&RoleId> = self
            .graph
            .exercises
            .get(root)
            .into_iter()
            .flat_map(|held| &held.roles)
            .filter(|id| {
                let role = self.pack.roles.get(*id);
                role.is_some_and(|role| role.gate.full_form)
            })
            .collect();
        self.graph
            .exercises
            .iter()
            .enumerate()
            .filter(|(at, exercise)| {
                self.allowed.get(*at) == Some(&true)
                    && !exercise.is_complex()
                    && (places.is_empty()
                        || exercise.roles.iter().any(|role| places.contains(&role)))
                    && exercise
                        .pieces
                        .first()
                        .is_some_and(|piece| piece.body.line.contains(&above))
            })
            .min_by_key(|(at, exercise)| (exercise.departure, *at))
            .map(|(at, _)| at)
    }

    /// Percents of the factors named, in order; 100 where a factor is silent.
    pub(crate) fn factors<'b>(
        &self,
        ids: impl Iterator<Item = &'b crate::base::FactorId>,
    ) -> Vec<i64> {
        ids.map(|id| {
            if let Some(factor) = self.pack.factors_by_phase.get(id) {
                factor
                    .percents
                    .get(&self.case.phase)
                    .map_or(100, |percent| i64::from(*percent))
            } else if let Some(factor) = self.pack.factors_by_choice.get(id) {
                match self.case.value(&factor.field.value) {
                    Some(Value::Word(word)) => factor
                        .percents
                        .get(&word)
                        .map_or(100, |percent| i64::from(*percent)),
                    _ => 100,
                }
            } else if let Some(factor) = self.pack.factors_by_number.get(id) {
                match self.case.value(&factor.field.value) {
                    Some(Value::Number(n)) => factor
                        .steps
                        .iter()
                        .rev()
                        .find(|step| step.from <= n)
                        .map_or(100, |step| i64::from(step.percent)),
                    _ => 100,
                }
            } else {
                100
            }
        })
        .collect()
    }

    /// A quality's floor in this case: the largest of the rules that speak, 0 with none.
    pub(crate) fn floor_of(&self, quality: &QualityId) -> i64 {
        self.speaking(&self.pack.rules.floor)
            .filter(|(_, rule)| rule.quality.value == *quality)
            .map(|(_, rule)| {
                scaled(
                    rule.points_at_least.value,
                    &self.factors(rule.scaled_by.iter().map(|id| &id.value)),
                )
            })
            .max()
            .unwrap_or(0)
    }
}
