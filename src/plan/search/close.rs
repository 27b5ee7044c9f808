//! The weeks of a node that are near its bound: pools are listed, then searched.

use std::rc::Rc;

use crate::plan::model::Model;

use super::node::{NEAR, Node, Relaxation, Relaxed};
use super::pooled::Pooled;
use super::pools::{Judged, Pools};
use super::rows::{RowValues, TOO_DEAR, partners};
use super::session::{DaySearch, Fixed, Session, Wanted};
use super::solver::{Solver, target};
use super::stage::{POINT, Stage};
use super::whole::Found;

/// Most sessions of one day in a pool.
const POOL: usize = 100_000;
/// Most points of the walk that lists one; the second is tried once items are known to be dear.
pub(super) const LISTING: (u64, u64) = (20_000, 1_000_000);
/// Later lists may take half of this after one in vain and twice after one that was made: from
/// here, to here.
const LISTING_LATER: (u64, u64) = (60_000, 300_000);
/// Most points of a walk that asks how dear an item is, and what it costs to begin one.
const PROBE: (u64, u64) = (10_000, 200);
/// Most points of one search over pools, and of one over pools that hold all that can matter.
const WEEKS: u64 = 2_000_000;
const ALL_WEEKS: u64 = 8_000_000;
/// Most points of a search that only looks for a better week.
const BETTER: u64 = 60_000;
/// How many sessions of each day's list a relaxation that was not settled learns from it.
const TAUGHT: usize = 40;
/// How far from the bound weeks are looked for first.
const FIRST_GAP: i64 = 150 * POINT;

/// By day: sessions with their values.
type Listed = Vec<Vec<(i64, Session)>>;

/// A node with what its relaxation says.
struct Near<'n> {
    node: &'n Node,
    relaxed: &'n Relaxed,
    days: &'n [DaySearch<'n>],
    rows: &'n [RowValues],
}

