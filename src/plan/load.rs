//! What a percent comes to on the bar.

use std::cell::RefCell;
use std::cmp::Reverse;
use std::collections::BTreeMap;

use crate::base::{BarId, Decimal, ReferenceId};
use crate::infer::Setting;

/// A best that loads are computed from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Best {
    /// In thousandths of the unit.
    pub(crate) thousandths: i64,
    /// The best that it was estimated from, with the percent.
    pub(crate) estimated_from: Option<(ReferenceId, u16)>,
}

/// A load that can be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Load {
    /// With bar and collars, in thousandths of the unit.
    pub(crate) thousandths: i64,
    /// Pieces on one side, innermost first, in thousandths.
    pub(crate) side: Vec<i64>,
}

/// The bars of a case and what can be made with them.
pub(crate) struct Loads {
    unit: String,
    /// The bar that the case names.
    usual: OneBar,
    /// The gym's lighter ones, heaviest first.
    lighter: Vec<OneBar>,
    /// How many of each piece go on at once: 2 in pairs.
    sides: i64,
    /// Pieces, heaviest first, with the most of each on one side.
    pieces: Vec<(i64, i64)>,
    lightest_full: Option<i64>,
    /// By what the bar weighs and what was asked.
    made: RefCell<BTreeMap<(i64, i64), Load>>,
}

struct OneBar {
    bar: BarId,
    /// With its collars.
    empty: i64,
}

/// One of the bars, on which loads are made.
#[derive(Clone, Copy)]
pub(crate) struct OnBar<'a> {
    loads: &'a Loads,
    bar: &'a BarId,
    empty: i64,
}

/// What is on the bar at the low and the high end of an item.
pub(crate) struct Ends<'a> {
    pub(crate) on: OnBar<'a>,
    pub(crate) low: Load,
    pub(crate) high: Load,
}

/// More units than any bar takes; a load above it is made as far as this.
const MOST_UNITS: i64 = 40_000;

impl Loads {
    /// The bars that the case names, with the gym's pieces.
    pub(crate) fn of(setting: &Setting<'_>) -> Self {
        let case = setting.case;
        let usual = setting.pack.bars.get(&case.bar);
        let measure = usual.and_then(|bar| setting.pack.measures.get(&bar.measure.value));
        let one = |id: &BarId| OneBar {
            bar: id.clone(),
            empty: setting
                .pack
                .bars
                .get(id)
                .map_or(0, |bar| bar.empty(case.collars)),
        };
        let usual = one(&case.bar);
        let others = case.other_bars.iter().map(one);
        let mut lighter: Vec<OneBar> = others.filter(|other| other.empty < usual.empty).collect();
        lighter.sort_by_key(|other| Reverse(other.empty));
        let mut pieces: Vec<(i64, i64)> = setting
            .case
            .pieces
            .iter()
            .filter(|piece| piece.weight.thousandths() > 0)
            .map(|piece| {
                (
                    piece.weight.thousandths(),
                    piece.pairs.map_or(i64::MAX, i64::from),
                )
            })
            .collect();
        pieces.sort_unstable_by(|a, b| b.cmp(a));
        let full = setting
            .case
            .pieces
            .iter()
            .filter(|piece| piece.full_diameter && piece.pairs != Some(0));
        Self {
            unit: measure.map_or_else(String::new, |measure| measure.unit.clone()),
            usual,
            lighter,
            sides: if measure.is_none_or(|measure| measure.in_pairs) {
                2
            } else {
                1
            },
            lightest_full: full.map(|piece| piece.weight.thousandths()).min(),
            pieces,
            made: RefCell::new(BTreeMap::new()),
        }
    }

    /// The unit's sign.
    pub(crate) fn unit(&self) -> &str {
        &self.unit
    }

