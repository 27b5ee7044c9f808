//! Branch and bound over one stage.

use std::rc::Rc;

use crate::plan::model::Model;

use super::cuts;
use super::node::{Node, Relaxation, Relaxed, Split};
use super::rows::{RowValues, reach};
use super::session::{DaySearch, Fixed, Session, Wanted};
use super::stage::{POINT, Stage, UNIT};
use super::weeks::{Found, Weeks};

/// More than any worth can score, either way.
pub(super) const SPAN: i64 = 1 << 43;
/// Most sessions of one day in a pool.
const POOL: usize = 20_000;
/// Most rounds of rows added at the root.
const ROUNDS_OF_CUTS: usize = 8;
/// Most points of one walk over the days.
const WEEKS: u64 = 400_000;
/// The same until a week is found: going deeper finds one sooner.
const WEEKS_UNTIL_FOUND: u64 = 40_000;

/// The search with what it has learned.
pub(super) struct Solver {
    pub(super) model: Rc<Model>,
    /// Rows of the model itself; later ones are cuts.
    own_rows: usize,
    /// Sessions known by day.
    pub(super) known: Vec<Vec<Session>>,
    /// Multipliers to start from.
    pub(super) multipliers: Vec<i64>,
    /// By day: prices of the session's own limits to start from.
    pub(super) prices: Vec<Vec<i64>>,
    /// Whether the stage weighs units missed.
    pub(super) weighs: bool,
    work: u64,
    allowed: u64,
}

/// How a stage ended.
pub(super) struct StageEnd {
    pub(super) best: Option<Found>,
    /// None where the search is complete; else no week scores above this.
    pub(super) bound: Option<i64>,
}

impl Solver {
    pub(super) fn new(model: Model, allowed: u64) -> Self {
        Self {
            own_rows: model.rows.len(),
            known: vec![Vec::new(); model.days.len()],
            multipliers: vec![0; model.rows.len()],
            prices: vec![Vec::new(); model.days.len()],
            model: Rc::new(model),
            weighs: false,
            work: 0,
            allowed,
        }
    }

    pub(super) fn left(&self) -> u64 {
        self.allowed.saturating_sub(self.work)
    }

    pub(super) fn spend(&mut self, work: u64) {
        self.work = self.work.saturating_add(work);
    }

    pub(super) fn spent(&self) -> u64 {
        self.work
    }

    pub(super) fn allow(&mut self, work: u64) {
        self.allowed = work;
    }

    pub(super) fn session(&self, day: usize, at: usize) -> Option<&Session> {
        self.known.get(day).and_then(|known| known.get(at))
    }

    /// Keeps a session; says whether it is new.
    pub(super) fn know(&mut self, day: usize, session: Session) -> bool {
        let Some(known) = self.known.get_mut(day) else {
            return false;
        };
        if known.contains(&session) {
            return false;
        }
        known.push(session);
        true
    }

