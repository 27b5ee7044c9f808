//! A depth-first walk over the parts of a day: the best session, or all within a distance of it.
//!
//! At each point the bound is what is chosen, the best that the rest of this part and the later
//! parts could add under prices for the session's own limits, and what presences could still give.

use crate::base::Cancel;
use crate::graph::Bits;

use super::prices::{Priced, fixed_in};
use super::session::{DaySearch, Fixed, Found, Wanted};

impl DaySearch<'_> {
    /// Lists or finds sessions under multipliers; `limits` are prices kept for the next call.
    pub(super) fn walk(
        &self,
        multipliers: &[i64],
        limits: &mut Vec<i64>,
        fixed: &Fixed,
        wanted: Wanted<'_>,
    ) -> Found {
        if wanted.cancel.is_cancelled() {
            return Found {
                sessions: Vec::new(),
                cut: true,
                work: 0,
                top: i64::MAX / 8,
            };
        }
        let values = self.values(multipliers);
        let stepped = self.stepped(&values, limits, fixed);
        let quick = Wanted {
            work: wanted.work.min(QUICK),
            ..wanted
        };
        let priced = self.priced(&values, &stepped, fixed);
        let first = self.walk_under(&priced, fixed, quick);
        if !first.cut || wanted.work <= QUICK || first.sessions.len() > wanted.most {
            return first;
        }
        // The steps left too much to walk: begin again under the best prices there are.
        let (prices, work) = self.programmed(&values, fixed, wanted.cancel);
        let spent = first.work + work;
        let best = first
            .sessions
            .into_iter()
            .next()
            .filter(|_| wanted.best_only);
        let full = Wanted {
            least: best.as_ref().map_or(wanted.least, |(value, _)| {
                wanted
                    .least
                    .max(value.saturating_add(wanted.near).saturating_add(1))
            }),
            work: wanted.work.saturating_sub(spent),
            ..wanted
        };
        let priced = self.priced(&values, &prices, fixed);
        let mut found = self.walk_under(&priced, fixed, full);
        found.work += spent;
        if found.sessions.is_empty() {
            found.sessions.extend(best);
        }
        let best = found.sessions.iter().map(|(value, _)| *value).max();
        found.top = found.top.max(best.unwrap_or(i64::MIN / 8));
        found
    }

    fn walk_under(&self, priced: &Priced, fixed: &Fixed, wanted: Wanted<'_>) -> Found {
        let mut walk = Walk {
            search: self,
            priced,
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
                top: i64::MIN / 8,
            },
            untried: false,
            reach: self.reach(priced),
            look_up: 0,
        };
        let mut slots = self.model.slots.iter().enumerate();
        if slots.any(|(slot, part)| fixed_in(fixed, self.model, slot) > part.at_most) {
            return walk.found;
        }
        for at in &fixed.has {
            if !walk.may_add(*at) {
                return walk.found;
            }
            walk.add(*at);
        }
        let most = walk.bound + priced.rest.first().copied().unwrap_or(0) + walk.presences(0);
        walk.slot(0, 0, fixed_in(fixed, self.model, 0));
        // Orders that were left out are as good as items that were.
        walk.found.cut |= walk.untried;
        if walk.found.cut {
            // What was not walked is bounded by what the whole day was.
            walk.found.top = walk.found.top.max(most);
        }
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

/// After so many points a walk looks whether it was cancelled.
const LOOK_UP: u64 = 256;

/// Whether a walk that has come so far is to look and finds that it was cancelled; `next` is where it looks next, since
/// some steps take many points at once.
pub(super) fn is_ended(work: u64, next: &mut u64, cancel: &Cancel) -> bool {
    if work < *next {
        return false;
    }
    *next = work + LOOK_UP;
    cancel.is_cancelled()
}

/// Most points of a walk under prices that a few steps have found.
const QUICK: u64 = 1_500;

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
    /// Whether some session has orders that were not tried.
    untried: bool,
    reach: Vec<Vec<i64>>,
    /// The points after which it looks next whether it was cancelled.
    look_up: u64,
}

impl Walk<'_, '_> {
    fn may_add(&self, at: usize) -> bool {
        let Some(candidate) = self.search.model.candidates.get(at) else {
            return false;
        };
        !self.exercises.has(candidate.exercise)
            && self.barred.get(at) == Some(&0)
            && self.search.uses(at).iter().all(|(place, amount)| {
                let Some((used, group)) = self.used.get(*place).zip(self.search.hard.get(*place))
                else {
                    return true;
                };
                group.at_most.is_none_or(|most| {
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
        for (place, amount) in self.search.uses(at) {
            if let Some(used) = self.used.get_mut(*place) {
                *used += sign * amount;
            }
        }
        self.value += sign * self.priced.value.get(at).copied().unwrap_or(0);
        self.bound += sign * self.priced.bound.get(at).copied().unwrap_or(0);
        for row in &candidate.once {
            if let Some(seen) = self.seen.get_mut(*row) {
                let multiplier = self.priced.once.get(*row).copied().unwrap_or(0);
                // The bound of each that gives it holds a share already; it is given once.
                let share = self.priced.shares.get(*row).copied().unwrap_or(0);
                let first = if sign > 0 {
                    *seen += 1;
                    *seen == 1
                } else {
                    *seen = seen.saturating_sub(1);
                    *seen == 0
                };
                if first {
                    self.value += sign * multiplier;
                    self.bound += sign * (multiplier - share);
                } else {
                    self.bound -= sign * share;
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
            .map(|row| {
                let of = |list: &[i64]| list.get(*row).copied().unwrap_or(0);
                of(&self.priced.once) - of(&self.priced.shares)
            })
            .sum()
    }

    fn reachable(&self, slot: usize) -> bool {
        let Some(reach) = self.reach.get(slot) else {
            return false;
        };
        self.search.wanting.iter().all(|place| {
            let group = self.search.hard.get(*place);
            let least = group.and_then(|group| group.at_least).unwrap_or(0);
            let held = |sums: &[i64]| sums.get(*place).copied().unwrap_or(0);
            held(&self.used) + held(reach) >= least
        })
    }

    fn slot(&mut self, slot: usize, from: usize, chosen: usize) {
        self.found.work += 1;
        if self.found.work > self.wanted.work
            || self.found.sessions.len() > self.wanted.most
            || is_ended(self.found.work, &mut self.look_up, self.wanted.cancel)
        {
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
                let most = self.bound + here + more + rest + presences;
                if most < self.bar() {
                    self.found.top = self.found.top.max(most);
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
        if chosen >= must && self.reachable(slot + 1) {
            let most = self.bound + rest + self.presences(slot + 1);
            if most < self.bar() {
                self.found.top = self.found.top.max(most);
                return;
            }
            let next = fixed_in(self.fixed, self.search.model, slot + 1);
            self.slot(slot + 1, 0, next);
        }
    }

    fn leaf(&mut self) {
        let of_set = self.search.sessions(&self.chosen, self.value, self.bar());
        self.untried |= !of_set.all;
        // Orders are steps of the walk as items are.
        self.found.work += of_set.tried;
        self.found.top = self.found.top.max(of_set.top);
        for (value, session) in of_set.sessions {
            self.found.top = self.found.top.max(value);
            if value < self.bar() {
                continue;
            }
            if self.wanted.best_only {
                self.found.sessions.clear();
                self.wanted.least = value.saturating_add(self.wanted.near).saturating_add(1);
            }
            self.found.sessions.push((value, session));
        }
    }
}
