//! Columns and lines as they come together.

use std::collections::{BTreeMap, BTreeSet};

use crate::plan::model::{Level, Model};

use super::Hold;
use super::open::{Column, Line, OpenModel, Sense, Terms};

/// What becomes of a unit missed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// There is none.
    Hard,
    /// It is counted on this level.
    Counted(usize),
    /// Nobody asks.
    Free,
}

/// The bounds of a sum, and the lack that makes one unit missed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ends {
    pub(super) at_least: Option<i64>,
    pub(super) at_most: Option<i64>,
    pub(super) unit: i64,
}

/// A model under way.
pub(super) struct Flat<'m> {
    pub(super) model: &'m Model,
    pub(super) names: &'m [Vec<String>],
    /// By day, by candidate: its column.
    pub(super) x: Vec<Vec<usize>>,
    holds: [Hold; 3],
    columns: Vec<Column>,
    lines: Vec<Line>,
    /// Lines that there are, by what they say.
    known: BTreeSet<(Terms, i64)>,
    taken: [BTreeSet<String>; 2],
    anys: BTreeMap<(usize, Vec<usize>), Terms>,
    units: [Terms; 3],
    constant: Option<usize>,
}

impl<'m> Flat<'m> {
    pub(super) fn new(model: &'m Model, names: &'m [Vec<String>], holds: [Hold; 3]) -> Self {
        let mut flat = Self {
            model,
            names,
            x: Vec::new(),
            holds,
            columns: Vec::new(),
            lines: Vec::new(),
            known: BTreeSet::new(),
            taken: [BTreeSet::new(), BTreeSet::new()],
            anys: BTreeMap::new(),
            units: [const { Vec::new() }; 3],
            constant: None,
        };
        flat.x = (0..model.days.len())
            .map(|day| {
                let names = names.get(day).map_or(&[][..], Vec::as_slice);
                names
                    .iter()
                    .map(|name| flat.binary(format!("x_d{}_{name}", day + 1)))
                    .collect()
            })
            .collect();
        flat
    }

    /// Whether worth is sought; else units missed on a level are.
    pub(super) fn seeks_worth(&self) -> bool {
        !self.holds.contains(&Hold::Fewest)
    }

    pub(super) fn way(&self, level: Level) -> Way {
        let Some(level) = level else { return Way::Hard };
        match self.holds.get(level) {
            Some(Hold::AtMost(0)) => Way::Hard,
            Some(Hold::AtMost(_) | Hold::Fewest) => Way::Counted(level),
            Some(Hold::Free) | None => Way::Free,
        }
    }

    /// The name, with a number where it is taken.
    fn own(&mut self, kind: usize, name: String) -> String {
        let Some(taken) = self.taken.get_mut(kind) else {
            return name;
        };
        let (mut own, mut number) = (name.clone(), 1);
        while !taken.insert(own.clone()) {
            number += 1;
            own = format!("{name}_{number}");
        }
        own
    }

    fn column(&mut self, name: String, whole: bool, low: i64, high: Option<i64>) -> usize {
        let name = self.own(0, name);
        self.columns.push(Column {
            name,
            whole,
            low,
            high,
            gain: 0,
        });
        self.columns.len() - 1
    }

    pub(super) fn binary(&mut self, name: String) -> usize {
        self.column(name, true, 0, Some(1))
    }

    /// A column that its lines keep whole wherever the others are.
    pub(super) fn between(&mut self, name: String, low: i64, high: i64) -> usize {
        self.column(name, false, low, Some(high))
    }

    /// Takes a candidate out.
    pub(super) fn never(&mut self, day: usize, at: usize) {
        let column = self.x_of(day, at);
        if let Some(column) = column.and_then(|at| self.columns.get_mut(at)) {
            column.high = Some(0);
        }
    }

    pub(super) fn x_of(&self, day: usize, at: usize) -> Option<usize> {
        self.x.get(day).and_then(|x| x.get(at)).copied()
    }

    /// The columns of candidates of a day, each once.
    pub(super) fn sum(&self, day: usize, which: impl IntoIterator<Item = usize>) -> Terms {
        which
            .into_iter()
            .filter_map(|at| self.x_of(day, at))
            .map(|column| (column, 1))
            .collect()
    }

    /// Adds to what is sought.
    pub(super) fn gain(&mut self, column: usize, gain: i64) {
        if let Some(column) = self.columns.get_mut(column) {
            column.gain += gain;
        }
    }

    /// A column that is 1.
    pub(super) fn constant(&mut self) -> usize {
        match self.constant {
            Some(column) => column,
            None => {
                let column = self.column("constant".to_owned(), false, 1, Some(1));
                self.constant = Some(column);
                column
            }
        }
    }

