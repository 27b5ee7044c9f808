//! The sessions of one day: priced, and listed within a distance of the best.
//!
//! A depth-first walk over the parts. At each point the bound is what is chosen,
//! the best that the rest of this part and the later parts could add under
//! prices for the session's own limits, and what rows of presences could still give.

use crate::graph::Bits;
use crate::plan::model::{CoupleKind, DayModel, Follow, Group, Model, Sums, units};

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
    follows: &'m [Follow],
    presences: &'m [(usize, i64)],
    rows: usize,
    stage: Stage,
    /// Score of each candidate by itself.
    own: Vec<i64>,
    /// The most that being followed within the session could add.
    closer: Vec<i64>,
    /// Candidates that may not stand together.
    conflicts: Vec<Bits>,
    /// Sums whose bounds must hold, one group each.
    hard: Vec<&'m Group>,
    /// Sums that may miss.
    soft: Vec<&'m Sums>,
    /// Candidates that can't be placed in this stage.
    out: Bits,
    least: Vec<usize>,
}

/// Values under multipliers, ready to walk.
struct Priced {
    /// By candidate: score with multipliers, without presences.
    value: Vec<i64>,
    /// By candidate: the same under the prices of the session's limits.
    bound: Vec<i64>,
    /// By slot: candidates by falling bound.
    lists: Vec<Vec<usize>>,
    /// By slot: running sums of bounds.
    sums: Vec<Vec<i64>>,
    /// By slot: how many bounds are above zero.
    positive: Vec<usize>,
    /// By slot: bound of it and all later ones.
    rest: Vec<i64>,
    /// What the prices add whatever is chosen.
    constant: i64,
    /// By presence: what it adds under the multipliers.
    once: Vec<i64>,
    /// By slot: presences that it and later ones can give, those that add something.
    gives: Vec<Vec<usize>>,
}

/// What a walk is after.
pub(super) struct Wanted<'w> {
    /// Sessions of at least this value are kept.
    pub(super) least: i64,
    /// By candidate: how much more than that a session with it must have; empty where none must.
    pub(super) dearer: &'w [i64],
    /// Only the best is wanted: the bar rises with each found.
    pub(super) best_only: bool,
    /// Most points of the walk.
    pub(super) work: u64,
    /// Most sessions kept.
    pub(super) most: usize,
}