impl Solver {
    /// Looks at the weeks of a node that are near its bound; none where nothing in it can still
    /// matter, else a bound for what is left.
    pub(super) fn close(
        &mut self,
        node: &Node,
        relaxed: &Relaxed,
        days: &[DaySearch<'_>],
        rows: &[RowValues],
        best: &mut Option<Found>,
    ) -> Option<i64> {
        let near = Near {
            node,
            relaxed,
            days,
            rows,
        };
        if best.is_none() {
            // What the relaxation is made of often makes a week.
            let known: Listed = (0..days.len())
                .map(|day| self.known_within(node, day))
                .collect();
            let lowest = target(&self.stage, None);
            self.look(&near, &known, lowest, BETTER, best);
        }
        let mut bound = relaxed.bound;
        let mut step = FIRST_GAP;
        let mut last: Option<(Listed, i64)> = None;
        let mut again = true;
        self.advice = None;
        loop {
            let target = target(&self.stage, best.as_ref());
            if bound < target || self.good_enough(relaxed.bound, best.as_ref()) {
                return None;
            }
            // What would be left over is listed along with the rest.
            let least = bound.saturating_sub(step);
            let least = if least.saturating_sub(target) < step / 4 {
                target
            } else {
                least
            };
            // What a session loses is measured from the bound of its own multipliers.
            let gap = relaxed.own.saturating_sub(least);
            let before = self.spent();
            let Some(pools) = self.list(&near, gap) else {
                if again && last.is_some() && step > FIRST_GAP {
                    // Too far at once; part of it may do.
                    again = false;
                    step = (step / 4).max(FIRST_GAP);
                    continue;
                }
                if let Some((pools, gap)) = last {
                    self.ask(&near, &pools, gap);
                }
                return Some(bound);
            };
            let listed = self.spent().saturating_sub(before);
            // Where the pools hold all that can still matter, splitting would only list them again.
            let work = if least <= target { ALL_WEEKS } else { WEEKS };
            if !self.look(&near, &pools, least, work, best) {
                self.ask(&near, &pools, gap);
                return Some(bound);
            }
            if least <= target {
                return None;
            }
            if best.as_ref().is_none_or(|best| best.score < least) {
                // Any better week of these pools tells how far to look.
                self.look(&near, &pools, target, BETTER, best);
            }
            // Every week that scores at least so much was looked at.
            bound = least - 1;
            if !relaxed.settled && self.teach(&pools) {
                // With what was listed the relaxation may say much more.
                match self.relax(node, days, rows, target) {
                    Relaxation::Bounded(mut again) => {
                        again.settled = true;
                        again.bound = again.bound.min(bound);
                        return self.close(node, &again, days, rows, best);
                    }
                    Relaxation::Empty => return None,
                    Relaxation::Stopped => {}
                }
            }
            last = Some((pools, gap));
            // Lists grow several times with each step.
            if listed.saturating_mul(6) <= self.listing {
                step = step.saturating_mul(2);
            } else if listed.saturating_mul(2) > self.listing {
                step = (step / 2).max(FIRST_GAP);
            }
        }
    }

    /// Keeps the best sessions of each pool; says whether any is new.
    fn teach(&mut self, pools: &Listed) -> bool {
        let mut new = false;
        for (day, listed) in pools.iter().enumerate() {
            let mut best: Vec<&(i64, Session)> = listed.iter().collect();
            best.sort_by_key(|(value, _)| std::cmp::Reverse(*value));
            for (_, session) in best.into_iter().take(TAUGHT) {
                new |= self.know(day, session.clone());
            }
        }
        new
    }

    /// Whether nothing better is asked for than the week in hand.
    fn good_enough(&self, bound: i64, best: Option<&Found>) -> bool {
        best.zip(self.enough(bound))
            .is_some_and(|(best, enough)| best.score >= enough)
    }

    /// A score with which a search may end; none where only the best will do.
    fn enough(&self, bound: i64) -> Option<i64> {
        if self.any {
            return Some(self.stage.lowest(0));
        }
        self.stage.least()?;
        let units = self.stage.least_units(bound).max(self.fewest);
        Some(self.stage.lowest(units))
    }

    /// Searches pools for weeks of at least a score; false if the work was used up or it was cancelled.
    fn look(
        &mut self,
        near: &Near<'_>,
        sessions: &[Vec<(i64, Session)>],
        least: i64,
        work: u64,
        best: &mut Option<Found>,
    ) -> bool {
        if self.cancel.is_cancelled() {
            return false;
        }
        let model = Rc::clone(&self.model);
        let stage = self.stage;
        let listed: usize = sessions.iter().map(Vec::len).sum();
        self.spend(listed as u64);
        let Some(mut search) = self.over(near, &model, &stage, sessions) else {
            return !self.cancel.is_cancelled();
        };
        search.least = least;
        search.most = work.min(self.left());
        search.enough = self.enough(near.relaxed.bound);
        search.best = best.take();
        let complete = search.search(&near.relaxed.multipliers);
        *best = search.best.take();
        let work = search.work;
        self.spend(work);
        complete
    }

    /// A search over pools of a node; none where the rows leave nothing, or where it was cancelled.
    fn over<'p>(
        &self,
        near: &Near<'p>,
        model: &'p Model,
        stage: &'p Stage,
        sessions: &'p [Vec<(i64, Session)>],
    ) -> Option<Pooled<'p, 'p>> {
        let (rows, ends) = (near.rows, near.node.ends.as_slice());
        let judged = Judged {
            model,
            stage,
            own: self.own_rows,
            values: rows,
            ends,
            reductions: self.reductions,
        };
        let pools = Pools::of(&judged, sessions, &self.cancel)?;
        let mut search = Pooled::new(pools, stage, self.own_rows, rows, ends, &self.twices);
        search.cancel = self.cancel.clone();
        search.reductions = self.reductions;
        search.most = self.left();
        Some(search)
    }

    /// Where to split, as far as pools can tell.
    fn ask(&mut self, near: &Near<'_>, sessions: &[Vec<(i64, Session)>], gap: i64) {
        if self.cancel.is_cancelled() {
            return;
        }
        let model = Rc::clone(&self.model);
        let stage = self.stage;
        let Some(mut search) = self.over(near, &model, &stage, sessions) else {
            return;
        };
        self.advice = search.advise(&near.relaxed.multipliers, gap);
        let work = search.work;
        self.spend(work);
    }

    fn known_within(&self, node: &Node, day: usize) -> Vec<(i64, Session)> {
        self.known
            .get(day)
            .into_iter()
            .flatten()
            .filter(|session| node.takes(day, session))
            .map(|session| (session.score, session.clone()))
            .collect()
    }