    /// A line; what can't be broken and what is said already are left out.
    pub(super) fn line(&mut self, name: &str, terms: Terms, sense: Sense, amount: i64) {
        let mut merged: BTreeMap<usize, i64> = BTreeMap::new();
        for (column, times) in terms {
            *merged.entry(column).or_insert(0) += times;
        }
        merged.retain(|_, times| *times != 0);
        let (mut terms, mut amount): (Terms, i64) = (merged.into_iter().collect(), amount);
        let end = |which: fn(&Self, usize) -> Option<i64>| -> Option<i64> {
            terms.iter().try_fold(0i64, |sum, (column, times)| {
                which(self, *column).map(|end| sum.saturating_add(times.saturating_mul(end)))
            })
        };
        let nonnegative = terms.iter().all(|(_, times)| *times > 0);
        let holds = match sense {
            Sense::Most if nonnegative => end(Self::high).is_some_and(|most| most <= amount),
            Sense::Least if nonnegative => end(Self::low).is_some_and(|least| least >= amount),
            Sense::Equal if terms.is_empty() => amount == 0,
            _ => false,
        };
        if holds {
            return;
        }
        if terms.is_empty() {
            // No reader need take a line without a column.
            terms.push((self.constant(), 1));
            amount += 1;
        }
        // `Most` is the one sense in which the same thing is said by several rules.
        if sense == Sense::Most && !self.known.insert((terms.clone(), amount)) {
            return;
        }
        let name = self.own(1, name.to_owned());
        self.lines.push(Line {
            name,
            terms,
            sense,
            amount,
        });
    }

    fn low(&self, column: usize) -> Option<i64> {
        self.columns.get(column).map(|column| column.low)
    }

    fn high(&self, column: usize) -> Option<i64> {
        self.columns.get(column).and_then(|column| column.high)
    }

    /// At most so much, or as much more as a column of units gives.
    pub(super) fn most(&mut self, name: &str, mut terms: Terms, most: i64, given: Option<usize>) {
        terms.extend(given.map(|column| (column, -1)));
        self.line(name, terms, Sense::Most, most);
    }

    /// A column of units missed by a rule, each weighing as much; none where they can't be.
    pub(super) fn unit(&mut self, way: Way, name: &str, whole: bool, times: i64) -> Option<usize> {
        let Way::Counted(level) = way else {
            return None;
        };
        let column = self.column(format!("u_{name}"), whole, 0, None);
        self.missed(level, column, times);
        Some(column)
    }

    /// Units that a column is worth on a level.
    pub(super) fn missed(&mut self, level: usize, column: usize, times: i64) {
        if let Some(units) = self.units.get_mut(level) {
            units.push((column, times));
        }
    }

    /// A sum between its ends, or in as many units outside as are counted.
    pub(super) fn within(&mut self, way: Way, name: &str, terms: &[(usize, i64)], ends: Ends) {
        let unit = ends.unit.max(1);
        let open = ends.at_least.is_none() && ends.at_most.is_none();
        if open || way == Way::Free {
            return;
        }
        let missed = self.unit(way, name, true, 1);
        let given = |sign: i64| missed.map(|column| (column, sign * unit));
        if let Some(least) = ends.at_least {
            let mut terms = terms.to_vec();
            terms.extend(given(1));
            self.line(name, terms, Sense::Least, least);
        }
        if let Some(most) = ends.at_most {
            let mut terms = terms.to_vec();
            terms.extend(given(-1));
            self.line(name, terms, Sense::Most, most);
        }
        // Ends that cross are both missed in between.
        if let (Some(least), Some(most)) = (ends.at_least, ends.at_most)
            && least > most
        {
            let crossed: Terms = given(1).into_iter().collect();
            self.line(name, crossed, Sense::Least, least - most);
        }
    }

    /// A sum that is 1 where the session of a day has any of these candidates, else 0.
    pub(super) fn any(&mut self, day: usize, which: impl IntoIterator<Item = usize>) -> Terms {
        let which: Vec<usize> = which.into_iter().collect();
        let all = self.sum(day, which.iter().copied());
        if all.len() < 2 || self.one_at_most(day, &which) {
            return all;
        }
        let key = (day, which);
        if let Some(known) = self.anys.get(&key) {
            return known.clone();
        }
        let name = format!("any_d{}_{}", day + 1, self.anys.len() + 1);
        let column = self.between(name.clone(), 0, 1);
        for (one, _) in &all {
            self.line(&name, vec![(*one, 1), (column, -1)], Sense::Most, 0);
        }
        let mut none = all;
        none.push((column, -1));
        self.line(&name, none, Sense::Least, 0);
        self.anys.insert(key, vec![(column, 1)]);
        vec![(column, 1)]
    }

    /// Whether a part or an exercise leaves room for no two of these.
    fn one_at_most(&self, day: usize, which: &[usize]) -> bool {
        let Some(held) = self.model.days.get(day) else {
            return false;
        };
        let all: Vec<_> = which
            .iter()
            .filter_map(|at| held.candidates.get(*at))
            .collect();
        let Some(first) = all.first() else {
            return true;
        };
        let narrow = held
            .slots
            .get(first.slot)
            .is_some_and(|slot| slot.at_most <= 1);
        all.iter().all(|held| held.exercise == first.exercise)
            || (narrow && all.iter().all(|held| held.slot == first.slot))
    }

    /// Holds the levels, and hands the model out.
    pub(super) fn done(mut self, about: Vec<String>) -> OpenModel {
        let units = std::mem::take(&mut self.units);
        let words = ["held-last", "held-middle", "held-first"];
        for ((hold, units), word) in self.holds.into_iter().zip(units).zip(words) {
            match hold {
                Hold::AtMost(most) => self.line(word, units, Sense::Most, most),
                Hold::Fewest => {
                    for (column, times) in units {
                        self.gain(column, times);
                    }
                }
                Hold::Free => {}
            }
        }
        OpenModel {
            worth: self.seeks_worth(),
            columns: self.columns,
            lines: self.lines,
            about,
        }
    }
}
