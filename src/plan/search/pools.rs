//! Pools of sessions laid out for a search over whole weeks: what tells no two sessions apart is left out.
//!
//! Every reduction keeps the week that would be chosen without it, ties included ([`Found::betters`]: the higher score, then
//! the first by its items):
//!
//! - A row whose totals are all worth the same and miss the same, whatever sessions the pools' days take, adds one number
//!   to every week: it can't decide, and that number is added once.
//! - A key of a two-day rule can be missed only by two days that both have it (or by a day that waits and a later one that
//!   answers). Where no other day's pool has its other half, no week of the pools misses or answers by it.
//! - Sessions of a day with the same amounts in the rows that decide, the same units missed and the same keys can stand in
//!   for each other in every week. A week with a better one of them scores as much more, and of those that score the same
//!   the first by its items makes the first week.
//! - So can a session stand in for another of its class that is no better by itself nor in any row, the total being whatever it
//!   may: see [`undominated`].
//!
//! [`Found::betters`]: super::whole::Found::betters

use std::collections::BTreeMap;

use crate::base::Cancel;
use crate::graph::Bits;
use crate::plan::model::Model;

use super::marks::{Mark, apart, marks};
use super::rows::RowValues;
use super::session::Session;
use super::stage::Stage;

/// A session as a column of the search.
#[derive(Debug, Clone)]
pub(super) struct Column {
    /// Score by itself.
    pub(super) score: i64,
    /// By active row.
    pub(super) amounts: Vec<i64>,
    /// What two-day rules see of it, by index of the day's classes.
    pub(super) class: usize,
    /// Its place in the day's pool.
    pub(super) at: usize,
}

/// A row that can still decide.
pub(super) struct ActiveRow<'p> {
    /// Its place in the model.
    pub(super) row: usize,
    pub(super) values: &'p RowValues,
    /// Ends that the node sets.
    pub(super) ends: (i64, i64),
}

/// All that still tells sessions of a day apart: amounts of active rows, units missed, marks; last its place where not
/// even those of one kind are to be taken together.
type Traits = (Vec<i64>, [i64; 3], Vec<Mark>, usize);

/// What a total comes to: worth less the weight of what is missed, and the units missed on levels that are held at some
/// number of them. Two such levels weigh the same, so that the first number alone does not say which of them is missed.
type Comes = (i64, [i64; 3]);

/// What is left out while weeks are looked for; without any of it the same week is found, only later.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Reductions {
    /// Rows that can't decide.
    pub(crate) rows: bool,
    /// Keys that no other day's pool meets.
    pub(crate) keys: bool,
    /// Sessions that nothing tells apart from a better one.
    pub(crate) twins: bool,
    /// Sessions that are worse than another in all that tells them apart.
    pub(crate) worse: bool,
    /// Sessions for which no total of a row leaves room.
    pub(crate) totals: bool,
    /// Sessions that lose too much with what they take from other days.
    pub(crate) losses: bool,
}

impl Reductions {
    /// All of them.
    pub(crate) const ALL: Self = Self {
        rows: true,
        keys: true,
        twins: true,
        worse: true,
        totals: true,
        losses: true,
    };
}

/// How totals and sessions are judged.
pub(super) struct Judged<'p> {
    pub(super) model: &'p Model,
    pub(super) stage: &'p Stage,
    /// Rows of the model itself; later ones are the search's.
    pub(super) own: usize,
    pub(super) values: &'p [RowValues],
    /// Ends that the node sets.
    pub(super) ends: &'p [(i64, i64)],
    pub(super) reductions: Reductions,
}

impl Judged<'_> {
    /// What a total of a row comes to; none where a hard bound or an end is broken.
    fn total(&self, row: usize, total: i64) -> Option<Comes> {
        let (low, high) = self.ends.get(row).copied()?;
        if total < low || total > high {
            return None;
        }
        let value = self.values.get(row)?.value(total)?;
        // What rows of the search miss is counted elsewhere, and is on one level.
        let own = self.model.rows.get(row).filter(|_| row < self.own);
        let missed = own.map_or([0; 3], |row| self.stage.held(row.misses(total).0));
        Some((value, missed))
    }
}

/// Whether a week with the second total is never worse than one with the first, all else being the same.
fn no_better(one: Option<Comes>, other: Option<Comes>) -> bool {
    match (one, other) {
        (None, _) => true,
        (Some(_), None) => false,
        (Some((value, missed)), Some((other, fewer))) => {
            value <= other
                && missed
                    .iter()
                    .zip(fewer)
                    .all(|(units, other)| *units >= other)
        }
    }
}

/// After so many sessions it is looked whether the search was cancelled.
const LOOK_UP: usize = 512;

/// Columns of a class that one is held against.
const MOST_RIVALS: usize = 200;

