//! Branch and bound over one stage.

use std::rc::Rc;

use crate::base::Cancel;
use crate::plan::model::Model;

use super::close::LISTING;
use super::cuts;
use super::node::{Node, Relaxation};
use super::pools::Reductions;
use super::rows::{RowValues, Twice, reach};
use super::session::{DaySearch, Fixed, Session};
use super::split::Split;
use super::stage::{Scale, Stage};
use super::whole::Found;

/// Most rounds of rows added at the root.
const ROUNDS_OF_CUTS: usize = 8;

/// The search with what it has learned.
pub(super) struct Solver {
    pub(super) model: Rc<Model>,
    /// Rows of the model itself; later ones are cuts.
    pub(super) own_rows: usize,
    /// Most points of the walk that lists a pool.
    pub(super) listing: u64,
    /// The day whose list took the most points last time.
    pub(super) longest: usize,
    /// Where the pools of the last node say that it splits best, and whether its low side, or the
    /// one without the item, is the better.
    pub(super) advice: Option<(Split, bool)>,
    /// Whether any week will do.
    pub(super) any: bool,
    /// Units of the minimised level that every week is known to miss.
    pub(super) fewest: i64,
    /// Sessions known by day.
    pub(super) known: Vec<Vec<Session>>,
    /// Multipliers to start from.
    pub(super) multipliers: Vec<i64>,
    /// By day: prices of the session's own limits to start from.
    pub(super) prices: Vec<Vec<i64>>,
    pub(super) stage: Stage,
    /// Rows that count the days of one exercise.
    pub(super) twices: Vec<Twice>,
    /// Ends the search as if its work were used up.
    pub(super) cancel: Cancel,
    /// What is left out of pools.
    pub(super) reductions: Reductions,
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
    pub(super) fn new(model: Model, scale: Scale, allowed: u64, cancel: &Cancel) -> Self {
        Self {
            own_rows: model.rows.len(),
            listing: LISTING.1,
            longest: 0,
            advice: None,
            any: false,
            fewest: 0,
            known: vec![Vec::new(); model.days.len()],
            multipliers: vec![0; model.rows.len()],
            prices: vec![Vec::new(); model.days.len()],
            model: Rc::new(model),
            stage: Stage::strict(scale),
            twices: Vec::new(),
            cancel: cancel.clone(),
            reductions: Reductions::ALL,
            work: 0,
            allowed,
        }
    }

    pub(super) fn left(&self) -> u64 {
        if self.cancel.is_cancelled() {
            return 0;
        }
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
        // Items in their order make all the rest.
        if known.iter().any(|held| held.items == session.items) {
            return false;
        }
        known.push(session);
        true
    }