/// What a walk found.
pub(super) struct Found {
    /// With their values under the multipliers.
    pub(super) sessions: Vec<(i64, Session)>,
    /// Whether the walk was cut short.
    pub(super) cut: bool,
    pub(super) work: u64,
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
        let mut conflicts = vec![Bits::default(); count];
        for couple in held
            .couples
            .iter()
            .filter(|couple| stage.hard(couple.level))
        {
            if let CoupleKind::Not(pairs) = &couple.kind {
                for (one, others) in pairs.iter().enumerate() {
                    for other in others.iter() {
                        for (a, b) in [(one, other), (other, one)] {
                            if let Some(slot) = conflicts.get_mut(a) {
                                slot.insert(b);
                            }
                        }
                    }
                }
            }
        }
        let (mut hard, mut soft) = (Vec::new(), Vec::new());
        for sums in &held.sums {
            if stage.hard(sums.level) {
                hard.extend(sums.groups.iter());
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
        Self {
            day,
            model: held,
            follows: &model.follows,
            presences: &model.presences,
            rows: model.rows.len(),
            stage,
            own,
            closer,
            conflicts,
            hard,
            soft,
            out,
            least,
        }
    }

    fn prices(&self, value: &[i64], start: &[i64], fixed: &Fixed) -> Vec<i64> {
        // A few steps down the bound's slope; any prices are valid, good ones prune.
        let mut prices = start.to_vec();
        prices.resize(self.hard.len(), 0);
        let mut best = (self.root_bound(value, &prices, fixed).0, prices.clone());
        let scale = value
            .iter()
            .map(|v| v.abs())
            .filter(|v| *v < (1 << 50))
            .max()
            .unwrap_or(0)
            / 64
            + 1;
        for round in 0..14i64 {
            let (_, used) = self.root_bound(value, &prices, fixed);
            for ((price, group), used) in prices.iter_mut().zip(&self.hard).zip(&used) {
                let over = group.at_most.map_or(0, |most| (used - most).max(0));
                let under = group.at_least.map_or(0, |least| (least - used).max(0));
                let size = group.at_most.or(group.at_least).unwrap_or(1).abs().max(1);
                let step = scale / (round + 1);
                let change = (over - under).signum()
                    * (step / size).max(1)
                    * ((over + under) * 4 / size + 1).min(4);
                if over > 0 || under > 0 {
                    *price += change;
                } else {
                    *price -= *price / 4;
                }
                if group.at_most.is_none() {
                    *price = (*price).min(0);
                }
                if group.at_least.is_none() {
                    *price = (*price).max(0);
                }
            }
            let bound = self.root_bound(value, &prices, fixed).0;
            if bound < best.0 {
                best = (bound, prices.clone());
            }
        }
        best.1
    }

    /// Bound of the whole day under prices, and what the choice behind it uses of each limit.
    fn root_bound(&self, value: &[i64], prices: &[i64], fixed: &Fixed) -> (i64, Vec<i64>) {
        let mut total = self.constant(prices);
        let mut used: Vec<i64> = self.hard.iter().map(|group| group.start).collect();
        for (slot, part) in self.model.slots.iter().enumerate() {
            let mut list: Vec<(i64, usize)> = part
                .candidates
                .iter()
                .filter(|at| !self.out.has(**at) && !fixed.lacks.has(**at))
                .map(|at| (self.under(prices, *at, value), *at))
                .collect();
            list.sort_unstable_by(|a, b| b.cmp(a));
            let least = self.least.get(slot).copied().unwrap_or(0);
            for (place, (bound, at)) in list.iter().take(part.at_most).enumerate() {
                if *bound > 0 || place < least {
                    total += bound;
                    for (used, group) in used.iter_mut().zip(&self.hard) {
                        *used += group.amounts.get(*at).copied().unwrap_or(0);
                    }
                }
            }
        }
        (total, used)
    }

    fn under(&self, prices: &[i64], at: usize, value: &[i64]) -> i64 {
        let mut bound =
            value.get(at).copied().unwrap_or(0) + self.closer.get(at).copied().unwrap_or(0);
        for (price, group) in prices
            .iter()
            .zip(&self.hard)
            .filter(|(price, _)| **price != 0)
        {
            bound -= price * group.amounts.get(at).copied().unwrap_or(0);
        }
        bound
    }

    fn constant(&self, prices: &[i64]) -> i64 {
        prices
            .iter()
            .zip(&self.hard)
            .map(|(price, group)| {
                let bound = if *price >= 0 {
                    group.at_most
                } else {
                    group.at_least
                };
                // Nothing chosen uses nothing: a limit below the start leaves room for that alone.
                let room = bound.unwrap_or(0) - group.start;
                price * if *price >= 0 { room.max(0) } else { room }
            })
            .sum()
    }

    fn priced(&self, multipliers: &[i64], prices: &mut Vec<i64>, fixed: &Fixed) -> Priced {
        let value: Vec<i64> = self
            .model
            .candidates
            .iter()
            .zip(&self.own)
            .map(|(candidate, own)| {
                own + candidate
                    .amounts
                    .iter()
                    .map(|(row, amount)| multipliers.get(*row).copied().unwrap_or(0) * amount)
                    .sum::<i64>()
            })
            .collect();
        // Presence groups can't be priced by amounts: one of two counts once.
        *prices = self.prices(&value, prices, fixed);
        for (price, group) in prices.iter_mut().zip(&self.hard) {
            if group.presence && *price > 0 {
                *price = 0;
            }
        }
        let bound: Vec<i64> = (0..value.len())
            .map(|at| self.under(prices, at, &value))
            .collect();
        let mut lists = Vec::new();
        let mut sums = Vec::new();
        let mut positive = Vec::new();
        for part in &self.model.slots {
            let mut list: Vec<usize> = part
                .candidates
                .iter()
                .copied()
                .filter(|at| !self.out.has(*at) && !fixed.lacks.has(*at) && !fixed.has.contains(at))
                .collect();
            list.sort_by_key(|at| (-bound.get(*at).copied().unwrap_or(0), *at));
            let mut running = vec![0i64];
            let mut sum = 0i64;
            for at in &list {
                sum += bound.get(*at).copied().unwrap_or(0);
                running.push(sum);
            }
            positive.push(
                list.iter()
                    .filter(|at| bound.get(**at).copied().unwrap_or(0) > 0)
                    .count(),
            );
            lists.push(list);
            sums.push(running);
        }
        let once: Vec<i64> = self
            .presences
            .iter()
            .map(|(row, amount)| multipliers.get(*row).copied().unwrap_or(0) * amount)
            .collect();
        let mut gives: Vec<Vec<usize>> = vec![Vec::new(); self.model.slots.len() + 1];
        for slot in (0..self.model.slots.len()).rev() {
            let mut rows = gives.get(slot + 1).cloned().unwrap_or_default();
            for at in lists.get(slot).into_iter().flatten() {
                for row in self
                    .model
                    .candidates
                    .get(*at)
                    .into_iter()
                    .flat_map(|held| &held.once)
                {
                    if once.get(*row).copied().unwrap_or(0) > 0 && !rows.contains(row) {
                        rows.push(*row);
                    }
                }
            }
            if let Some(held) = gives.get_mut(slot) {
                *held = rows;
            }
        }
        let constant = self.constant(prices);
        let mut priced = Priced {
            value,
            bound,
            lists,
            sums,
            positive,
            rest: Vec::new(),
            constant,
            once,
            gives,
        };
        let mut rest = vec![0i64; self.model.slots.len() + 1];
        for slot in (0..self.model.slots.len()).rev() {
            let chosen = fixed_in(fixed, self.model, slot);
            let added = self.top(&priced, slot, 0, chosen);
            let later = rest.get(slot + 1).copied().unwrap_or(0);
            if let Some(held) = rest.get_mut(slot) {
                *held = added + later;
            }
        }
        priced.rest = rest;
        priced
    }

    /// The most that a part can still add from a place in its list on, with so many chosen.
    fn top(&self, priced: &Priced, slot: usize, from: usize, chosen: usize) -> i64 {
        let most = self
            .model
            .slots
            .get(slot)
            .map_or(0, |part| part.at_most)
            .saturating_sub(chosen);
        let must = self
            .least
            .get(slot)
            .copied()
            .unwrap_or(0)
            .saturating_sub(chosen);
        let Some(sums) = priced.sums.get(slot) else {
            return 0;
        };
        let positive = priced.positive.get(slot).copied().unwrap_or(0);
        let last = sums.len() - 1;
        let to = (from + most)
            .min(positive.max(from + must))
            .min(last)
            .max(from.min(last));
        sums.get(to).copied().unwrap_or(0) - sums.get(from.min(last)).copied().unwrap_or(0)
    }

    /// Lists or finds sessions under multipliers; `prices` are kept for the next call.
    pub(super) fn walk(
        &self,
        multipliers: &[i64],
        prices: &mut Vec<i64>,
        fixed: &Fixed,
        wanted: Wanted<'_>,
    ) -> Found {
        let priced = self.priced(multipliers, prices, fixed);
        let mut walk = Walk {
            search: self,
            priced: &priced,
            fixed,
            wanted,
            chosen: Vec::new(),
            dearest: Vec::new(),
            exercises: Bits::default(),
            barred: vec![0u16; self.model.candidates.len()],
            used: self.hard.iter().map(|group| group.start).collect(),
            seen: vec![0u16; self.presences.len()],
            value: 0,
            bound: priced.constant,
            found: Found {
                sessions: Vec::new(),
                cut: false,
                work: 0,
            },
            reach: self.reach(&priced),
        };
        for at in &fixed.has {
            if !walk.may_add(*at) {
                return walk.found;
            }
            walk.add(*at);
        }
        walk.slot(0, 0, fixed_in(fixed, self.model, 0));
        walk.found
    }

    /// By slot, by hard sum: the most that this and later slots can add.
    fn reach(&self, priced: &Priced) -> Vec<Vec<i64>> {
        let slots = self.model.slots.len();
        let mut reach = vec![vec![0i64; self.hard.len()]; slots + 1];
        for slot in (0..slots).rev() {
            let most = self.model.slots.get(slot).map_or(0, |part| part.at_most);
            let row: Vec<i64> = self
                .hard
                .iter()
                .enumerate()
                .map(|(place, group)| {
                    let later = reach
                        .get(slot + 1)
                        .and_then(|row| row.get(place))
                        .copied()
                        .unwrap_or(0);
                    if group.at_least.is_none() {
                        return later;
                    }
                    let mut amounts: Vec<i64> = priced
                        .lists
                        .get(slot)
                        .into_iter()
                        .flatten()
                        .filter_map(|at| group.amounts.get(*at).copied())
                        .filter(|amount| *amount > 0)
                        .collect();
                    amounts.sort_unstable_by(|a, b| b.cmp(a));
                    later + amounts.iter().take(most).sum::<i64>()
                })
                .collect();
            if let Some(held) = reach.get_mut(slot) {
                *held = row;
            }
        }
        reach
    }
}

/// How many fixed items stand in a slot.
fn fixed_in(fixed: &Fixed, model: &DayModel, slot: usize) -> usize {
    fixed
        .has
        .iter()
        .filter(|at| {
            model
                .candidates
                .get(**at)
                .is_some_and(|held| held.slot == slot)
        })
        .count()
}

struct Walk<'w, 'm> {
    search: &'w DaySearch<'m>,
    priced: &'w Priced,
    fixed: &'w Fixed,
    wanted: Wanted<'w>,
    chosen: Vec<usize>,
    /// The dearest of what is chosen, item by item.
    dearest: Vec<i64>,
    exercises: Bits,
    /// How many chosen items each candidate may not stand with.
    barred: Vec<u16>,
    used: Vec<i64>,
    /// How many chosen items give each presence.
    seen: Vec<u16>,
    /// Score with multipliers and presences of what is chosen.
    value: i64,
    /// Bound of what is chosen, with the constant.
    bound: i64,
    found: Found,
    reach: Vec<Vec<i64>>,
}

impl Walk<'_, '_> {
    fn may_add(&self, at: usize) -> bool {
        let Some(candidate) = self.search.model.candidates.get(at) else {
            return false;
        };
        !self.exercises.has(candidate.exercise)
            && self.barred.get(at) == Some(&0)
            && self
                .used
                .iter()
                .zip(&self.search.hard)
                .all(|(used, group)| {
                    let amount = group.amounts.get(at).copied().unwrap_or(0);
                    amount == 0
                        || group.at_most.is_none_or(|most| {
                            if group.presence {
                                most > 0
                            } else {
                                used + amount <= most
                            }
                        })
                })
    }