    /// Solves one stage.
    pub(super) fn solve(&mut self, stage: Stage) -> StageEnd {
        for known in &mut self.known {
            known.clear();
        }
        self.weighs = stage.least().is_some() || stage.given() > 0;
        let mut plain = (*self.model).clone();
        cuts::without(&mut plain, self.own_rows);
        self.model = Rc::new(plain);
        self.multipliers.truncate(self.own_rows);
        self.cut(&stage);
        let model = Rc::clone(&self.model);
        let model = model.as_ref();
        let ends = reach(model);
        let rows: Vec<RowValues> = model
            .rows
            .iter()
            .zip(&ends)
            .map(|(row, (low, high))| RowValues::of(row, &stage, *low, *high))
            .collect();
        let days: Vec<DaySearch<'_>> = model
            .days
            .iter()
            .enumerate()
            .map(|(day, held)| DaySearch::new(model, day, held, stage))
            .collect();
        let root = Node {
            days: vec![Fixed::default(); model.days.len()],
            ends,
            bound: i64::MAX / 4,
        };
        let mut open = vec![root];
        let mut best: Option<Found> = None;
        while let Some(node) = open.pop() {
            let target = target(&stage, best.as_ref());
            if node.bound < target {
                continue;
            }
            if self.left() == 0 {
                let bound = open
                    .iter()
                    .map(|node| node.bound)
                    .fold(node.bound, i64::max);
                return StageEnd {
                    best,
                    bound: Some(bound),
                };
            }
            let relaxed = match self.relax(&node, &days, &rows, target) {
                Relaxation::Bounded(relaxed) => relaxed,
                Relaxation::Empty => continue,
                Relaxation::Stopped => {
                    open.push(node);
                    continue;
                }
            };
            if relaxed.bound < target {
                continue;
            }
            if self.close(&node, &relaxed, &stage, &days, &rows, &mut best) {
                continue;
            }
            let (first, second) = match self.split(&node, &relaxed, &rows) {
                Split::Row(row, at) => {
                    let (low, high) = node.split_row(row, at);
                    (low, high)
                }
                Split::Item(day, item) => {
                    let (with, without) = node.split_item(day, item);
                    (without, with)
                }
                Split::None => continue,
            };
            for mut child in [first, second] {
                child.bound = relaxed.bound;
                open.push(child);
            }
        }
        StageEnd { best, bound: None }
    }

    /// Adds rows that the root's relaxation breaks, a few rounds.
    fn cut(&mut self, stage: &Stage) {
        for _ in 0..ROUNDS_OF_CUTS {
            let model = Rc::clone(&self.model);
            let ends = reach(&model);
            let rows: Vec<RowValues> = model
                .rows
                .iter()
                .zip(&ends)
                .map(|(row, (low, high))| RowValues::of(row, stage, *low, *high))
                .collect();
            let days: Vec<DaySearch<'_>> = model
                .days
                .iter()
                .enumerate()
                .map(|(day, held)| DaySearch::new(&model, day, held, *stage))
                .collect();
            let root = Node {
                days: vec![Fixed::default(); model.days.len()],
                ends,
                bound: i64::MAX / 4,
            };
            let Relaxation::Bounded(relaxed) = self.relax(&root, &days, &rows, target(stage, None))
            else {
                return;
            };
            let Some(last) = &relaxed.last else { return };
            let shares: Vec<(usize, &Session, f64)> = relaxed
                .columns
                .iter()
                .zip(&last.shares)
                .filter(|(_, share)| **share > 1e-6)
                .filter_map(|((day, at), share)| {
                    self.session(*day, *at)
                        .map(|session| (*day, session, *share))
                })
                .collect();
            let cuts = cuts::broken(&model, stage, &shares);
            if cuts.is_empty() {
                return;
            }
            let mut more = (*self.model).clone();
            for cut in &cuts {
                cut.add_to(&mut more, &mut self.known);
            }
            self.model = Rc::new(more);
        }
    }

