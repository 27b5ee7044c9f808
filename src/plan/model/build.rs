//! Compiles every rule that speaks, kind by kind.

use std::collections::BTreeMap;

use crate::graph::Bits;
use crate::infer::Setting;
use crate::plan::item::{Item, Pool};
use crate::plan::slots::Week;
use crate::rules::kinds::{CountedIn, Rules};
use crate::rules::vocab::{DayFilter, Selector};

use super::shape::{
    Candidate, Couple, DayModel, Follow, Model, Order, Row, SlotModel, Sums, TwoDays,
};
use super::{
    adjacent, alike, apart, before, count, differ, exclude, floor, followed, help_worth, kept,
    lighter, minutes, needs, position, prefer, proportion, quality_worth, repeat, shift, slots,
    stress, volume, wanted,
};

/// What a rule is compiled against and into.
pub(super) struct Builder<'a, 'b> {
    pub(super) setting: &'b Setting<'a>,
    pub(super) week: &'b Week<'a>,
    pub(super) pool: &'b Pool,
    pub(super) model: Model,
    /// Rows by what they add up, so that equal sums share one.
    known: BTreeMap<(bool, Vec<Vec<i64>>), usize>,
}

/// Compiles a case.
pub(crate) fn build<'a>(setting: &Setting<'a>, week: &Week<'a>, pool: &Pool) -> Model {
    let days = week
        .days
        .iter()
        .enumerate()
        .map(|(day, held)| {
            let items = pool.days.get(day).map_or(&[][..], Vec::as_slice);
            let slots = held
                .layout
                .parts
                .iter()
                .enumerate()
                .map(|(slot, part)| SlotModel {
                    candidates: items
                        .iter()
                        .enumerate()
                        .filter(|(_, item)| item.slot == slot)
                        .map(|(at, _)| at)
                        .collect(),
                    at_most: usize::from(part.at_most.value),
                });
            DayModel {
                candidates: items.iter().map(|item| blank(setting, day, item)).collect(),
                slots: slots.collect(),
                sums: Vec::new(),
                couples: Vec::new(),
                orders: Vec::new(),
            }
        })
        .collect();
    let model = Model {
        days,
        rows: Vec::new(),
        presences: Vec::new(),
        two_days: Vec::new(),
        follows: Vec::new(),
    };
    let mut builder = Builder {
        setting,
        week,
        pool,
        model,
        known: BTreeMap::new(),
    };
    builder.all();
    wanted::add(&mut builder);
    builder.model
}

fn blank(setting: &Setting<'_>, day: usize, item: &Item) -> Candidate {
    let place = |at: usize| i64::try_from(at).unwrap_or(i64::MAX / 1024) + 1;
    Candidate {
        exercise: item.exercise,
        slot: item.slot,
        skills: setting
            .graph
            .exercises
            .get(item.exercise)
            .map(|exercise| exercise.skills.clone())
            .unwrap_or_default(),
        worth: 0,
        tie: place(item.exercise) * place(day),
        amounts: Vec::new(),
        once: Vec::new(),
        misses: [0; 3],
    }
}

