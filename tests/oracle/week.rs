//! What a week misses beyond its sessions, and what it is worth.

use std::collections::{BTreeMap, BTreeSet};

use super::Oracle;
use super::place::Item;
use super::rule_text::{Apart, Counted, QualityWorth};
use super::session::{Tally, outside, units};
use super::text::Selector;

/// A week: for each day of the layout, its items in order.
pub type Week<'a> = [Vec<&'a Item>];

impl Oracle {
    /// What a week misses that no single session does.
    pub fn week_missed(&self, week: &Week<'_>) -> Tally {
        let mut tally = Tally::default();
        let rules = &self.pack.rules;
        let all: Vec<&Item> = week.iter().flatten().copied().collect();
        for (id, rule) in &rules.apart {
            let mut missed = 0;
            for one in 0..week.len() {
                for other in one + 1..week.len() {
                    missed += i64::from(
                        self.too_close(rule, week, one, other)
                            || self.too_close(rule, week, other, one),
                    );
                }
            }
            tally.add(id, rule.yields, missed);
        }
        for (id, rule) in rules.count.iter().filter(|(_, rule)| rule.per == "week") {
            let on = |item: &&Item| self.on_day(rule.on.as_ref(), item.place.day);
            let items: Vec<&Item> = all.iter().copied().filter(on).collect();
            tally.add(id, rule.yields, self.count_missed(rule, &items));
        }
        for (id, rule) in &rules.differ {
            let of_day = |day: usize| -> BTreeSet<&str> {
                week[day]
                    .iter()
                    .filter(|item| self.is(item, &rule.what))
                    .map(|item| item.exercise.as_str())
                    .collect()
            };
            let mut missed = 0;
            for one in 0..week.len() {
                for other in one + 1..week.len() {
                    let shared =
                        i64::try_from(of_day(one).intersection(&of_day(other)).count()).unwrap();
                    missed += (shared - rule.shared_at_most).max(0);
                }
            }
            tally.add(id, rule.yields, missed);
        }
        for (id, rule) in &rules.floor {
            let bound = self.scaled(
                rule.points_at_least,
                rule.scaled_by.as_deref().unwrap_or(&[]),
            );
            tally.add(
                id,
                rule.yields,
                units(
                    bound - points_of(&all, &rule.quality),
                    rule.unit.unwrap_or(1),
                ),
            );
        }
        for (id, rule) in rules
            .followed
            .iter()
            .filter(|(_, rule)| rule.within == "week")
        {
            let mut missed = 0;
            for (day, items) in week.iter().enumerate() {
                for (at, item) in items
                    .iter()
                    .enumerate()
                    .filter(|(_, item)| self.is(item, &rule.what))
                {
                    let later = week[day + 1..]
                        .iter()
                        .flatten()
                        .any(|other| self.follows(rule, item, other));
                    missed +=
                        i64::from(!later && !self.followed_here(rule, item, &items[at + 1..]));
                }
            }
            tally.add(id, rule.yields, missed);
        }
        for (id, rule) in &rules.proportion {
            let counted = |what: &Selector| {
                self.counted(&all, what, rule.counted_in.unwrap_or(Counted::Items))
            };
            let (of, to) = (100 * counted(&rule.of), counted(&rule.to));
            let unit = 100 * rule.unit.unwrap_or(1);
            let bound = |percent: Option<i64>| percent.map(|percent| percent * to);
            tally.add(
                id,
                rule.yields,
                outside(
                    of,
                    bound(rule.percent_at_least),
                    bound(rule.percent_at_most),
                    unit,
                ),
            );
        }
        for (id, rule) in &rules.kept {
            let there: BTreeSet<&str> = all
                .iter()
                .filter(|item| self.is(item, &rule.what))
                .map(|item| item.exercise.as_str())
                .collect();
            let wanted = self.wanted_again(rule);
            let lacking = wanted.difference(&there).count();
            tally.add(id, rule.yields, i64::try_from(lacking).unwrap());
        }
        for (id, rule) in &rules.shift {
            let (least, most) = self.after_shift(rule);
            let counted_in = rule.counted_in.unwrap_or_default();
            let counted = |what: &Selector| self.counted(&all, what, counted_in);
            let (of, to) = (100 * counted(&rule.of), counted(&rule.to));
            let times = |percent: Option<i64>| percent.map(|percent| percent * to);
            let unit = 100 * rule.unit.unwrap_or(1);
            tally.add(
                id,
                rule.yields,
                outside(of, times(least), times(most), unit),
            );
        }
        for (id, rule) in &rules.repeat {
            let mut uses: BTreeMap<&str, i64> = BTreeMap::new();
            for item in all.iter().filter(|item| self.is(item, &rule.what)) {
                *uses.entry(&item.exercise).or_insert(0) += 1;
            }
            tally.add(
                id,
                rule.yields,
                uses.values()
                    .map(|used| outside(*used, rule.at_least_if_used, rule.at_most, 1))
                    .sum(),
            );
        }
        for (id, rule) in rules.stress.iter().filter(|(_, rule)| rule.per == "week") {
            let on = all
                .iter()
                .filter(|item| self.on_day(rule.on.as_ref(), item.place.day));
            let points: i64 = on.filter_map(|item| item.stress.get(&rule.of)).sum();
            tally.add(
                id,
                rule.yields,
                units(points - rule.at_most, rule.unit.unwrap_or(1)),
            );
        }
        tally
    }

