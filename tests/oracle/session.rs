//! What a session misses: the rules whose scope is a session, its order included.

use std::collections::{BTreeMap, BTreeSet};

use super::Oracle;
use super::place::Item;
use super::rule_text::{Amount, Counted, Followed, Volume};
use super::text::{Selector, Yields};

/// What is missed, level by level and rule by rule.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    pub hard: Vec<String>,
    /// Units missed on the levels last, middle, first.
    pub missed: [i64; 3],
    pub by_rule: BTreeMap<String, i64>,
}

impl Tally {
    pub fn add(&mut self, id: &str, yields: Yields, units: i64) {
        assert!(units >= 0, "{id} misses {units}");
        if units == 0 {
            return;
        }
        *self.by_rule.entry(id.to_owned()).or_insert(0) += units;
        match yields {
            Yields::Never if self.hard.iter().any(|held| held == id) => {}
            Yields::Never => self.hard.push(id.to_owned()),
            Yields::Last => self.missed[0] += units,
            Yields::Middle => self.missed[1] += units,
            Yields::First => self.missed[2] += units,
        }
    }

    pub fn join(&mut self, other: &Self) {
        for id in &other.hard {
            if !self.hard.contains(id) {
                self.hard.push(id.clone());
            }
        }
        for (sum, units) in self.missed.iter_mut().zip(other.missed) {
            *sum += units;
        }
        for (id, units) in &other.by_rule {
            *self.by_rule.entry(id.clone()).or_insert(0) += units;
        }
    }
}

/// Units of a lack; a started unit is a whole one.
pub fn units(lack: i64, unit: i64) -> i64 {
    if lack <= 0 {
        0
    } else {
        (lack + unit - 1) / unit
    }
}

/// How much `value` is outside of bounds.
pub fn outside(value: i64, least: Option<i64>, most: Option<i64>, unit: i64) -> i64 {
    least.map_or(0, |least| units(least - value, unit))
        + most.map_or(0, |most| units(value - most, unit))
}

impl Oracle {
    /// What is counted of the items that a selector means.
    pub fn counted(&self, items: &[&Item], what: &Selector, counted_in: Counted) -> i64 {
        let meant: Vec<&&Item> = items.iter().filter(|item| self.is(item, what)).collect();
        match counted_in {
            Counted::Items => i64::try_from(meant.len()).unwrap(),
            Counted::Sets => meant.iter().map(|item| item.done.sets).sum(),
            Counted::Reps => meant.iter().map(|item| item.reps()).sum(),
            Counted::Days => i64::try_from(
                meant
                    .iter()
                    .map(|item| item.place.day)
                    .collect::<BTreeSet<_>>()
                    .len(),
            )
            .unwrap(),
        }
    }

    /// A bound scaled by factors.
    pub fn scaled(&self, bound: i64, factors: &[String]) -> i64 {
        let all = &self.pack.factors;
        let (mut product, mut divisor) = (bound, 1);
        for id in factors {
            let percent = if let Some(factor) = all.by_phase.get(id) {
                factor.percents.get(&self.facts.phase).copied()
            } else if let Some(factor) = all.by_choice.get(id) {
                let value = self
                    .facts
                    .fields
                    .get(&factor.field)
                    .and_then(|value| value.as_str());
                value.and_then(|value| factor.percents.get(value).copied())
            } else {
                let factor = &all.by_number[id];
                let value = self.facts.whole(&factor.field);
                let reached = factor
                    .steps
                    .iter()
                    .rev()
                    .find(|step| value.is_some_and(|value| value >= step.from));
                reached.map(|step| step.percent)
            };
            product *= percent.unwrap_or(100);
            divisor *= 100;
        }
        product / divisor
    }

