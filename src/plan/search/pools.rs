//! Pools of sessions laid out for a search over whole weeks: what tells no two sessions apart is left out.
//!
//! A row whose totals are all worth the same, whatever the pools' sessions, can't decide; nor can
//! a key of a two-day rule that no other day's pool can meet. Of sessions that nothing left can
//! tell apart only the best is kept.

use std::collections::BTreeMap;

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

/// All that still tells sessions of a day apart: amounts of active rows, units missed, marks.
type Traits = (Vec<i64>, [i64; 3], Vec<Mark>);

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
    /// None where the rows leave nothing.
    pub(super) fn of(
        model: &'p Model,
        stage: &Stage,
        values: &'p [RowValues],
        ends: &[(i64, i64)],
        sessions: &'p [Vec<(i64, Session)>],
    ) -> Option<Self> {
        if sessions.iter().any(Vec::is_empty) {
            return None;
        }
        let mut rows = Vec::new();
        let mut spans = Vec::new();
        let mut constant = 0i64;
        for (row, (values, ends)) in values.iter().zip(ends).enumerate() {
            let (mut low, mut high) = (0i64, 0i64);
            for pool in sessions {
                let of_row = pool.iter().filter_map(|(_, held)| held.amounts.get(row));
                low += of_row.clone().min()?;
                high += of_row.max()?;
            }
            let first = if low >= ends.0 {
                values.value(low)
            } else {
                None
            };
            let same = (low..=high).all(|total| {
                let value = values
                    .value(total)
                    .filter(|_| total >= ends.0 && total <= ends.1);
                value.is_some() && value == first
            });
            if same {
                constant = constant.saturating_add(first?);
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
            .map(|(row, span)| Way::of(row, *span))
            .collect();
        let marks = marks(model, stage, sessions);
        let mut days = Vec::new();
        let mut known: Vec<Vec<Vec<Mark>>> = Vec::new();
        for (pool, marks) in sessions.iter().zip(&marks) {
            let mut best: BTreeMap<Traits, usize> = BTreeMap::new();
            for (at, ((_, session), marks)) in pool.iter().zip(marks).enumerate() {
                let amounts = rows
                    .iter()
                    .map(|row| session.amounts.get(row.row).copied().unwrap_or(0))
                    .collect();
                let held = best
                    .entry((amounts, session.misses, marks.clone()))
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
            for ((amounts, _, marks), at) in best {
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
            days.push(undominated(columns, &ways, pool));
            known.push(classes);
        }
        let classes = known.iter().map(Vec::len).collect();
        let apart = apart(model, stage, &known);
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
    fn of(row: &ActiveRow<'_>, span: (i64, i64)) -> Self {
        // A total that is not allowed is worse than any that is.
        let values: Vec<Option<i64>> = (span.0..=span.1)
            .map(|total| {
                let within = total >= row.ends.0 && total <= row.ends.1;
                row.values.value(total).filter(|_| within)
            })
            .collect();
        if values.is_sorted() {
            Self::Up
        } else if values.iter().rev().is_sorted() {
            Self::Down
        } else {
            Self::Neither
        }
    }
}

/// Leaves out a column beside another of its class that is at least as good in every row and
/// better by itself: put in its place, that other only makes a week better.
fn undominated(columns: Vec<Column>, ways: &[Way], pool: &[(i64, Session)]) -> Vec<Column> {
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
        for column in group {
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
    kept
}