impl Builder<'_, '_> {
    /// Every kind is named here: one that is missing does not compile.
    fn all(&mut self) {
        let Rules {
            adjacent,
            alike,
            apart,
            before,
            count,
            differ,
            exclude,
            floor,
            followed,
            help_worth,
            kept,
            lighter,
            minutes,
            needs,
            position,
            prefer,
            proportion,
            quality_worth,
            repeat,
            shift,
            stress,
            volume,
            // Who may be placed, and how: the candidates already say it.
            cap: _,
            carry_over: _,
            how_often: _,
            caution: _,
            compose: _,
            dose: _,
            focus: _,
            fullest: _,
            least_load: _,
            load_step: _,
            ramp: _,
            timing: _,
            trim: _,
            watch: _,
        } = self.setting.rules();
        slots::add(self);
        let setting = self.setting;
        setting
            .speaking(adjacent)
            .for_each(|(id, rule)| adjacent::add(self, id, rule));
        setting
            .speaking(alike)
            .for_each(|(id, rule)| alike::add(self, id, rule));
        setting
            .speaking(apart)
            .for_each(|(id, rule)| apart::add(self, id, rule));
        setting
            .speaking(before)
            .for_each(|(id, rule)| before::add(self, id, rule));
        setting
            .speaking(count)
            .for_each(|(id, rule)| count::add(self, id, rule));
        setting
            .speaking(differ)
            .for_each(|(id, rule)| differ::add(self, id, rule));
        setting
            .speaking(exclude)
            .for_each(|(_, rule)| exclude::add(self, rule));
        setting
            .speaking(floor)
            .for_each(|(id, rule)| floor::add(self, id, rule));
        setting
            .speaking(followed)
            .for_each(|(id, rule)| followed::add(self, id, rule));
        setting
            .speaking(help_worth)
            .for_each(|(id, rule)| help_worth::add(self, id, rule));
        setting
            .speaking(kept)
            .for_each(|(id, rule)| kept::add(self, id, rule));
        setting
            .speaking(lighter)
            .for_each(|(id, rule)| lighter::add(self, id, rule));
        setting
            .speaking(minutes)
            .for_each(|(id, rule)| minutes::add(self, id, rule));
        setting
            .speaking(needs)
            .for_each(|(id, rule)| needs::add(self, id, rule));
        setting
            .speaking(position)
            .for_each(|(id, rule)| position::add(self, id, rule));
        setting
            .speaking(prefer)
            .for_each(|(_, rule)| prefer::add(self, rule));
        setting
            .speaking(proportion)
            .for_each(|(id, rule)| proportion::add(self, id, rule));
        setting
            .speaking(quality_worth)
            .for_each(|(id, rule)| quality_worth::add(self, id, rule));
        setting
            .speaking(repeat)
            .for_each(|(id, rule)| repeat::add(self, id, rule));
        setting
            .speaking(shift)
            .for_each(|(id, rule)| shift::add(self, id, rule));
        setting
            .speaking(stress)
            .for_each(|(id, rule)| stress::add(self, id, rule));
        setting
            .speaking(volume)
            .for_each(|(id, rule)| volume::add(self, id, rule));
    }

    /// Days of the week.
    pub(super) fn days(&self) -> usize {
        self.week.days.len()
    }

    /// Items of a day.
    pub(super) fn items(&self, day: usize) -> &[Item] {
        self.pool.days.get(day).map_or(&[], Vec::as_slice)
    }

    /// Which candidates of a day a selector holds for.
    pub(super) fn matching(&self, what: &Selector, day: usize) -> Bits {
        self.items(day)
            .iter()
            .enumerate()
            .filter(|(_, item)| self.setting.matches(what, &item.placed(self.week)))
            .map(|(at, _)| at)
            .collect()
    }

    /// The same for all days.
    pub(super) fn matching_by_day(&self, what: &Selector) -> Vec<Bits> {
        (0..self.days())
            .map(|day| self.matching(what, day))
            .collect()
    }

    /// The same, only on days of a filter.
    pub(super) fn matching_on(&self, what: &Selector, on: &DayFilter) -> Vec<Bits> {
        (0..self.days())
            .map(|day| {
                if self.week.on(on, day) {
                    self.matching(what, day)
                } else {
                    Bits::default()
                }
            })
            .collect()
    }

    /// What each candidate of a day counts.
    pub(super) fn counted(&self, day: usize, what: &Bits, counted_in: CountedIn) -> Vec<i64> {
        self.items(day)
            .iter()
            .enumerate()
            .map(|(at, item)| match counted_in {
                _ if !what.has(at) => 0,
                CountedIn::Items | CountedIn::Days => 1,
                CountedIn::Sets => item.dosed.sets,
                CountedIn::Reps => item.lifts(),
            })
            .collect()
    }