    pub fn seconds(&self, items: &[&Item]) -> i64 {
        let Some(first) = items.first() else {
            return 0;
        };
        let timings = self.pack.rules.timing.values();
        let timings = timings.filter(|rule| self.on_day(rule.on.as_ref(), first.place.day));
        let warm_up = timings
            .clone()
            .map(|rule| rule.warm_up_seconds)
            .max()
            .unwrap_or(0);
        let changeover = timings
            .map(|rule| rule.changeover_seconds)
            .max()
            .unwrap_or(0);
        warm_up
            + items
                .iter()
                .map(|item| item.done.seconds + changeover)
                .sum::<i64>()
    }

    fn amount(&self, day: usize, amount: &Amount) -> Option<i64> {
        amount.whole.or_else(|| {
            let said = self.whole_on(day, amount.field.as_ref()?)?;
            Some(said * amount.percent.unwrap_or(100) / 100)
        })
    }

    /// What a session misses that does not depend on its order.
    pub fn session_missed(&self, day: usize, items: &[&Item]) -> Tally {
        let mut tally = Tally::default();
        let rules = &self.pack.rules;
        let count = |selector: &Selector| {
            i64::try_from(items.iter().filter(|item| self.is(item, selector)).count())
        };
        for slot in &self.days[day].parts {
            let held = items
                .iter()
                .filter(|item| item.place.part == slot.part)
                .count();
            let held = i64::try_from(held).unwrap();
            let id = format!("slot {} {}", self.days[day].day, slot.part);
            tally.add(&id, slot.yields, (slot.at_least - held).max(0));
            tally.add(&id, Yields::Never, (held - slot.at_most).max(0));
        }
        for (id, rule) in rules
            .exclude
            .iter()
            .filter(|(_, rule)| self.on_day(rule.on.as_ref(), day))
        {
            tally.add(id, rule.yields, count(&rule.what).unwrap());
        }
        for (id, rule) in rules
            .alike
            .iter()
            .filter(|(_, rule)| self.on_day(rule.on.as_ref(), day))
        {
            let mut groups: BTreeMap<String, i64> = BTreeMap::new();
            for item in items.iter().filter(|item| self.is(item, &rule.what)) {
                let exercise = &self.exercises[&item.exercise];
                let keys: BTreeSet<String> = match rule.same.as_str() {
                    "skill" => item.skills.clone(),
                    "root" => exercise
                        .components
                        .iter()
                        .map(|part| part.root().to_owned())
                        .collect(),
                    "parent" => BTreeSet::from([exercise.parent().to_owned()]),
                    other => panic!("{other}"),
                };
                keys.into_iter()
                    .for_each(|key| *groups.entry(key).or_insert(0) += 1);
            }
            tally.add(
                id,
                rule.yields,
                groups
                    .values()
                    .map(|held| (held - rule.at_most).max(0))
                    .sum(),
            );
        }
        for (id, rule) in rules.count.iter().filter(|(_, rule)| rule.per == "session") {
            if self.on_day(rule.on.as_ref(), day) {
                tally.add(id, rule.yields, self.count_missed(rule, items));
            }
        }
        for (id, rule) in rules
            .stress
            .iter()
            .filter(|(_, rule)| rule.per == "session")
        {
            if self.on_day(rule.on.as_ref(), day) {
                let points: i64 = items
                    .iter()
                    .filter_map(|item| item.stress.get(&rule.of))
                    .sum();
                tally.add(
                    id,
                    rule.yields,
                    units(points - rule.at_most, rule.unit.unwrap_or(1)),
                );
            }
        }
        for (id, rule) in rules
            .minutes
            .iter()
            .filter(|(_, rule)| self.on_day(rule.on.as_ref(), day))
        {
            let bound = |amount: &Option<Amount>| {
                amount
                    .as_ref()
                    .and_then(|amount| self.amount(day, amount))
                    .map(|m| m * 60)
            };
            let unit = rule.unit.unwrap_or(5) * 60;
            let missed = outside(
                self.seconds(items),
                bound(&rule.at_least),
                bound(&rule.at_most),
                unit,
            );
            tally.add(id, rule.yields, missed);
        }
        let pairs = || {
            items
                .iter()
                .flat_map(|one| items.iter().map(move |other| (*one, *other)))
        };
        let pairs = || pairs().filter(|(one, other)| one.exercise != other.exercise);
        for (id, rule) in &rules.lighter {
            let above = |what: &Item, than: &Item| {
                let end = match (rule.against.as_str(), than.done.percent) {
                    ("low", Some((low, _))) => low,
                    ("top", Some((_, high))) => high,
                    _ => return false,
                };
                let same = what.reference.is_some() && what.reference == than.reference;
                same && what
                    .top()
                    .is_some_and(|top| top > end + rule.above_at_most.unwrap_or(0))
            };
            let meant = pairs()
                .filter(|(what, than)| self.is(what, &rule.what) && self.is(than, &rule.than));
            let missed = meant.filter(|(what, than)| above(what, than)).count();
            tally.add(id, rule.yields, i64::try_from(missed).unwrap());
        }
        for (id, rule) in &rules.needs {
            let shared = |one: &Item, other: &Item| {
                !rule.same_skill.unwrap_or(false) || one.shares_skill(other)
            };
            let met = |item: &Item| {
                pairs().any(|(one, other)| {
                    one.exercise == item.exercise
                        && self.is(other, &rule.needs)
                        && shared(one, other)
                })
            };
            let missed = items
                .iter()
                .filter(|item| self.is(item, &rule.what) && !met(item))
                .count();
            tally.add(id, rule.yields, i64::try_from(missed).unwrap());
        }
        for (id, rule) in &rules.volume {
            tally.add(id, rule.yields, self.units_above(rule, items));
        }
        tally
    }