    /// Solves one stage.
    pub(super) fn solve(&mut self, stage: Stage) -> StageEnd {
        if self.cancel.is_cancelled() {
            return limited(None, stage.scale.span, &[]);
        }
        for known in &mut self.known {
            known.clear();
        }
        self.stage = stage;
        self.listing = LISTING.1;
        // Other stages have other limits.
        self.prices = vec![Vec::new(); self.model.days.len()];
        let mut plain = (*self.model).clone();
        cuts::without(&mut plain, self.own_rows);
        self.twices = cuts::twice(&mut plain, &stage);
        self.model = Rc::new(plain);
        self.multipliers.truncate(self.own_rows);
        let mut of_root = self.cut(&stage);
        if self.cancel.is_cancelled() {
            return limited(None, stage.scale.span, &[]);
        }
        let model = Rc::clone(&self.model);
        let model = model.as_ref();
        let ends = reach(model);
        let rows = self.rows(model, &ends);
        let days = searches(model, stage);
        let mut open = vec![self.root(ends)];
        let mut best: Option<Found> = None;
        while let Some(node) = open.pop() {
            let target = target(&stage, best.as_ref());
            if node.bound < target {
                continue;
            }
            if self.left() == 0 {
                return limited(best, node.bound, &open);
            }
            let relaxed = match of_root.take() {
                Some(relaxation) => relaxation,
                None => self.relax(&node, &days, &rows, target),
            };
            let relaxed = match relaxed {
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
            let Some(bound) = self.close(&node, &relaxed, &days, &rows, &mut best) else {
                continue;
            };
            // Pools say best where to split; else exercises that must come several times or not at
            // all, which relaxations hide most.
            let twice = self.split_twice(&node, &relaxed);
            let (split, low_last) = match (self.advice.take(), twice) {
                (Some(advice), _) => advice,
                (None, Some(row)) => (Split::Row(row, 0), false),
                (None, None) => (self.split(&node, &relaxed, &rows), false),
            };
            let (low, high) = match split {
                Split::Row(row, at) => node.split_row(row, at),
                Split::Item(day, item) => {
                    let (with, without) = node.split_item(day, item);
                    (without, with)
                }
                // Neither looked through nor to be split: its orders are too many.
                Split::None => return limited(best, bound, &open),
            };
            // The last is looked at first.
            let (first, second) = if low_last { (high, low) } else { (low, high) };
            for mut child in [first, second] {
                child.bound = bound;
                child.keep_out(&self.twices, &stage);
                open.push(child);
            }
        }
        StageEnd { best, bound: None }
    }

    /// The node that fixes nothing.
    fn root(&self, ends: Vec<(i64, i64)>) -> Node {
        let mut root = Node {
            days: vec![Fixed::default(); self.model.days.len()],
            ends,
            // No week scores more, whatever is known of it.
            bound: self.stage.scale.span,
        };
        root.keep_out(&self.twices, &self.stage);
        root
    }

    /// What each total of each row is worth.
    fn rows(&self, model: &Model, ends: &[(i64, i64)]) -> Vec<RowValues> {
        let rows = model.rows.iter().zip(ends).enumerate();
        rows.map(|(at, (row, (low, high)))| {
            match self.twices.iter().find(|twice| twice.row == at) {
                Some(twice) => RowValues::of_twice(twice, &self.stage, *low, *high),
                None => RowValues::of(row, &self.stage, *low, *high),
            }
        })
        .collect()
    }

    /// Adds rows that the root's relaxation breaks, a few rounds; the root's relaxation with all of them, where it was made.
    fn cut(&mut self, stage: &Stage) -> Option<Relaxation> {
        for _ in 0..ROUNDS_OF_CUTS {
            let model = Rc::clone(&self.model);
            let ends = reach(&model);
            let rows = self.rows(&model, &ends);
            let days = searches(&model, *stage);
            let root = self.root(ends);
            let relaxed = match self.relax(&root, &days, &rows, target(stage, None)) {
                Relaxation::Bounded(relaxed) => relaxed,
                other => return Some(other),
            };
            let shares = self.shares(&relaxed);
            let cuts = cuts::broken(&model, stage, &shares);
            if cuts.is_empty() {
                return Some(Relaxation::Bounded(relaxed));
            }
            let mut more = (*self.model).clone();
            for cut in &cuts {
                cut.add_to(&mut more, &mut self.known);
            }
            self.model = Rc::new(more);
        }
        None
    }
}

/// A stage that ends with nodes left.
fn limited(best: Option<Found>, bound: i64, open: &[Node]) -> StageEnd {
    let bounds = open.iter().map(|node| node.bound);
    StageEnd {
        best,
        bound: Some(bounds.fold(bound, i64::max)),
    }
}

fn searches(model: &Model, stage: Stage) -> Vec<DaySearch<'_>> {
    let days = model.days.iter().enumerate();
    days.map(|(day, held)| DaySearch::new(model, day, held, stage))
        .collect()
}

/// The lowest score that still matters.
pub(super) fn target(stage: &Stage, best: Option<&Found>) -> i64 {
    match (best, stage.least()) {
        // Any week at all scores at least this where no level is minimised.
        (None, None) => stage.lowest(0),
        (None, Some(_)) => i64::MIN / 4,
        (Some(best), None) => best.score,
        (Some(best), Some(level)) => {
            let missed = best.misses.get(level).copied().unwrap_or(0);
            stage.lowest(missed - 1)
        }
    }
}
