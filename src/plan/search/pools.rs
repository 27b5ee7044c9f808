//! Pools of sessions laid out for a search over whole weeks: what tells no two sessions apart is left out.
//!
//! A row whose totals are all worth the same, whatever the pools' sessions, can't decide; nor can
//! a key of a two-day rule that no other day's pool can meet. Of sessions that nothing left can
//! tell apart only the best is kept.

use std::collections::{BTreeMap, BTreeSet};

use crate::graph::Bits;
use crate::plan::model::{Model, TwoDaysKind};

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

/// What a two-day rule can see of a session: kind, rule, and the key, exercise or class.
type Mark = (Seen, usize, usize);

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Seen {
    What,
    From,
    Shared,
    Counted,
    Gives,
    Waits,
}

/// All that still tells sessions of a day apart: amounts of active rows, units missed, marks.
type Traits = (Vec<i64>, [i64; 3], Vec<Mark>);

/// Columns of a class that one is held against.
const MOST_RIVALS: usize = 200;
/// More pairs of classes than are told apart beforehand; a walk finds out about the others.
const MOST_PAIRS: usize = 100_000;

/// Pools made ready.
pub(super) struct Pools<'p> {
    pub(super) model: &'p Model,
    pub(super) sessions: &'p [Vec<(i64, Session)>],
    pub(super) days: Vec<Vec<Column>>,
    pub(super) rows: Vec<ActiveRow<'p>>,
    /// What the rows that can't decide are worth.
    pub(super) constant: i64,
    /// By day: whether each class of it may stand with each class of each other day.
    fits: Vec<Vec<Vec<Bits>>>,
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
        let fits = fits(model, stage, &known);
        Some(Self {
            model,
            sessions,
            days,
            rows,
            constant,
            fits,
            classes,
        })
    }

    pub(super) fn session(&self, day: usize, column: usize) -> Option<&'p Session> {
        let at = self.days.get(day)?.get(column)?.at;
        self.sessions.get(day)?.get(at).map(|(_, session)| session)
    }

    /// The classes of another day that may stand with a class of a day; none where all may.
    pub(super) fn beside(&self, day: usize, class: usize, other: usize) -> Option<&Bits> {
        self.fits.get(day)?.get(other)?.get(class)
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

/// By day, by session: the marks that can still matter.
fn marks(model: &Model, stage: &Stage, sessions: &[Vec<(i64, Session)>]) -> Vec<Vec<Vec<Mark>>> {
    let of_items: Vec<Vec<Vec<Mark>>> = (0..sessions.len())
        .map(|day| seen(model, stage, day))
        .collect();
    let waits: Vec<usize> = model
        .follows
        .iter()
        .enumerate()
        .filter(|(_, follow)| !stage.free(follow.level))
        .map(|(at, _)| at)
        .collect();
    let waiting = |session: &Session| -> Vec<Mark> {
        waits
            .iter()
            .flat_map(|at| {
                let classes = session.waits.get(*at).into_iter().flatten();
                classes.map(|class| (Seen::Waits, *at, *class))
            })
            .collect()
    };
    let mut held: Vec<BTreeSet<Mark>> = Vec::new();
    for (pool, of_items) in sessions.iter().zip(&of_items) {
        let mut placed = Bits::default();
        let mut all = BTreeSet::new();
        for (_, session) in pool {
            for item in &session.items {
                placed.insert(*item);
            }
            all.extend(waiting(session));
        }
        all.extend(
            placed
                .iter()
                .filter_map(|item| of_items.get(item))
                .flatten(),
        );
        held.push(all);
    }
    let has = |day: usize, mark: Mark| held.get(day).is_some_and(|held| held.contains(&mark));
    let matters = |day: usize, (kind, rule, key): &Mark| -> bool {
        match kind {
            Seen::What | Seen::From => {
                let Some(TwoDaysKind::Apart { near, .. }) =
                    model.two_days.get(*rule).map(|held| &held.kind)
                else {
                    return true;
                };
                near.iter().any(|(one, other)| match kind {
                    Seen::What => *one == day && has(*other, (Seen::From, *rule, *key)),
                    _ => *other == day && has(*one, (Seen::What, *rule, *key)),
                })
            }
            Seen::Shared => (0..held.len())
                .filter(|other| *other != day)
                .any(|other| has(other, (Seen::Shared, *rule, *key))),
            Seen::Counted => {
                let days = (0..held.len()).filter(|day| has(*day, (*kind, *rule, *key)));
                let most = match model.two_days.get(*rule).map(|held| &held.kind) {
                    Some(TwoDaysKind::Repeat { at_most, .. }) => *at_most,
                    _ => 0,
                };
                i64::try_from(days.count()).unwrap_or(i64::MAX) > most
            }
            Seen::Gives => (0..day).any(|other| has(other, (Seen::Waits, *rule, *key))),
            Seen::Waits => true,
        }
    };
    let mut all = Vec::new();
    for (day, (pool, of_items)) in sessions.iter().zip(of_items).enumerate() {
        let kept: Vec<Vec<Mark>> = of_items
            .into_iter()
            .map(|mut marks| {
                marks.retain(|mark| matters(day, mark));
                marks
            })
            .collect();
        let of_day = pool.iter().map(|(_, session)| {
            let items = session.items.iter().filter_map(|item| kept.get(*item));
            let mut marks: Vec<Mark> = items.flatten().copied().collect();
            marks.sort_unstable();
            // A key is seen once however many items bear it; what waits is counted.
            marks.dedup();
            marks.extend(waiting(session));
            marks
        });
        all.push(of_day.collect());
    }
    all
}

/// Everything that two-day rules of the stage see of a day's candidates; the days of an exercise
/// that must come several times or not at all are told by its row.
fn seen(model: &Model, stage: &Stage, day: usize) -> Vec<Vec<Mark>> {
    let Some(held) = model.days.get(day) else {
        return Vec::new();
    };
    let mut marks = vec![Vec::new(); held.candidates.len()];
    for (at, rule) in model.two_days.iter().enumerate() {
        if stage.free(rule.level) {
            continue;
        }
        match &rule.kind {
            TwoDaysKind::Apart { what, from, .. } => {
                for (kind, keys) in [(Seen::What, what), (Seen::From, from)] {
                    for (marks, keys) in marks.iter_mut().zip(keys.get(day).into_iter().flatten()) {
                        marks.extend(keys.iter().map(|key| (kind, at, key)));
                    }
                }
            }
            TwoDaysKind::Differ { what, .. } | TwoDaysKind::Repeat { what, .. } => {
                let kind = match rule.kind {
                    TwoDaysKind::Differ { .. } => Seen::Shared,
                    _ => Seen::Counted,
                };
                for item in what.get(day).into_iter().flat_map(Bits::iter) {
                    if let (Some(marks), Some(candidate)) =
                        (marks.get_mut(item), held.candidates.get(item))
                    {
                        marks.push((kind, at, candidate.exercise));
                    }
                }
            }
        }
    }
    for (at, follow) in model.follows.iter().enumerate() {
        if stage.free(follow.level) {
            continue;
        }
        for (marks, classes) in marks
            .iter_mut()
            .zip(follow.gives.get(day).into_iter().flatten())
        {
            marks.extend(classes.iter().map(|class| (Seen::Gives, at, class)));
        }
    }
    marks
}

/// By day, by other day, by class: the other's classes that hard rules let stand with it.
fn fits(model: &Model, stage: &Stage, known: &[Vec<Vec<Mark>>]) -> Vec<Vec<Vec<Bits>>> {
    let days = known.len();
    let mut fits = vec![vec![Vec::new(); days]; days];
    for one in 0..days {
        for other in one + 1..days {
            let rules: Vec<usize> = speaking(model, stage, one, other);
            if rules.is_empty() {
                continue;
            }
            let (Some(left), Some(right)) = (known.get(one), known.get(other)) else {
                continue;
            };
            if left.len().saturating_mul(right.len()) > MOST_PAIRS {
                continue;
            }
            let mut to = vec![Bits::default(); left.len()];
            let mut back = vec![Bits::default(); right.len()];
            for (a, (marks, to)) in left.iter().zip(&mut to).enumerate() {
                for (b, (others, back)) in right.iter().zip(&mut back).enumerate() {
                    let free = rules
                        .iter()
                        .all(|rule| stands(model, *rule, (one, marks), (other, others)));
                    if free {
                        to.insert(b);
                        back.insert(a);
                    }
                }
            }
            if let Some(slot) = fits.get_mut(one).and_then(|row| row.get_mut(other)) {
                *slot = to;
            }
            if let Some(slot) = fits.get_mut(other).and_then(|row| row.get_mut(one)) {
                *slot = back;
            }
        }
    }
    fits
}

/// Hard rules about just these two days.
fn speaking(model: &Model, stage: &Stage, one: usize, other: usize) -> Vec<usize> {
    model
        .two_days
        .iter()
        .enumerate()
        .filter(|(_, rule)| stage.hard(rule.level))
        .filter(|(_, rule)| match &rule.kind {
            TwoDaysKind::Apart { near, .. } => near
                .iter()
                .any(|pair| *pair == (one, other) || *pair == (other, one)),
            TwoDaysKind::Differ { .. } => true,
            TwoDaysKind::Repeat { .. } => false,
        })
        .map(|(at, _)| at)
        .collect()
}

/// Whether one rule lets two classes stand on their days.
fn stands(model: &Model, rule: usize, one: (usize, &[Mark]), other: (usize, &[Mark])) -> bool {
    let meets = |left: &[Mark], right: &[Mark], kinds: (Seen, Seen)| -> usize {
        left.iter()
            .filter(|(kind, at, key)| {
                *kind == kinds.0
                    && *at == rule
                    && right.binary_search(&(kinds.1, rule, *key)).is_ok()
            })
            .count()
    };
    match model.two_days.get(rule).map(|held| &held.kind) {
        Some(TwoDaysKind::Apart { near, .. }) => near.iter().all(|pair| {
            if *pair == (one.0, other.0) {
                meets(one.1, other.1, (Seen::What, Seen::From)) == 0
            } else if *pair == (other.0, one.0) {
                meets(other.1, one.1, (Seen::What, Seen::From)) == 0
            } else {
                true
            }
        }),
        Some(TwoDaysKind::Differ { at_most, .. }) => {
            let shared = meets(one.1, other.1, (Seen::Shared, Seen::Shared));
            i64::try_from(shared).unwrap_or(i64::MAX) <= *at_most
        }
        _ => true,
    }
}
