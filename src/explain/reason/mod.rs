//! Why one item stands in the week: what it does for the causes in focus, which bounds need it,
//! and what it adds to the worth.
//!
//! Which bounds need it is found in one way for all rule kinds: the week is re-checked without it.

mod gain;

use std::collections::BTreeMap;

use crate::base::{Fact, FactId, RuleId, TrailError};
use crate::infer::Setting;
use crate::plan::recheck::{By, Miss, Verdict, Whose, judged};
use crate::plan::{Item, Loads, Pool, Week};
use crate::rules::kinds::Rule;
use crate::rules::vocab::{Help, Yields};

use super::claim::{Claim, Gain, Ruling};
use super::glossary::rule_path;
use super::trace::Trace;

/// Kinds that ask for something to be there and not for anything in particular, or that only say
/// what stands beside what: they say least about why it is this.
const GENERAL: [&str; 5] = [
    crate::rules::kinds::Adjacent::KIND,
    crate::rules::kinds::Needs::KIND,
    crate::rules::kinds::Minutes::KIND,
    crate::rules::kinds::Floor::KIND,
    super::LAYOUT_BOUNDS,
];

/// Of those the kinds whose sentence says less than what the exercise is for.
const SAYS_NOTHING: [&str; 2] = [
    crate::rules::kinds::Needs::KIND,
    crate::rules::kinds::Floor::KIND,
];

/// A solved week with its verdict.
pub(crate) struct Held<'a> {
    pub(crate) setting: &'a Setting<'a>,
    pub(crate) week: &'a Week<'a>,
    pub(crate) loads: &'a Loads,
    pub(crate) pool: &'a Pool,
    pub(crate) days: &'a [Vec<Item>],
    pub(crate) verdict: &'a Verdict,
}

/// Whose bound a miss is.
pub(crate) fn ruling(miss: &Miss) -> Ruling {
    ruling_of(miss.kind, &miss.whose)
}

fn ruling_of(kind: &'static str, whose: &Whose) -> Ruling {
    match whose {
        Whose::Rule(id) => Ruling::Rule {
            kind,
            id: id.clone(),
        },
        Whose::Slot(part) => Ruling::Part(part.clone()),
    }
}

/// By what one verdict is worth less than another, in hundredths of a point, the most first.
pub(crate) fn worth_less(less: &Verdict, more: &Verdict) -> Vec<(Ruling, i64)> {
    let mut by: BTreeMap<Ruling, i64> = BTreeMap::new();
    for (verdict, sign) in [(more, 1), (less, -1)] {
        for (kind, whose, worth) in &verdict.worths {
            *by.entry(ruling_of(kind, whose)).or_insert(0) += sign * worth;
        }
    }
    let mut by: Vec<(Ruling, i64)> = by.into_iter().filter(|(_, less)| *less > 0).collect();
    by.sort_by_key(|(_, less)| std::cmp::Reverse(*less));
    by
}

/// Misses that one verdict has beyond another, with the units that it has more; the hardest first.
pub(crate) fn beyond<'v>(more: &'v Verdict, less: &Verdict) -> Vec<(&'v Miss, i64)> {
    type Key<'k> = (&'k str, &'k str, Yields);
    fn key(miss: &Miss) -> Key<'_> {
        let whose = match &miss.whose {
            Whose::Rule(id) => id.as_str(),
            Whose::Slot(part) => part.as_str(),
        };
        (miss.kind, whose, miss.yields)
    }
    fn sums(verdict: &Verdict) -> BTreeMap<(Key<'_>, Option<usize>), i64> {
        let mut sums = BTreeMap::new();
        for miss in verdict.broken.iter().chain(&verdict.misses) {
            *sums.entry((key(miss), miss.day)).or_insert(0) += miss.units;
        }
        sums
    }
    let (of_more, of_less) = (sums(more), sums(less));
    let mut found: Vec<(&Miss, i64)> = Vec::new();
    for miss in more.broken.iter().chain(&more.misses) {
        let at = (key(miss), miss.day);
        let units = of_more.get(&at).copied().unwrap_or(0) - of_less.get(&at).copied().unwrap_or(0);
        if units > 0 && !found.iter().any(|(held, _)| (key(held), held.day) == at) {
            found.push((miss, units));
        }
    }
    found.sort_by(|(one, _), (other, _)| {
        (one.yields, key(one), one.day).cmp(&(other.yields, key(other), other.day))
    });
    found
}