    /// Whether an item of `what` on one day and one of `from` on another stand too close.
    fn too_close(&self, rule: &Apart, week: &Week<'_>, what_day: usize, from_day: usize) -> bool {
        self.near(rule, self.days[what_day].day, self.days[from_day].day)
            && week[what_day].iter().any(|what| {
                let from = week[from_day].iter();
                from.copied().any(|from| self.meet(rule, what, from))
            })
    }

    /// Whether the day of `from` is too near to that of `what`.
    pub fn near(&self, rule: &Apart, one: i64, other: i64) -> bool {
        let between = (other - one).abs() - 1;
        let round = 7 - (other - one).abs() - 1;
        let after_only = rule.way.as_deref() == Some("after");
        let wraps = rule.wraps.unwrap_or(true);
        // Straight on where `from` is the later day, or either way counts; round where it is the earlier.
        let straight = (!after_only || other > one) && between < rule.free_days;
        let wrapped = wraps && (!after_only || other < one) && round < rule.free_days;
        straight || wrapped
    }

    /// Whether two items of two days must be kept apart.
    pub fn meet(&self, rule: &Apart, what: &Item, from: &Item) -> bool {
        self.is(what, &rule.what)
            && self.is(from, &rule.from)
            && (!rule.same_skill.unwrap_or(false) || what.shares_skill(from))
            && (!rule.same_exercise.unwrap_or(false) || what.exercise == from.exercise)
    }

    /// What single items and their order are worth, in points.
    pub fn session_worth(&self, items: &[&Item]) -> i64 {
        let mut worth = 0;
        for rule in self.pack.rules.prefer.values() {
            for item in items.iter().filter(|item| self.is(item, &rule.what)) {
                if self.on_day(rule.on.as_ref(), item.place.day) {
                    worth += rule.weight
                        * match rule.each.as_deref() {
                            None | Some("item") => 1,
                            Some("set") => item.done.sets,
                            Some("departure") => self.exercises[&item.exercise].departure,
                            Some(other) => panic!("{other}"),
                        };
                }
            }
        }
        for rule in self.pack.rules.followed.values() {
            for (at, item) in items
                .iter()
                .enumerate()
                .filter(|(_, item)| self.is(item, &rule.what))
            {
                if self.followed_here(rule, item, &items[at + 1..]) {
                    worth += rule.closer_by.unwrap_or(0);
                }
            }
        }
        100 * worth
    }

    /// What the sums over a week are worth.
    pub fn week_worth(&self, week: &Week<'_>) -> i64 {
        let all: Vec<&Item> = week.iter().flatten().copied().collect();
        let rules = &self.pack.rules;
        let mut worth = 0;
        assert!(rules.help_worth.len() <= 1, "exactly one help-worth speaks");
        for rule in rules.help_worth.values() {
            for (at, pair) in self.facts.focus.iter().enumerate() {
                let total: i64 = all.iter().map(|item| item.effects[at]).sum();
                worth += self.facts.demand[pair] * self.pack.tables[&rule.table].value(total);
            }
        }
        for rule in rules.quality_worth.values() {
            for quality in &rule.qualities {
                let from = self.worth_from(rule, quality);
                worth += 100 * self.pack.tables[&rule.table].value(points_of(&all, quality) - from);
            }
        }
        worth
    }

    /// The points from which a quality's worth counts.
    pub fn worth_from(&self, rule: &QualityWorth, quality: &str) -> i64 {
        let floors = self.pack.rules.floor.values();
        let scaled = floors
            .filter(|floor| floor.quality == quality)
            .map(|floor| {
                let factors = floor.scaled_by.as_deref().unwrap_or(&[]);
                self.scaled(floor.points_at_least, factors)
            });
        if rule.above_floor == Some(true) {
            scaled.max().unwrap_or(0)
        } else {
            0
        }
    }

    /// What decides between weeks that are equally good.
    pub fn tie(&self, items: &[&Item]) -> i64 {
        let place = |id: &str| self.exercises.keys().position(|held| held == id).unwrap();
        items
            .iter()
            .map(|item| i64::try_from((1 + place(&item.exercise)) * (1 + item.place.day)).unwrap())
            .sum()
    }
}

pub fn points_of(items: &[&Item], quality: &str) -> i64 {
    items
        .iter()
        .filter_map(|item| item.points.get(quality))
        .sum()
}