    /// By day, the sessions within a gap of the day's best; none where they are too many to list.
    fn list(&mut self, near: &Near<'_>, gap: i64) -> Option<Listed> {
        let nothing = vec![Vec::new(); near.days.len()];
        if let Some(pools) = self.list_with(near, gap, &near.node.days, &nothing, LISTING.0) {
            return Some(pools);
        }
        if self.cancel.is_cancelled() {
            return None;
        }
        let dear = if self.reductions.losses {
            self.dear(near, gap)
        } else {
            nothing
        };
        let mut fixed = near.node.days.clone();
        for (fixed, dear) in fixed.iter_mut().zip(&dear) {
            for (at, _) in dear.iter().enumerate().filter(|(_, dear)| **dear > gap) {
                fixed.lacks.insert(at);
            }
        }
        let pools = self.list_with(near, gap, &fixed, &dear, self.listing);
        let usual = self.listing.min(LISTING_LATER.1);
        self.listing = match pools {
            Some(_) => usual * 2,
            None => (usual / 2).max(LISTING_LATER.0),
        };
        pools
    }

    fn list_with(
        &mut self,
        near: &Near<'_>,
        gap: i64,
        fixed: &[Fixed],
        dear: &[Vec<i64>],
        work: u64,
    ) -> Option<Listed> {
        let mut pools: Listed = vec![Vec::new(); near.days.len()];
        // The day that took the most last time first: where it is too long now, the others need not be listed.
        let mut order: Vec<usize> = (0..near.days.len()).collect();
        order.sort_by_key(|day| *day != self.longest);
        let mut most = 0;
        for day in order {
            let search = near.days.get(day)?;
            let top = near.relaxed.tops.get(day).copied().unwrap_or(0);
            let wanted = Wanted {
                least: top.saturating_sub(gap),
                dearer: dear.get(day).map_or(&[], Vec::as_slice),
                best_only: false,
                near: 0,
                work: self.left().min(work),
                most: POOL,
                cancel: &self.cancel.clone(),
            };
            let mut prices = self.prices.get(day).cloned().unwrap_or_default();
            let multipliers = &near.relaxed.multipliers;
            let found = search.walk(multipliers, &mut prices, fixed.get(day)?, wanted);
            self.spend(found.work);
            if found.work > most {
                most = found.work;
                self.longest = day;
            }
            if found.cut {
                self.longest = day;
                return None;
            }
            if let Some(slot) = pools.get_mut(day) {
                *slot = found.sessions;
            }
        }
        Some(pools)
    }

    /// By day, by candidate: what the other days lose at least for an exercise that must come
    /// several times. More than the gap where it can't be part of a week within it.
    fn dear(&mut self, near: &Near<'_>, gap: i64) -> Vec<Vec<i64>> {
        let model = Rc::clone(&self.model);
        let mut dear: Vec<Vec<i64>> = model
            .days
            .iter()
            .map(|day| vec![0; day.candidates.len()])
            .collect();
        for twice in self.twices.clone() {
            if !self.stage.hard(twice.level) {
                continue;
            }
            let losses: Vec<i64> = twice
                .items
                .iter()
                .enumerate()
                .map(|(day, items)| {
                    let of_items = items.iter().map(|at| self.loss_with(near, gap, day, *at));
                    of_items.min().unwrap_or(TOO_DEAR)
                })
                .collect();
            for (day, items) in twice.items.iter().enumerate() {
                let needed = partners(&losses, day, twice.at_least);
                for at in items {
                    if let Some(slot) = dear.get_mut(day).and_then(|day| day.get_mut(*at)) {
                        *slot = needed.max(*slot);
                    }
                }
            }
        }
        dear
    }

    /// What a day loses at least with one candidate, at most just more than the gap.
    fn loss_with(&mut self, near: &Near<'_>, gap: i64, day: usize, at: usize) -> i64 {
        let (Some(search), Some(fixed)) = (near.days.get(day), near.node.days.get(day)) else {
            return 0;
        };
        if fixed.lacks.has(at) {
            return TOO_DEAR;
        }
        let mut fixed = fixed.clone();
        if !fixed.has.contains(&at) {
            fixed.has.push(at);
        }
        let top = near.relaxed.tops.get(day).copied().unwrap_or(0);
        let wanted = Wanted {
            least: top.saturating_sub(gap),
            dearer: &[],
            best_only: true,
            near: NEAR,
            work: self.left().min(PROBE.0),
            most: usize::MAX,
            cancel: &self.cancel.clone(),
        };
        let mut prices = self.prices.get(day).cloned().unwrap_or_default();
        let found = search.walk(&near.relaxed.multipliers, &mut prices, &fixed, wanted);
        self.spend(found.work + PROBE.1);
        if found.cut {
            return 0;
        }
        if found.sessions.is_empty() {
            TOO_DEAR
        } else {
            top.saturating_sub(found.top)
        }
    }
}