/// Pools made ready.
pub(super) struct Pools<'p> {
    pub(super) model: &'p Model,
    pub(super) sessions: &'p [Vec<(i64, Session)>],
    pub(super) days: Vec<Vec<Column>>,
    pub(super) rows: Vec<ActiveRow<'p>>,
    /// What the rows that can't decide are worth.
    pub(super) constant: i64,
    /// By day, by other day, by class: the other's classes that may not stand with it.
    apart: Vec<Vec<Vec<Bits>>>,
    /// How many classes each day has.
    pub(super) classes: Vec<usize>,
}

impl<'p> Pools<'p> {
    /// None where the rows leave nothing, or where it was cancelled.
    pub(super) fn of(
        judged: &Judged<'p>,
        sessions: &'p [Vec<(i64, Session)>],
        cancel: &Cancel,
    ) -> Option<Self> {
        let (model, stage, reductions) = (judged.model, judged.stage, judged.reductions);
        let goes_on = |at: usize| !at.is_multiple_of(LOOK_UP) || !cancel.is_cancelled();
        if sessions.iter().any(Vec::is_empty) {
            return None;
        }
        let mut rows = Vec::new();
        let mut spans = Vec::new();
        let mut constant = 0i64;
        for (row, (values, ends)) in judged.values.iter().zip(judged.ends).enumerate() {
            if cancel.is_cancelled() {
                return None;
            }
            let (mut low, mut high) = (0i64, 0i64);
            for pool in sessions {
                let of_row = pool.iter().filter_map(|(_, held)| held.amounts.get(row));
                low += of_row.clone().min()?;
                high += of_row.max()?;
            }
            let first = judged.total(row, low);
            let same =
                first.is_some() && (low..=high).all(|total| judged.total(row, total) == first);
            if let Some((value, _)) = first.filter(|_| same && reductions.rows) {
                constant = constant.saturating_add(value);
            } else {
                spans.push((low, high));
                rows.push(ActiveRow {
                    row,
                    values,
                    ends: *ends,
                });
            }
        }
        let ways: Vec<Way> = rows
            .iter()
            .zip(&spans)
            .map(|(row, span)| Way::of(judged, row.row, *span))
            .collect();
        let marks = marks(judged, sessions, cancel)?;
        let mut days = Vec::new();
        let mut known: Vec<Vec<Vec<Mark>>> = Vec::new();
        for (pool, marks) in sessions.iter().zip(&marks) {
            let mut best: BTreeMap<Traits, usize> = BTreeMap::new();
            for (at, ((_, session), marks)) in pool.iter().zip(marks).enumerate() {
                if !goes_on(at) {
                    return None;
                }
                let own = if reductions.twins { 0 } else { at };
                let amounts = rows
                    .iter()
                    .map(|row| session.amounts.get(row.row).copied().unwrap_or(0))
                    .collect();
                let held = best
                    .entry((amounts, session.misses, marks.clone(), own))
                    .or_insert(at);
                let worse = pool.get(*held).is_some_and(|(_, other)| {
                    session.score > other.score
                        || (session.score == other.score && session.items < other.items)
                });
                if worse {
                    *held = at;
                }
            }
            let mut classes: Vec<Vec<Mark>> = Vec::new();
            let mut columns: Vec<Column> = Vec::new();
            for (place, ((amounts, _, marks, _), at)) in best.into_iter().enumerate() {
                if !goes_on(place) {
                    return None;
                }
                let class = classes
                    .iter()
                    .position(|held| *held == marks)
                    .unwrap_or_else(|| {
                        classes.push(marks);
                        classes.len() - 1
                    });
                columns.push(Column {
                    score: pool.get(at)?.1.score,
                    amounts,
                    class,
                    at,
                });
            }
            columns.sort_by_key(|column| column.at);
            if reductions.worse {
                columns = undominated(columns, &ways, pool, cancel)?;
            }
            days.push(columns);
            known.push(classes);
        }
        let classes = known.iter().map(Vec::len).collect();
        let apart = apart(model, stage, &known, cancel)?;
        Some(Self {
            model,
            sessions,
            days,
            rows,
            constant,
            apart,
            classes,
        })
    }

    pub(super) fn session(&self, day: usize, column: usize) -> Option<&'p Session> {
        let at = self.days.get(day)?.get(column)?.at;
        self.sessions.get(day)?.get(at).map(|(_, session)| session)
    }

    /// By active row, what a column adds.
    pub(super) fn amounts(&self, day: usize, column: usize) -> &[i64] {
        self.days
            .get(day)
            .and_then(|held| held.get(column))
            .map_or(&[], |held| &held.amounts)
    }

    /// The classes of another day that may not stand with a class of a day; none where all may.
    pub(super) fn apart(&self, day: usize, class: usize, other: usize) -> Option<&Bits> {
        self.apart.get(day)?.get(other)?.get(class)
    }
}

