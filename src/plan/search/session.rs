//! The sessions of one day: what a set of items comes to, rule by rule.

use crate::base::Cancel;
use crate::graph::Bits;
use crate::plan::model::{CoupleKind, DayModel, Follow, Group, Model, Precedence, Sums, units};

use super::needs;
use super::node::NOTHING;
use super::ones::ones;
use super::order::Outcomes;
use super::stage::{POINT, Stage};

/// A session as the week sees it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Session {
    /// Candidates in the order in which they stand.
    pub(super) items: Vec<usize>,
    /// Score by itself, what it misses taken off.
    pub(super) score: i64,
    pub(super) misses: [i64; 3],
    /// By row.
    pub(super) amounts: Vec<i64>,
    /// For each follow rule: needs that nothing in the session answers.
    pub(super) waits: Vec<Vec<usize>>,
}

/// What a node of the search fixes on a day.
#[derive(Debug, Clone, Default)]
pub(super) struct Fixed {
    pub(super) has: Vec<usize>,
    pub(super) lacks: Bits,
}

/// One day made ready for a stage.
pub(super) struct DaySearch<'m> {
    pub(super) day: usize,
    pub(super) model: &'m DayModel,
    pub(super) follows: &'m [Follow],
    pub(super) presences: &'m [(usize, i64)],
    pub(super) rows: usize,
    pub(super) stage: Stage,
    /// Score of each candidate by itself.
    pub(super) own: Vec<i64>,
    /// The most that being followed within the session could add.
    pub(super) closer: Vec<i64>,
    /// Candidates that may not stand together.
    pub(super) conflicts: Vec<Bits>,
    /// Sets of candidates of which one may stand at most.
    pub(super) ones: Vec<Bits>,
    /// Sums whose bounds must hold, one group each, and what items need beside them.
    pub(super) hard: Vec<Group>,
    /// By candidate: what it adds to each of those that it touches.
    uses: Vec<Vec<(usize, i64)>>,
    /// Those of them that have a least.
    pub(super) wanting: Vec<usize>,
    /// What the order rules that must hold ask for.
    precedence: Precedence,
    /// By follow rule: needs that must not be left waiting, since no later day can answer them.
    hopeless: Vec<Bits>,
    /// Sums that may miss.
    pub(super) soft: Vec<&'m Sums>,
    /// Candidates that can't be placed in this stage.
    pub(super) out: Bits,
    pub(super) least: Vec<usize>,
}

/// What a walk is after.
#[derive(Clone, Copy)]
pub(super) struct Wanted<'w> {
    /// Sessions of at least this value are kept.
    pub(super) least: i64,
    /// By candidate: how much more than that a session with it must have; empty where none must.
    pub(super) dearer: &'w [i64],
    /// Only the best is wanted: the bar rises with each found.
    pub(super) best_only: bool,
    /// How much a better one must be better by to be looked for.
    pub(super) near: i64,
    /// Most points of the walk.
    pub(super) work: u64,
    /// Most sessions kept.
    pub(super) most: usize,
    /// Ends the walk as if its points were used up.
    pub(super) cancel: &'w Cancel,
}

/// What a walk found.
pub(super) struct Found {
    /// With their values under the multipliers.
    pub(super) sessions: Vec<(i64, Session)>,
    /// Whether the walk was cut short.
    pub(super) cut: bool,
    pub(super) work: u64,
    /// No session is worth more, those passed over included.
    pub(super) top: i64,
}

