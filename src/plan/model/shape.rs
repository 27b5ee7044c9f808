//! The compiled shape that the search works on.

use crate::graph::Bits;
use crate::infer::table_value;
use crate::rules::vocab::Table;

/// More than any worth that the search takes, and little enough to be added up.
const FARTHEST: i128 = 1 << 60;

/// The level on which a rule gives way; none for a hard rule.
pub(crate) type Level = Option<usize>;

/// All that the search knows of a case.
#[derive(Debug, Clone)]
pub(crate) struct Model {
    pub(crate) days: Vec<DayModel>,
    pub(crate) rows: Vec<Row>,
    /// Row and amount that a presence adds to a session.
    pub(crate) presences: Vec<(usize, i64)>,
    pub(crate) two_days: Vec<TwoDays>,
    pub(crate) follows: Vec<Follow>,
}

/// One day with its candidates, by index of the pool.
#[derive(Debug, Clone)]
pub(crate) struct DayModel {
    pub(crate) candidates: Vec<Candidate>,
    pub(crate) slots: Vec<SlotModel>,
    pub(crate) sums: Vec<Sums>,
    pub(crate) couples: Vec<Couple>,
    pub(crate) orders: Vec<Order>,
}

/// A part of the session: its candidates and the most that it takes.
#[derive(Debug, Clone)]
pub(crate) struct SlotModel {
    pub(crate) candidates: Vec<usize>,
    pub(crate) at_most: usize,
}

/// A candidate in numbers.
#[derive(Debug, Clone)]
pub(crate) struct Candidate {
    pub(crate) exercise: usize,
    pub(crate) slot: usize,
    /// Skills, for rules about a shared one.
    pub(crate) skills: Bits,
    /// Worth by itself.
    pub(crate) worth: i64,
    /// Its share of the tie measure.
    pub(crate) tie: i64,
    /// What it adds to rows.
    pub(crate) amounts: Vec<(usize, i64)>,
    /// Presences that it gives to its session, each once however many such items there are.
    pub(crate) once: Vec<usize>,
    /// Units missed by placing it at all.
    pub(crate) misses: [i64; 3],
}

#[cfg(test)]
impl Candidate {
    /// One that counts for nothing.
    pub(crate) fn plain(exercise: usize, slot: usize) -> Self {
        Self {
            exercise,
            slot,
            skills: Bits::default(),
            worth: 0,
            tie: 0,
            amounts: Vec::new(),
            once: Vec::new(),
            misses: [0; 3],
        }
    }
}

/// A rule that adds up amounts over the items of a session.
#[derive(Debug, Clone)]
pub(crate) struct Sums {
    /// The rule's id; of a layout's own bounds the part's.
    pub(crate) rule: String,
    pub(crate) level: Level,
    pub(crate) groups: Vec<Group>,
    /// What each candidate lacks by itself.
    pub(crate) extra: Vec<i64>,
    /// Lack that makes one unit missed.
    pub(crate) unit: i64,
}

/// One sum of a session with its bounds.
#[derive(Debug, Clone)]
pub(crate) struct Group {
    /// By candidate; 0 for most.
    pub(crate) amounts: Vec<i64>,
    pub(crate) at_least: Option<i64>,
    pub(crate) at_most: Option<i64>,
    /// Added once there is any item.
    pub(crate) start: i64,
    /// Whether only presence counts: the sum is cut to 1.
    pub(crate) presence: bool,
}

/// A rule about two items of a session.
#[derive(Debug, Clone)]
pub(crate) struct Couple {
    /// The rule's id.
    pub(crate) rule: String,
    pub(crate) level: Level,
    pub(crate) kind: CoupleKind,
}

/// What a couple rule asks.
#[derive(Debug, Clone)]
pub(crate) enum CoupleKind {
    /// Each pair in the relation is one unit missed: for each candidate, the others it may not stand with.
    Not(Vec<Bits>),
    /// Each candidate with a list is one unit missed unless one of the list stands with it.
    Needs(Vec<Option<Bits>>),
}

/// A rule about the order of a session.
#[derive(Debug, Clone)]
pub(crate) struct Order {
    /// The rule's id.
    pub(crate) rule: String,
    pub(crate) level: Level,
    pub(crate) kind: OrderKind,
}