    /// The value that a session with what is chosen must have.
    fn bar(&self) -> i64 {
        self.wanted
            .least
            .saturating_add(self.dearest.last().copied().unwrap_or(0))
    }

    fn add(&mut self, at: usize) {
        self.chosen.push(at);
        let dearest = self.dearest.last().copied().unwrap_or(0);
        let dearer = self.wanted.dearer.get(at).copied().unwrap_or(0);
        self.dearest.push(dearest.max(dearer));
        self.shift(at, 1);
    }

    fn take_off(&mut self) {
        if let Some(at) = self.chosen.pop() {
            self.dearest.pop();
            self.shift(at, -1);
        }
    }

    fn shift(&mut self, at: usize, sign: i64) {
        let Some(candidate) = self.search.model.candidates.get(at) else {
            return;
        };
        if sign > 0 {
            self.exercises.insert(candidate.exercise);
        } else {
            self.exercises.remove(candidate.exercise);
        }
        for other in self
            .search
            .conflicts
            .get(at)
            .into_iter()
            .flat_map(Bits::iter)
        {
            if let Some(slot) = self.barred.get_mut(other) {
                *slot = if sign > 0 {
                    *slot + 1
                } else {
                    slot.saturating_sub(1)
                };
            }
        }
        for (used, group) in self.used.iter_mut().zip(&self.search.hard) {
            *used += sign * group.amounts.get(at).copied().unwrap_or(0);
        }
        self.value += sign * self.priced.value.get(at).copied().unwrap_or(0);
        self.bound += sign * self.priced.bound.get(at).copied().unwrap_or(0);
        for row in &candidate.once {
            if let Some(seen) = self.seen.get_mut(*row) {
                let multiplier = self.priced.once.get(*row).copied().unwrap_or(0);
                if sign > 0 {
                    *seen += 1;
                    if *seen == 1 {
                        self.value += multiplier;
                        self.bound += multiplier;
                    }
                } else {
                    *seen = seen.saturating_sub(1);
                    if *seen == 0 {
                        self.value -= multiplier;
                        self.bound -= multiplier;
                    }
                }
            }
        }
    }