/// What an item leaves behind in the trail: the fact that it is placed, and the one that says best why.
pub(crate) struct Reason {
    pub(crate) placed: FactId,
    pub(crate) reason: FactId,
}

impl Held<'_> {
    /// Records why an item stands where it stands.
    ///
    /// # Errors
    ///
    /// Where the trail is full.
    pub(crate) fn reason(
        &self,
        trace: &mut Trace<'_>,
        day: usize,
        at: usize,
    ) -> Result<Option<Reason>, TrailError> {
        let Some(item) = self.days.get(day).and_then(|session| session.get(at)) else {
            return Ok(None);
        };
        let Some(exercise) = self.setting.graph.exercises.get(item.exercise) else {
            return Ok(None);
        };
        let help = self.strongest_help(trace, item)?;
        let without = self.without(day, at);
        let newly = beyond(&without, self.verdict);
        let mut needed: Vec<(FactId, &'static str)> = Vec::new();
        for (miss, units) in &newly {
            needed.push((self.needed(trace, item, miss, *units)?, miss.kind));
        }
        let gain = self.gain(trace, item, &without)?;
        let full = trace.stand_in(item.exercise);
        let used = trace.push(
            Claim::UsedFor(exercise.id.clone()),
            vec![],
            &[trace.glossary.exercise_path(exercise.id.as_str())],
        )?;
        let dosed = self.dosed(trace, item)?;
        let whole = self
            .setting
            .pack
            .roles
            .get(&item.role)
            .is_some_and(|role| role.help == Help::Whole);
        let free = exercise
            .pieces
            .iter()
            .all(|piece| piece.body.strong.is_empty());
        // Of a quality beyond what is asked for, what the exercise is for says more.
        let of_quality = |fact: &FactId| {
            let held = trace.trail.get(*fact).map(Fact::claim);
            matches!(
                held,
                Some(Claim::Gains {
                    to: Gain::Quality { .. },
                    ..
                })
            )
        };
        let said_of_gain = gain.map(|fact| if of_quality(&fact) { used } else { fact });
        let follows = needed
            .iter()
            .find(|(_, kind)| free && *kind == crate::rules::kinds::Followed::KIND);
        let reason = follows
            .map(|(fact, _)| *fact)
            .or(help.filter(|_| whole))
            .or(full)
            .or(needed
                .iter()
                .find(|(_, kind)| !GENERAL.contains(kind))
                .map(|(fact, _)| *fact))
            .or(said_of_gain)
            .or(needed
                .iter()
                .find(|(_, kind)| !SAYS_NOTHING.contains(kind))
                .map(|(fact, _)| *fact))
            .unwrap_or(used);
        let mut from: Vec<FactId> = vec![reason];
        // In the order in which they would be said, were the best said already.
        let (general, particular): (Vec<_>, Vec<_>) =
            needed.iter().partition(|(_, kind)| GENERAL.contains(kind));
        let others = help
            .filter(|_| whole)
            .into_iter()
            .chain(full)
            .chain(particular.iter().map(|(fact, _)| *fact))
            .chain(said_of_gain)
            .chain([used])
            .chain(general.iter().map(|(fact, _)| *fact))
            .chain(help)
            .chain(gain);
        for fact in others.chain(dosed) {
            if !from.contains(&fact) {
                from.push(fact);
            }
        }
        let claim = Claim::Placed {
            day: self
                .week
                .days
                .get(day)
                .map_or(0, |held| held.layout.day.value),
            exercise: exercise.id.clone(),
            role: item.role.clone(),
            part: item.part.clone(),
        };
        let placed = trace.push(claim, from, &[format!("layouts.{}", self.week.id)])?;
        Ok(Some(Reason { placed, reason }))
    }

    /// What an item does for the cause in focus that it serves best, demand times effect.
    fn strongest_help(
        &self,
        trace: &mut Trace<'_>,
        item: &Item,
    ) -> Result<Option<FactId>, TrailError> {
        let served = |at: usize| {
            let effect = item.effect(self.setting, self.week, at);
            self.setting
                .focus
                .get(at)
                .map_or(0, |pair| pair.demand * effect)
        };
        let best = (0..self.setting.focus.len())
            .rev()
            .max_by_key(|at| served(*at))
            .filter(|at| served(*at) > 0);
        let mut found = None;
        for at in 0..self.setting.focus.len() {
            let fact = trace.effect(item.exercise, at)?;
            if best == Some(at) {
                found = fact;
            }
        }
        Ok(found)
    }

    /// The verdict on the week without one item.
    fn without(&self, day: usize, at: usize) -> Verdict {
        let mut days = self.days.to_vec();
        if let Some(session) = days.get_mut(day).filter(|session| at < session.len()) {
            session.remove(at);
        }
        judged(self.setting, self.week, &days, By::Everything)
    }

    fn needed(
        &self,
        trace: &mut Trace<'_>,
        item: &Item,
        miss: &Miss,
        units: i64,
    ) -> Result<FactId, TrailError> {
        let ruling = ruling(miss);
        let mut path = ruling.to_string();
        if matches!(ruling, Ruling::Part(_)) {
            path = format!("layouts.{}", self.week.id);
        }
        let claim = Claim::Needed {
            ruling: ruling.clone(),
            level: miss.yields.into(),
            units,
        };
        let fact = trace.push(claim, vec![], &[path])?;
        let Ruling::Rule { id, .. } = &ruling else {
            return Ok(fact);
        };
        let floor = self
            .setting
            .rules()
            .floor
            .iter()
            .find(|(held, _)| held.value == *id);
        let Some((_, floor)) = floor.filter(|_| miss.kind == crate::rules::kinds::Floor::KIND)
        else {
            return Ok(fact);
        };
        let gives = self.setting.graph.qualities.find(floor.quality.as_str());
        let gives = gives.map_or(0, |quality| item.trains(self.setting, self.week, quality));
        let quality = floor.quality.value.clone();
        let asked = self.setting.floor_of(&quality);
        let path = format!("qualities.{quality}");
        trace.push(
            Claim::Floor {
                quality,
                gives,
                asked,
            },
            vec![fact],
            &[path],
        )
    }

    fn dosed(&self, trace: &mut Trace<'_>, item: &Item) -> Result<Vec<FactId>, TrailError> {
        let dosed = &item.dosed;
        let paths = [
            rule_path("dose", dosed.rule.as_str()),
            format!("doses.{}", dosed.dose),
        ];
        let claim = Claim::Dosed {
            dose: dosed.dose.clone(),
            rule: dosed.rule.clone(),
        };
        let mut facts = vec![trace.push(claim, vec![], &paths)?];
        for (rules, kind, claim) in [
            (&dosed.trims, "trim", Claim::Trimmed as fn(RuleId) -> Claim),
            (&dosed.steps, "load-step", Claim::Stepped),
        ] {
            for rule in rules {
                let path = rule_path(kind, rule.as_str());
                facts.push(trace.push(claim(rule.clone()), vec![], &[path])?);
            }
        }
        for cap in &dosed.caps {
            facts.push(trace.push(
                Claim::Capped(cap.clone()),
                vec![],
                &[rule_path("cap", cap.as_str())],
            )?);
        }
        Ok(facts)
    }
}