    /// Units that a count misses over these items.
    pub fn count_missed(&self, rule: &super::rule_text::Count, items: &[&Item]) -> i64 {
        let counted = self.counted(items, &rule.what, rule.counted_in.unwrap_or_default());
        let (least, most) = self.count_bounds(rule);
        outside(counted, least, most, rule.unit.unwrap_or(1))
    }

    /// The bounds of a count in this case.
    pub fn count_bounds(&self, rule: &super::rule_text::Count) -> (Option<i64>, Option<i64>) {
        let factors = rule.scaled_by.as_deref().unwrap_or(&[]);
        let bound = |bound: Option<i64>| bound.map(|bound| self.scaled(bound, factors));
        let least = bound(rule.at_least).filter(|_| !self.asks_for_nothing(&rule.what));
        (least, bound(rule.at_most))
    }

    /// Units of repetitions above a zone's total, and of single sets above the zone's set: each
    /// total and each item's set by itself.
    fn units_above(&self, rule: &Volume, items: &[&Item]) -> i64 {
        let unit = rule.unit.unwrap_or(1);
        let mut above = 0;
        for zone in self.pack.zone_tables[&rule.table].zones.values() {
            let held: Vec<&&Item> = items
                .iter()
                .filter(|item| {
                    self.is(item, &rule.what)
                        && item.top().is_some_and(|top| zone.percent.holds(top))
                })
                .collect();
            above += held
                .iter()
                .map(|item| units(item.done.reps - zone.reps_per_set.to, unit))
                .sum::<i64>();
            let mut groups: BTreeMap<String, i64> = BTreeMap::new();
            for item in held {
                let keys: BTreeSet<String> = match rule.together.as_str() {
                    "item" => BTreeSet::from([item.exercise.clone()]),
                    "skill" => item.skills.clone(),
                    "session" => BTreeSet::from([String::new()]),
                    other => panic!("{other}"),
                };
                keys.into_iter()
                    .for_each(|key| *groups.entry(key).or_insert(0) += item.reps());
            }
            above += groups
                .values()
                .map(|reps| units(reps - zone.total.to, unit))
                .sum::<i64>();
        }
        above
    }

