//! A week as it stands, and what the rule kinds ask of it.

use crate::graph::Exercise;
use crate::infer::Setting;
use crate::plan::item::Item;
use crate::plan::slots::Week;
use crate::rules::kinds::CountedIn;
use crate::rules::vocab::{DayFilter, Selector};

use super::exact::{Exact, many, times, total};

/// A day with its items.
pub(super) type OfDay<'v> = (usize, &'v [Item]);

/// A week as it stands.
pub(super) struct View<'a> {
    pub(super) setting: &'a Setting<'a>,
    pub(super) week: &'a Week<'a>,
    pub(super) days: &'a [Vec<Item>],
}

impl View<'_> {
    /// Every session of the layout, one with no item too.
    pub(super) fn sessions(&self) -> impl Iterator<Item = (usize, &[Item])> {
        (0..self.week.days.len())
            .map(|day| (day, self.days.get(day).map_or(&[][..], Vec::as_slice)))
    }

    /// The sessions that a filter takes in.
    pub(super) fn on<'b>(
        &'b self,
        filter: &'b DayFilter,
    ) -> impl Iterator<Item = (usize, &'b [Item])> {
        self.sessions()
            .filter(|(day, _)| self.week.on(filter, *day))
    }

    /// Each two sessions, the earlier first.
    pub(super) fn two_days(&self) -> impl Iterator<Item = (OfDay<'_>, OfDay<'_>)> {
        self.sessions().flat_map(move |one| {
            self.sessions()
                .filter(move |other| other.0 > one.0)
                .map(move |other| (one, other))
        })
    }

    /// Whether a selector holds for an item.
    pub(super) fn is(&self, what: &Selector, item: &Item) -> bool {
        self.setting.matches(what, &item.placed(self.week))
    }

    /// Items of a session for which a selector holds.
    pub(super) fn of<'b>(&self, what: &Selector, session: &'b [Item]) -> Vec<&'b Item> {
        session.iter().filter(|item| self.is(what, item)).collect()
    }

    /// What an item is.
    pub(super) fn exercise(&self, item: &Item) -> Option<&Exercise> {
        self.setting.graph.exercises.get(item.exercise)
    }

    /// Whether two items train a skill in common.
    pub(super) fn share_skill(&self, one: &Item, other: &Item) -> bool {
        match (self.exercise(one), self.exercise(other)) {
            (Some(one), Some(other)) => one.skills.meets(&other.skills),
            _ => false,
        }
    }

    /// How much of something one session has.
    pub(super) fn counted(
        &self,
        what: &Selector,
        counted_in: CountedIn,
        session: &[Item],
    ) -> Exact<i64> {
        let of = self.of(what, session);
        match counted_in {
            CountedIn::Items => many(of),
            CountedIn::Sets => total(of.iter().map(|item| Ok(item.dosed.sets))),
            CountedIn::Reps => total(
                of.iter()
                    .map(|item| times(item.dosed.sets, item.dosed.reps)),
            ),
            CountedIn::Days => Ok(i64::from(!of.is_empty())),
        }
    }
}