    /// The bar for something whose lightest load is `lightest`: the first that is not heavier, else the lightest.
    pub(crate) fn on_bar_for(&self, lightest: i64) -> OnBar<'_> {
        let mut bars = [&self.usual].into_iter().chain(&self.lighter);
        let fits = bars.find(|bar| bar.empty <= lightest);
        let bar = fits.or(self.lighter.last()).unwrap_or(&self.usual);
        OnBar {
            loads: self,
            bar: &bar.bar,
            empty: bar.empty,
        }
    }

    /// What is made for these percents of a best, on the bar that the low end fits.
    pub(crate) fn ends(&self, best: &Best, (low, high): (i64, i64)) -> Ends<'_> {
        let of_best = |percent: i64| best.thousandths * percent / 100;
        let on = self.on_bar_for(of_best(low));
        Ends {
            on,
            low: on.make(of_best(low)),
            high: on.make(of_best(high)),
        }
    }

    fn search(&self, empty: i64, target: i64) -> Load {
        let room = (target - empty).max(0) / self.sides;
        let unit = self
            .pieces
            .iter()
            .map(|(weight, _)| *weight)
            .fold(0, gcd)
            .max(1);
        let units = usize::try_from((room / unit).min(MOST_UNITS)).unwrap_or(0);
        // can[k][u]: u units can be made of the pieces from k on.
        let mut can = vec![vec![false; units + 1]; self.pieces.len() + 1];
        if let Some(first) = can.last_mut().and_then(|row| row.first_mut()) {
            *first = true;
        }
        for (k, (weight, most)) in self.pieces.iter().enumerate().rev() {
            let step = usize::try_from(weight / unit).unwrap_or(1).max(1);
            let below = can.get(k + 1).cloned().unwrap_or_default();
            let Some(row) = can.get_mut(k) else { continue };
            for residue in 0..step.min(units + 1) {
                let mut since: Option<i64> = None;
                let mut at = residue;
                while at <= units {
                    if below.get(at) == Some(&true) {
                        since = Some(0);
                    } else {
                        since = since.map(|n| n + 1);
                    }
                    if let Some(slot) = row.get_mut(at) {
                        *slot = since.is_some_and(|n| n <= *most);
                    }
                    at += step;
                }
            }
        }
        let reached = can
            .first()
            .and_then(|row| row.iter().rposition(|held| *held))
            .unwrap_or(0);
        let (mut left, mut side) = (reached, Vec::new());
        for (k, (weight, most)) in self.pieces.iter().enumerate() {
            let step = usize::try_from(weight / unit).unwrap_or(1).max(1);
            let Some(below) = can.get(k + 1) else { break };
            let mut count = i64::try_from(left / step).unwrap_or(0).min(*most);
            while count >= 0 {
                let rest = left - usize::try_from(count).unwrap_or(0) * step;
                if below.get(rest) == Some(&true) {
                    side.extend((0..count).map(|_| *weight));
                    left = rest;
                    break;
                }
                count -= 1;
            }
        }
        let made: i64 = side.iter().sum();
        Load {
            thousandths: empty + self.sides * made,
            side,
        }
    }
}

impl<'a> OnBar<'a> {
    /// The bar.
    pub(crate) fn bar(self) -> &'a BarId {
        self.bar
    }

    /// The bar with one pair of the lightest full-diameter piece; none without such a piece.
    pub(crate) fn lightest_full_diameter(self) -> Option<i64> {
        let piece = self.loads.lightest_full?;
        Some(self.empty + self.loads.sides * piece)
    }

    /// The heaviest load not above `target` that can be made; the empty bar where none can.
    pub(crate) fn make(self, target: i64) -> Load {
        let asked = (self.empty, target);
        if let Some(load) = self.loads.made.borrow().get(&asked) {
            return load.clone();
        }
        let load = self.loads.search(self.empty, target);
        self.loads.made.borrow_mut().insert(asked, load.clone());
        load
    }

    /// The load not above `target` and not below `least` that takes the fewest pieces, the heaviest of
    /// those; the heaviest not above `target` where none is as heavy as `least`.
    pub(crate) fn make_with_few_pieces(self, target: i64, least: i64) -> Load {
        let mut best = self.make(target);
        let mut next = best.thousandths - 1;
        while next >= least {
            let lighter = self.make(next);
            if lighter.thousandths > next || lighter.thousandths < least {
                break;
            }
            next = lighter.thousandths - 1;
            if lighter.side.len() < best.side.len() {
                best = lighter;
            }
        }
        best
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

impl Best {
    /// A best of the case, or the first stand-in that is known.
    pub(crate) fn of(setting: &Setting<'_>, reference: &ReferenceId) -> Option<Self> {
        let known = |id: &ReferenceId| {
            setting
                .case
                .bests
                .get(id)
                .map(|best: &Decimal| best.thousandths())
        };
        if let Some(thousandths) = known(reference) {
            return Some(Self {
                thousandths,
                estimated_from: None,
            });
        }
        let stand_ins = &setting.pack.references.get(reference)?.instead;
        stand_ins.iter().find_map(|instead| {
            known(&instead.from.value).map(|best| Self {
                thousandths: best * i64::from(instead.percent) / 100,
                estimated_from: Some((instead.from.value.clone(), instead.percent)),
            })
        })
    }
}