    /// The row that adds these amounts up; presences add 1 for a day that has any.
    pub(super) fn row(
        &mut self,
        name: &str,
        presence: bool,
        amounts: Vec<Vec<i64>>,
    ) -> Option<&mut Row> {
        if let Some(at) = self.known.get(&(presence, amounts.clone())).copied() {
            return self.model.rows.get_mut(at);
        }
        let at = self.model.rows.len();
        if presence {
            let any = amounts
                .iter()
                .map(|amounts| {
                    amounts
                        .iter()
                        .enumerate()
                        .filter(|(_, n)| **n != 0)
                        .map(|(at, _)| at)
                        .collect()
                })
                .collect::<Vec<Bits>>();
            self.presence(at, 1, &any);
        } else {
            for (day, amounts) in self.model.days.iter_mut().zip(&amounts) {
                for (candidate, amount) in day
                    .candidates
                    .iter_mut()
                    .zip(amounts)
                    .filter(|(_, amount)| **amount != 0)
                {
                    candidate.amounts.push((at, *amount));
                }
            }
        }
        self.known.insert((presence, amounts), at);
        self.new_row(name)
    }

    /// The row that adds, for each set, its amount for a day that has any of it.
    pub(super) fn row_of_presences(
        &mut self,
        name: &str,
        sets: &[(i64, Vec<Bits>)],
    ) -> Option<&mut Row> {
        let at = self.model.rows.len();
        for (amount, any) in sets {
            self.presence(at, *amount, any);
        }
        self.new_row(name)
    }

    fn new_row(&mut self, name: &str) -> Option<&mut Row> {
        self.model.rows.push(Row {
            name: name.to_owned(),
            tables: Vec::new(),
            bounds: Vec::new(),
        });
        self.model.rows.last_mut()
    }

    fn presence(&mut self, row: usize, amount: i64, any: &[Bits]) {
        let presence = self.model.presences.len();
        self.model.presences.push((row, amount));
        for (day, any) in self.model.days.iter_mut().zip(any) {
            for at in any.iter() {
                if let Some(candidate) = day.candidates.get_mut(at) {
                    candidate.once.push(presence);
                }
            }
        }
    }

    pub(super) fn sums(&mut self, day: usize, sums: Sums) {
        if let Some(held) = self.model.days.get_mut(day) {
            held.sums.push(sums);
        }
    }

    pub(super) fn couple(&mut self, day: usize, couple: Couple) {
        if let Some(held) = self.model.days.get_mut(day) {
            held.couples.push(couple);
        }
    }

    pub(super) fn order(&mut self, day: usize, order: Order) {
        if let Some(held) = self.model.days.get_mut(day) {
            held.orders.push(order);
        }
    }

    pub(super) fn two_days(&mut self, rule: TwoDays) {
        self.model.two_days.push(rule);
    }

    pub(super) fn follow(&mut self, rule: Follow) {
        self.model.follows.push(rule);
    }

    /// Whether two candidates of a day share a skill.
    pub(super) fn share_skill(&self, day: usize, one: usize, other: usize) -> bool {
        let skills = |at: usize| {
            self.model
                .days
                .get(day)
                .and_then(|held| held.candidates.get(at))
                .map(|held| &held.skills)
        };
        match (skills(one), skills(other)) {
            (Some(one), Some(other)) => one.meets(other),
            _ => false,
        }
    }

    /// For each candidate of `of`, those of `among` but itself, sharing a skill where asked.
    pub(super) fn partners(
        &self,
        day: usize,
        of: &Bits,
        among: &Bits,
        same_skill: bool,
    ) -> Vec<Option<Bits>> {
        (0..self.items(day).len())
            .map(|at| {
                of.has(at).then(|| {
                    among
                        .iter()
                        .filter(|other| {
                            *other != at && (!same_skill || self.share_skill(day, at, *other))
                        })
                        .collect()
                })
            })
            .collect()
    }
}