impl<'m> DaySearch<'m> {
    pub(super) fn new(model: &'m Model, day: usize, held: &'m DayModel, stage: Stage) -> Self {
        let count = held.candidates.len();
        let mut out = Bits::default();
        let mut own = vec![0i64; count];
        for (at, candidate) in held.candidates.iter().enumerate() {
            if !stage.allows(candidate.misses) {
                out.insert(at);
            }
            if let Some(slot) = own.get_mut(at) {
                *slot = candidate.worth * POINT - candidate.tie - stage.weight(candidate.misses);
            }
        }
        let mut closer = vec![0i64; count];
        for follow in &model.follows {
            for (slot, need) in closer
                .iter_mut()
                .zip(follow.needs.get(day).into_iter().flatten())
            {
                *slot += if need.is_some() {
                    follow.closer_by * POINT
                } else {
                    0
                };
            }
        }
        let precedence = Precedence::of(&held.candidates, &held.orders, |level| stage.hard(level));
        let conflicts = conflicts(held, &stage, &precedence);
        let (mut hard, mut soft) = (Vec::new(), Vec::new());
        for sums in &held.sums {
            if stage.hard(sums.level) {
                hard.extend(sums.groups.iter().cloned());
                for (at, extra) in sums.extra.iter().enumerate() {
                    if *extra > 0 {
                        out.insert(at);
                    }
                }
            } else if !stage.free(sums.level) || sums.level.is_some() {
                soft.push(sums);
            }
        }
        let least = held
            .slots
            .iter()
            .map(|slot| {
                let members: Bits = slot.candidates.iter().copied().collect();
                hard.iter()
                    .filter(|group| {
                        !group.presence
                            && group.start == 0
                            && group
                                .amounts
                                .iter()
                                .enumerate()
                                .all(|(at, amount)| *amount == i64::from(members.has(at)))
                    })
                    .filter_map(|group| group.at_least)
                    .max()
                    .map_or(0, |least| usize::try_from(least).unwrap_or(0))
            })
            .collect();
        let hopeless = needs::hopeless(model, day, &stage);
        for (at, beside) in needs::of(held, &model.follows, day, &stage, &hopeless, &precedence) {
            if beside.is_empty() {
                out.insert(at);
            } else {
                hard.push(needs::group(count, at, &beside));
            }
        }
        let mut uses = vec![Vec::new(); count];
        for (place, group) in hard.iter().enumerate() {
            for (uses, amount) in uses.iter_mut().zip(&group.amounts) {
                if *amount != 0 {
                    uses.push((place, *amount));
                }
            }
        }
        let wanting = hard.iter().enumerate();
        let wanting = wanting.filter(|(_, group)| group.at_least.is_some());
        Self {
            uses,
            wanting: wanting.map(|(place, _)| place).collect(),
            precedence,
            hopeless,
            day,
            model: held,
            follows: &model.follows,
            presences: &model.presences,
            rows: model.rows.len(),
            stage,
            own,
            closer,
            ones: ones(held, &conflicts),
            conflicts,
            hard,
            soft,
            out,
            least,
        }
    }
}

/// What a set of items comes to.
pub(super) struct Orders {
    /// One session for each outcome of its orders, with their values.
    pub(super) sessions: Vec<(i64, Session)>,
    /// How many orders were tried.
    pub(super) tried: u64,
    /// Whether those are all.
    pub(super) all: bool,
    /// No session of the set that was passed over unseen is worth more.
    pub(super) top: i64,
}

impl Orders {
    fn none() -> Self {
        Self {
            sessions: Vec::new(),
            tried: 0,
            all: true,
            top: NOTHING,
        }
    }
}

impl DaySearch<'_> {
    /// What a candidate adds to each of the hard sums that it touches.
    pub(super) fn uses(&self, at: usize) -> &[(usize, i64)] {
        self.uses.get(at).map_or(&[], Vec::as_slice)
    }

    /// The sessions that a set of items can be, one for each outcome of its orders; none where no
    /// order could be worth `bar`.
    pub(super) fn sessions(&self, chosen: &[usize], value: i64, bar: i64) -> Orders {
        let closer = chosen.iter().filter_map(|at| self.closer.get(*at));
        let most = value + closer.sum::<i64>();
        let too_low = |top: i64| Orders {
            top,
            ..Orders::none()
        };
        if most < bar {
            return too_low(most);
        }
        let mut misses = [0i64; 3];
        for at in chosen {
            for (slot, units) in misses.iter_mut().zip(
                self.model
                    .candidates
                    .get(*at)
                    .map_or([0; 3], |held| held.misses),
            ) {
                *slot += units;
            }
        }
        let by_itself: i64 = self.stage.weight(misses);
        for group in &self.hard {
            let total = total(group, chosen);
            if group.at_least.is_some_and(|least| total < least)
                || group.at_most.is_some_and(|most| total > most)
            {
                return Orders::none();
            }
        }
        for sums in &self.soft {
            if let Some(slot) = sums.level.and_then(|level| misses.get_mut(level)) {
                *slot += sums.units(chosen);
            }
        }
        for couple in &self.model.couples {
            let units = couple.kind.units(chosen);
            match couple.level.and_then(|level| misses.get_mut(level)) {
                Some(slot) => *slot += units,
                None if units > 0 => return Orders::none(),
                None => {}
            }
        }
        if !self.stage.allows(misses) {
            return Orders::none();
        }
        let most = most + by_itself - self.stage.weight(misses);
        if most < bar {
            return too_low(most);
        }
        let outcomes = Outcomes::of(self.model, &self.precedence, self.follows, self.day, chosen);
        let mut amounts = vec![0i64; self.rows];
        let mut seen = Bits::default();
        for candidate in chosen
            .iter()
            .filter_map(|at| self.model.candidates.get(*at))
        {
            for (row, amount) in &candidate.amounts {
                if let Some(slot) = amounts.get_mut(*row) {
                    *slot += amount;
                }
            }
            for presence in &candidate.once {
                if let Some((row, amount)) = self
                    .presences
                    .get(*presence)
                    .filter(|_| seen.insert(*presence))
                    && let Some(slot) = amounts.get_mut(*row)
                {
                    *slot += amount;
                }
            }
        }
        let own: i64 = chosen
            .iter()
            .filter_map(|at| self.own.get(*at))
            .sum::<i64>()
            + by_itself;
        let mut sessions = Vec::new();
        for outcome in outcomes.found {
            let mut all = misses;
            for (slot, units) in all.iter_mut().zip(outcome.misses) {
                *slot += units;
            }
            let lost = outcome.waits.iter().zip(&self.hopeless);
            let lost = lost
                .flat_map(|(waits, hopeless)| waits.iter().filter(|class| hopeless.has(**class)));
            if !self.stage.allows(all) || lost.count() > 0 {
                continue;
            }
            let weight = self.stage.weight(all);
            let closer = outcome.closer * POINT;
            let session = Session {
                items: outcome.items,
                score: own + closer - weight,
                misses: all,
                amounts: amounts.clone(),
                waits: outcome.waits,
            };
            sessions.push((value + by_itself + closer - weight, session));
        }
        Orders {
            sessions,
            tried: outcomes.tried,
            all: outcomes.all,
            top: NOTHING,
        }
    }
}