    /// What a session misses by the order of its items.
    pub fn order_missed(&self, items: &[&Item]) -> Tally {
        let mut tally = Tally::default();
        let rules = &self.pack.rules;
        let shared = |asked: Option<bool>, one: &Item, other: &Item| {
            !asked.unwrap_or(false) || one.shares_skill(other)
        };
        for (id, rule) in &rules.adjacent {
            let lonely = (0..items.len())
                .filter(|at| self.is(items[*at], &rule.what))
                .filter(|at| {
                    let beside = match rule.directly.as_str() {
                        "before" => items.get(at + 1),
                        "after" => at.checked_sub(1).map(|at| &items[at]),
                        other => panic!("{other}"),
                    };
                    !beside.is_some_and(|one| {
                        self.is(one, &rule.which) && shared(rule.same_skill, items[*at], one)
                    })
                });
            tally.add(id, rule.yields, i64::try_from(lonely.count()).unwrap());
        }
        for (id, rule) in &rules.before {
            let mut missed = 0;
            for (at, early) in items.iter().enumerate() {
                for late in &items[at + 1..] {
                    let wrong = self.is(early, &rule.then) && self.is(late, &rule.first);
                    let right = self.is(early, &rule.first) && self.is(late, &rule.then);
                    missed += i64::from(wrong && !right && shared(rule.same_skill, early, late));
                }
            }
            tally.add(id, rule.yields, missed);
        }
        for (id, rule) in &rules.position {
            let mut missed = 0;
            for (at, item) in items
                .iter()
                .enumerate()
                .filter(|(_, item)| self.is(item, &rule.what))
            {
                let side = match rule.r#where.as_str() {
                    "first" => &items[..at],
                    "last" => &items[at + 1..],
                    other => panic!("{other}"),
                };
                let near =
                    |other: &Item| rule.of == "session" || other.place.part == item.place.part;
                missed += i64::from(
                    side.iter()
                        .any(|other| near(other) && !self.is(other, &rule.what)),
                );
            }
            tally.add(id, rule.yields, missed);
        }
        for (id, rule) in rules
            .followed
            .iter()
            .filter(|(_, rule)| rule.within == "session")
        {
            let open = (0..items.len()).filter(|at| {
                self.is(items[*at], &rule.what)
                    && !self.followed_here(rule, items[*at], &items[at + 1..])
            });
            tally.add(id, rule.yields, i64::try_from(open.count()).unwrap());
        }
        tally
    }

    /// Whether an item is followed in its own complex or by what comes later in its session.
    pub fn followed_here(&self, rule: &Followed, item: &Item, later: &[&Item]) -> bool {
        let seen = self.seen(item);
        let parts = &seen.exercise.components;
        let inside = parts.iter().enumerate().any(|(at, part)| {
            self.matches_with(&rule.what, seen, part)
                && parts[at + 1..]
                    .iter()
                    .any(|next| self.matches_with(&rule.by, seen, next) && freer(rule, part, next))
        });
        inside || later.iter().any(|other| self.follows(rule, item, other))
    }

    /// Whether another item has a component that is freer than one that matches.
    pub fn follows(&self, rule: &Followed, item: &Item, other: &Item) -> bool {
        let (seen, next_seen) = (self.seen(item), self.seen(other));
        seen.exercise
            .components
            .iter()
            .filter(|part| self.matches_with(&rule.what, seen, part))
            .any(|part| {
                let next = &next_seen.exercise.components;
                next.iter().any(|next| {
                    self.matches_with(&rule.by, next_seen, next) && freer(rule, part, next)
                })
            })
    }
}

fn freer(
    rule: &Followed,
    part: &super::movement::Component,
    next: &super::movement::Component,
) -> bool {
    let fewer = next.departing.is_subset(&part.departing)
        && next.departing != part.departing
        && next.departing.is_disjoint(&next.strong);
    part.shares_skill(next) && (fewer || rule.freer == Some(false))
}