    /// Tries to settle a node by pools; true if nothing in it can still matter.
    fn close(
        &mut self,
        node: &Node,
        relaxed: &Relaxed,
        stage: &Stage,
        days: &[DaySearch<'_>],
        rows: &[RowValues],
        best: &mut Option<Found>,
    ) -> bool {
        let enough = enough(stage, relaxed.bound);
        if best.is_none() {
            let pools: Vec<Vec<(i64, Session)>> = (0..days.len())
                .map(|day| self.pool_of_known(node, day, &relaxed.multipliers))
                .collect();
            self.weeks(node, relaxed, stage, rows, &pools, best, enough, 30_000);
        }
        let mut gap = best.as_ref().map_or(200 * POINT, |_| 0);
        loop {
            let target = target(stage, best.as_ref());
            if relaxed.bound < target
                || best
                    .as_ref()
                    .zip(enough)
                    .is_some_and(|(best, enough)| best.score >= enough)
            {
                return true;
            }
            if best.is_some() {
                gap = relaxed.bound - target;
            }
            let mut pools = Vec::new();
            let mut cut = false;
            for (day, search) in days.iter().enumerate() {
                let top = relaxed.tops.get(day).copied().unwrap_or(0);
                let Some(fixed) = node.days.get(day) else {
                    return true;
                };
                let wanted = Wanted {
                    least: top.saturating_sub(gap),
                    best_only: false,
                    work: self
                        .left()
                        .min(if best.is_some() { 2_000_000 } else { 100_000 }),
                    most: POOL,
                };
                let mut prices = self.prices.get(day).cloned().unwrap_or_default();
                let found = search.walk(&relaxed.multipliers, &mut prices, fixed, wanted);
                self.spend(found.work);
                cut |= found.cut;
                let sessions = search.told_apart(found.sessions);
                pools.push(sessions);
                if cut {
                    return false;
                }
            }
            let before = best.as_ref().map(|best| best.score);
            let work = if best.is_some() {
                WEEKS
            } else {
                WEEKS_UNTIL_FOUND
            };
            if !self.weeks(node, relaxed, stage, rows, &pools, best, enough, work) {
                return false;
            }
            let after = best.as_ref().map(|best| best.score);
            match after {
                // Every week that scores at least the bound less the gap was looked at.
                Some(score) if score >= relaxed.bound.saturating_sub(gap) => return true,
                Some(_) if before == after => return true,
                Some(_) => {}
                // A session may score below its day's best by every unit that a held level weighs.
                None if gap > i64::MAX / 16 => return true,
                None => gap = gap.saturating_mul(4),
            }
        }
    }

    fn pool_of_known(&self, node: &Node, day: usize, multipliers: &[i64]) -> Vec<(i64, Session)> {
        let mut pool: Vec<(i64, Session)> = self
            .known
            .get(day)
            .into_iter()
            .flatten()
            .filter(|session| {
                node.days.get(day).is_some_and(|fixed| {
                    fixed.has.iter().all(|at| session.items.contains(at))
                        && !session.items.iter().any(|at| fixed.lacks.has(*at))
                })
            })
            .map(|session| {
                let priced: i64 = session
                    .amounts
                    .iter()
                    .zip(multipliers)
                    .map(|(a, m)| a * m)
                    .sum();
                (session.score + priced, session.clone())
            })
            .collect();
        pool.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| a.1.items.cmp(&b.1.items)));
        pool
    }

    /// Walks the days; false if it was cut short.
    #[allow(clippy::too_many_arguments)]
    fn weeks(
        &mut self,
        node: &Node,
        relaxed: &Relaxed,
        stage: &Stage,
        rows: &[RowValues],
        pools: &[Vec<(i64, Session)>],
        best: &mut Option<Found>,
        enough: Option<i64>,
        work: u64,
    ) -> bool {
        let walked = Weeks {
            model: &self.model,
            stage,
            rows,
            ends: &node.ends,
            multipliers: &relaxed.multipliers,
            pools,
            work: work.min(self.left()),
            best: best.take(),
            enough,
        }
        .walk();
        self.spend(walked.work);
        *best = walked.best;
        !walked.cut
    }
}

/// The lowest score that still matters.
fn target(stage: &Stage, best: Option<&Found>) -> i64 {
    match (best, stage.least()) {
        // Any week at all scores at least this where no level is minimised.
        (None, None) => -stage.given() - SPAN,
        (None, Some(_)) => i64::MIN / 4,
        (Some(best), None) => best.score,
        (Some(best), Some(level)) => {
            let missed = best.misses.get(level).copied().unwrap_or(0);
            -stage.given() - UNIT.saturating_mul(missed - 1) - SPAN
        }
    }
}

/// A score that no week can beat on the minimised level.
fn enough(stage: &Stage, bound: i64) -> Option<i64> {
    stage.least()?;
    let units = least_units(stage, bound);
    Some(-stage.given() - UNIT.saturating_mul(units) - SPAN)
}

/// Fewest units missed on the minimised level that a bound leaves open.
pub(super) fn least_units(stage: &Stage, bound: i64) -> i64 {
    let lack = -stage.given() - SPAN - bound;
    if lack <= 0 {
        0
    } else {
        (lack + UNIT - 1) / UNIT
    }
}