/// By candidate, those that can't stand with it: rules say so, or no order has both.
fn conflicts(model: &DayModel, stage: &Stage, precedence: &Precedence) -> Vec<Bits> {
    let count = model.candidates.len();
    let mut conflicts = vec![Bits::default(); count];
    let mut exclude = |one: usize, other: usize| {
        for (a, b) in [(one, other), (other, one)] {
            if let Some(slot) = conflicts.get_mut(a) {
                slot.insert(b);
            }
        }
    };
    for couple in model.couples.iter().filter(|held| stage.hard(held.level)) {
        if let CoupleKind::Not(pairs) = &couple.kind {
            for (one, others) in pairs.iter().enumerate() {
                others.iter().for_each(|other| exclude(one, other));
            }
        }
    }
    for one in 0..count {
        for other in one + 1..count {
            if precedence.excludes(&model.candidates, one, other) {
                exclude(one, other);
            }
        }
    }
    conflicts
}

fn total(group: &Group, chosen: &[usize]) -> i64 {
    if chosen.is_empty() {
        return 0;
    }
    let sum = group.start
        + chosen
            .iter()
            .filter_map(|at| group.amounts.get(*at))
            .sum::<i64>();
    if group.presence { sum.min(1) } else { sum }
}

impl Sums {
    /// Units missed by a session; each sum and each item is a bound of its own.
    pub(crate) fn units(&self, chosen: &[usize]) -> i64 {
        let of_groups: i64 = self
            .groups
            .iter()
            .map(|group| {
                let total = total(group, chosen);
                let below = group.at_least.map_or(0, |least| (least - total).max(0));
                let above = group.at_most.map_or(0, |most| (total - most).max(0));
                units(below + above, self.unit)
            })
            .sum();
        let of_items: i64 = chosen
            .iter()
            .filter_map(|at| self.extra.get(*at))
            .map(|lack| units(*lack, self.unit))
            .sum();
        of_groups + of_items
    }
}

impl CoupleKind {
    /// Units missed by a session.
    pub(crate) fn units(&self, chosen: &[usize]) -> i64 {
        let missed: usize = match self {
            Self::Not(pairs) => chosen
                .iter()
                .filter_map(|at| pairs.get(*at))
                .map(|others| chosen.iter().filter(|other| others.has(**other)).count())
                .sum(),
            Self::Needs(needs) => chosen
                .iter()
                .filter_map(|at| needs.get(*at).and_then(Option::as_ref))
                .filter(|others| !chosen.iter().any(|other| others.has(*other)))
                .count(),
        };
        i64::try_from(missed).unwrap_or(i64::MAX)
    }
}