/// Which way a row's worth goes over all totals that can come.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    /// More is never worse.
    Up,
    /// Less is never worse.
    Down,
    Neither,
}

impl Way {
    fn of(judged: &Judged<'_>, row: usize, span: (i64, i64)) -> Self {
        // A total that is not allowed is worse than any that is.
        let comes: Vec<Option<Comes>> = (span.0..=span.1)
            .map(|total| judged.total(row, total))
            .collect();
        if comes.is_sorted_by(|one, other| no_better(*one, *other)) {
            Self::Up
        } else if comes.is_sorted_by(|one, other| no_better(*other, *one)) {
            Self::Down
        } else {
            Self::Neither
        }
    }
}

/// Leaves out a column beside another of its class that misses the same, is at least as good in every row, and is better by
/// itself, or as good and the first by its items: put in its place, that other makes a week that scores more, or as much
/// and comes first. In a row whose worth goes neither way both must have the same amount, and in one that goes one way the
/// week's total moves that way, so that it is worth no less and misses no more of any held level.
///
/// None where it was cancelled.
fn undominated(
    columns: Vec<Column>,
    ways: &[Way],
    pool: &[(i64, Session)],
    cancel: &Cancel,
) -> Option<Vec<Column>> {
    let session = |column: &Column| pool.get(column.at).map(|(_, session)| session);
    let mut groups: BTreeMap<(usize, [i64; 3], Vec<i64>), Vec<Column>> = BTreeMap::new();
    for column in columns {
        let exact = column.amounts.iter().zip(ways);
        let exact = exact.filter(|(_, way)| **way == Way::Neither);
        let key = (
            column.class,
            session(&column).map_or([0; 3], |held| held.misses),
            exact.map(|(amount, _)| *amount).collect(),
        );
        groups.entry(key).or_default().push(column);
    }
    let mut kept = Vec::new();
    for mut group in groups.into_values() {
        group.sort_by(|a, b| {
            b.score.cmp(&a.score).then_with(|| {
                let items = |column: &Column| session(column).map(|held| held.items.clone());
                items(a).cmp(&items(b))
            })
        });
        let first = kept.len();
        for (at, column) in group.into_iter().enumerate() {
            if at.is_multiple_of(LOOK_UP) && cancel.is_cancelled() {
                return None;
            }
            let rivals = kept.get(first..).unwrap_or(&[]);
            let beaten = rivals.iter().take(MOST_RIVALS).any(|other: &Column| {
                let pairs = other.amounts.iter().zip(&column.amounts).zip(ways);
                pairs.into_iter().all(|((other, mine), way)| match way {
                    Way::Up => other >= mine,
                    Way::Down => other <= mine,
                    Way::Neither => true,
                })
            });
            if !beaten {
                kept.push(column);
            }
        }
    }
    kept.sort_by_key(|column| column.at);
    Some(kept)
}

#[cfg(test)]
mod tests {
    use super::super::stage::{Part, Scale};
    use super::*;
    use crate::plan::model::{Bound, Row};

    /// Two totals that are worth the same and weigh the same, and miss a unit each, but not of one level: where both levels
    /// are held, another day may need either.
    #[test]
    fn totals_that_miss_other_levels_are_told_apart() {
        let bound = |level: usize, at_least: Option<i64>, at_most: Option<i64>| Bound {
            level: Some(level),
            at_least,
            at_most,
            unit: 1,
        };
        let model = Model {
            days: Vec::new(),
            rows: vec![Row {
                name: "row".to_owned(),
                tables: Vec::new(),
                bounds: vec![bound(0, Some(6), None), bound(1, None, Some(5))],
            }],
            presences: Vec::new(),
            two_days: Vec::new(),
            follows: Vec::new(),
        };
        let stage = Stage {
            levels: [Part::Held(1), Part::Held(1), Part::Free],
            scale: Scale::of(0),
        };
        let values: Vec<RowValues> = model
            .rows
            .iter()
            .map(|row| RowValues::of(row, &stage, 5, 6))
            .collect();
        let judged = Judged {
            model: &model,
            stage: &stage,
            own: 1,
            values: &values,
            ends: &[(5, 6)],
            reductions: Reductions::ALL,
        };
        let session = |item: usize, amount: i64| {
            let session = Session {
                items: vec![item],
                score: 0,
                misses: [0; 3],
                amounts: vec![amount],
                waits: Vec::new(),
            };
            (0, session)
        };
        let sessions = [vec![session(0, 5), session(1, 6)]];
        let pools = Pools::of(&judged, &sessions, &Cancel::new());
        let pools =
            pools.map(|pools| (pools.rows.len(), pools.days.iter().map(Vec::len).collect()));
        assert_eq!(pools, Some((1, vec![2])));
    }
}