/// What an order rule asks; sets of candidates.
#[derive(Debug, Clone)]
pub(crate) enum OrderKind {
    /// For each candidate, those that must not stand before it.
    Before(Vec<Bits>),
    /// `what` first in the session, or in its part.
    First { what: Bits, part: bool },
    /// `what` last in the session, or in its part.
    Last { what: Bits, part: bool },
    /// For each candidate of the rule, those of which one must be next.
    Next(Vec<Option<Bits>>),
    /// For each candidate of the rule, those of which one must be previous.
    Previous(Vec<Option<Bits>>),
}

/// A sum over the week.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    /// The rule that asked for it first.
    pub(crate) name: String,
    /// Tables of worth with what they are multiplied by and where they start.
    pub(crate) tables: Vec<(Table, i64, i64)>,
    pub(crate) bounds: Vec<Bound>,
}

/// A bound on a row.
#[derive(Debug, Clone)]
pub(crate) struct Bound {
    pub(crate) level: Level,
    pub(crate) at_least: Option<i64>,
    pub(crate) at_most: Option<i64>,
    /// Lack that makes one unit missed.
    pub(crate) unit: i64,
}

/// A rule about the same thing on two days.
#[derive(Debug, Clone)]
pub(crate) struct TwoDays {
    /// The rule's id.
    pub(crate) rule: String,
    pub(crate) level: Level,
    pub(crate) kind: TwoDaysKind,
}

/// What a two-day rule asks.
#[derive(Debug, Clone)]
pub(crate) enum TwoDaysKind {
    /// By day, by candidate: keys that it has as `what`, and as `from`; a pair of days in `near`
    /// (ordered: `what` day, `from` day) that share a key is one unit missed.
    Apart {
        what: Vec<Vec<Bits>>,
        from: Vec<Vec<Bits>>,
        near: Vec<(usize, usize)>,
    },
    /// By day: candidates of the rule; shared exercises above the bound are missed.
    Differ { what: Vec<Bits>, at_most: i64 },
    /// By day: candidates of the rule; items of one exercise outside the range are missed.
    Repeat {
        what: Vec<Bits>,
        at_least: i64,
        at_most: i64,
    },
}

/// What must be followed by something freer.
#[derive(Debug, Clone)]
pub(crate) struct Follow {
    /// The rule's id.
    pub(crate) rule: String,
    pub(crate) level: Level,
    /// Whether a later day will do.
    pub(crate) week: bool,
    /// Worth of being followed within the session.
    pub(crate) closer_by: i64,
    /// By day, by candidate: what it waits for; none if the rule doesn't speak of it.
    pub(crate) needs: Vec<Vec<Option<Need>>>,
    /// By day, by candidate: the needs that it answers.
    pub(crate) gives: Vec<Vec<Bits>>,
}

/// What an item waits for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Need {
    /// It is followed within its own complex.
    Met,
    /// A class of needs.
    Class(usize),
}

impl Row {
    /// Worth of a total, exact up to [`FARTHEST`] either way; what lies beyond stays there, and the
    /// search refuses it.
    pub(crate) fn worth(&self, total: i64) -> i64 {
        let worth: i128 = self
            .tables
            .iter()
            .map(|(table, times, start)| {
                i128::from(*times) * i128::from(table_value(table, total - start))
            })
            .sum();
        i64::try_from(worth.clamp(-FARTHEST, FARTHEST)).unwrap_or(0)
    }

    /// Units missed by level at a total, and whether the hard bounds hold.
    pub(crate) fn misses(&self, total: i64) -> ([i64; 3], bool) {
        let (mut missed, mut held) = ([0; 3], true);
        for bound in &self.bounds {
            let units = bound.units(total);
            match bound.level.and_then(|level| missed.get_mut(level)) {
                Some(slot) => *slot += units,
                None => held &= units == 0,
            }
        }
        (missed, held)
    }
}

impl Bound {
    /// Units missed at a total.
    pub(crate) fn units(&self, total: i64) -> i64 {
        let below = self.at_least.map_or(0, |least| (least - total).max(0));
        let above = self.at_most.map_or(0, |most| (total - most).max(0));
        units(below + above, self.unit)
    }
}

/// A lack in started units.
pub(crate) fn units(lack: i64, unit: i64) -> i64 {
    let unit = unit.max(1);
    (lack + unit - 1) / unit
}