    /// What presences not given yet could add in this and later slots.
    fn presences(&self, slot: usize) -> i64 {
        self.priced
            .gives
            .get(slot)
            .into_iter()
            .flatten()
            .filter(|row| self.seen.get(**row) == Some(&0))
            .map(|row| self.priced.once.get(*row).copied().unwrap_or(0))
            .sum()
    }

    fn reachable(&self, slot: usize) -> bool {
        self.used
            .iter()
            .zip(&self.search.hard)
            .enumerate()
            .all(|(place, (used, group))| {
                group.at_least.is_none_or(|least| {
                    used + self
                        .reach
                        .get(slot)
                        .and_then(|row| row.get(place))
                        .copied()
                        .unwrap_or(0)
                        >= least
                })
            })
    }

    fn slot(&mut self, slot: usize, from: usize, chosen: usize) {
        self.found.work += 1;
        if self.found.work > self.wanted.work || self.found.sessions.len() > self.wanted.most {
            self.found.cut = true;
            return;
        }
        let slots = self.search.model.slots.len();
        if slot == slots {
            self.leaf();
            return;
        }
        let presences = self.presences(slot);
        let rest = self.priced.rest.get(slot + 1).copied().unwrap_or(0);
        let most = self
            .search
            .model
            .slots
            .get(slot)
            .map_or(0, |part| part.at_most);
        let must = self.search.least.get(slot).copied().unwrap_or(0);
        if chosen < most {
            let list = self.priced.lists.get(slot).map_or(&[][..], Vec::as_slice);
            for (place, at) in list.iter().enumerate().skip(from) {
                let here = self.priced.bound.get(*at).copied().unwrap_or(0);
                let more = self.search.top(self.priced, slot, place + 1, chosen + 1);
                if self.bound + here + more + rest + presences < self.bar() {
                    break;
                }
                if !self.may_add(*at) {
                    continue;
                }
                self.add(*at);
                self.slot(slot, place + 1, chosen + 1);
                self.take_off();
                if self.found.cut {
                    return;
                }
            }
        }
        if chosen >= must
            && self.bound + rest + self.presences(slot + 1) >= self.bar()
            && self.reachable(slot + 1)
        {
            let next = fixed_in(self.fixed, self.search.model, slot + 1);
            self.slot(slot + 1, 0, next);
        }
    }

    fn leaf(&mut self) {
        let (sessions, tried) = self.search.sessions(&self.chosen, self.value);
        // Orders are steps of the walk as items are.
        self.found.work += tried;
        for (value, session) in sessions {
            if value < self.bar() {
                continue;
            }
            if self.wanted.best_only {
                self.found.sessions.clear();
                self.wanted.least = value + 1;
            }
            self.found.sessions.push((value, session));
        }
    }
}

impl DaySearch<'_> {
    /// The sessions that a set of items can be, one for each outcome of its orders.
    ///
    /// Says how many orders were tried beside them.
    fn sessions(&self, chosen: &[usize], value: i64) -> (Vec<(i64, Session)>, u64) {
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
                return (Vec::new(), 0);
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
                None if units > 0 => return (Vec::new(), 0),
                None => {}
            }
        }
        if !self.stage.allows(misses) {
            return (Vec::new(), 0);
        }
        let outcomes = Outcomes::of(self.model, self.follows, self.day, chosen);
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
            if !self.stage.allows(all) {
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
        (sessions, outcomes.tried)
    }
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
