//! Sets, repetitions, percents, loads and seconds.

use std::collections::BTreeSet;

use super::Oracle;
use super::frame_text::Piece;
use super::movement::Exercise;
use super::select::{Place, Seen};
use super::text::Load;

/// How an item is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Done {
    pub sets: i64,
    pub reps: i64,
    /// Low and high end, in percent of the reference.
    pub percent: Option<(i64, i64)>,
    /// The same as it is asked for, whatever can be made.
    pub asked: Option<(i64, i64)>,
    /// Ramp, sets and rests.
    pub seconds: i64,
}

impl Oracle {
    /// The dose rules that are left for something placed.
    pub fn doses(&self, exercise: &Exercise, place: &Place) -> Vec<String> {
        let seen = Seen {
            exercise,
            place: Some(place),
        };
        let rules = &self.pack.rules.dose;
        let matching: Vec<&String> = rules
            .iter()
            .filter(|(_, rule)| self.matches(&rule.what, seen))
            .map(|(id, _)| id)
            .collect();
        let replaced = |id: &String| {
            matching.iter().any(|other| {
                rules[*other]
                    .instead_of
                    .as_ref()
                    .is_some_and(|list| list.contains(id))
            })
        };
        matching
            .iter()
            .filter(|id| !replaced(id))
            .map(|id| (*id).clone())
            .collect()
    }

    /// How it is done by a dose rule. Trims and caps are asked before there is a load.
    pub fn done(&self, exercise: &Exercise, place: &Place, rule: &str) -> Done {
        let rules = &self.pack.rules;
        let dose = &self.pack.doses[&rules.dose[rule].give];
        let effort = &self.pack.efforts[&place.effort];
        let mut sets = dose.sets.at(effort.sets_at_percent);
        let reps = if exercise.complex {
            exercise.reps()
        } else {
            dose.reps.at(effort.reps_at_percent)
        };
        // What has no reference has nothing that a percent could be of.
        let span = dose
            .percent_of_reference
            .filter(|_| exercise.reference.is_some());
        let mut percent = span.map(|span| {
            (
                span.at(effort.load_from_percent),
                span.at(effort.load_to_percent),
            )
        });
        let rest = dose.rest_seconds.at(effort.load_to_percent);

        let seen = Seen {
            exercise,
            place: Some(place),
        };
        let trims: Vec<_> = rules
            .trim
            .values()
            .filter(|rule| self.on_day(rule.on.as_ref(), place.day))
            .filter(|rule| self.matches(&rule.what, seen))
            .collect();
        if let Some(least) = trims.iter().map(|rule| rule.sets_at_least).max() {
            let fewer: i64 = trims.iter().map(|rule| rule.sets_fewer).sum();
            // A trim never adds sets.
            sets = sets.min((sets - fewer).max(least));
        }
        if let Some((low, high)) = percent {
            let steps = rules.load_step.values();
            let steps = steps.filter(|rule| self.on_day(rule.on.as_ref(), place.day));
            let points: i64 = steps
                .filter(|rule| self.matches(&rule.what, seen))
                .map(|rule| rule.points)
                .sum();
            percent = Some(((low + points).max(1), (high + points).max(1)));
        }
        let caps = rules
            .cap
            .values()
            .filter(|rule| self.matches(&rule.what, seen));
        let bounds = caps.flat_map(|rule| {
            let own = rule
                .percent_of_own_highest_at_most
                .map(|percent| percent * exercise.highest / 100);
            [rule.percent_of_reference_at_most, own]
                .into_iter()
                .flatten()
        });
        if let (Some(cap), Some((low, high))) = (bounds.min(), percent)
            && high > cap
        {
            percent = Some(((low - (high - cap)).max(1), cap.max(1)));
        }
        let mut asked = percent;
        let best = exercise.reference.as_ref().and_then(|id| self.best_of(id));
        if let (Some((mut low, high)), Some(best)) = (percent, best) {
            let mut bar = self.bar_for(best * low / 100);
            // What is on the bar at a percent, as a percent.
            let on = |bar: &str, percent: i64| {
                let load = self
                    .load(bar, exercise.reference.as_ref(), percent)
                    .unwrap();
                (load.0 * 100).div_euclid(best).max(1)
            };
            let fits = (high - 5..=high).contains(&on(&bar, high));
            if fits && on(&bar, low) < low - 5 {
                low = high;
                asked = Some((high, high));
                bar = self.bar_for(best * low / 100);
            }
            let on = |percent: i64| on(&bar, percent);
            let fits = (high - 5..=high).contains(&on(high));
            percent = Some(match fits {
                true => (low.max(on(low)), high),
                false => (on(low), on(high)),
            });
        }
        let place = Place {
            percent: percent.map(|(_, high)| high),
            ..place.clone()
        };
        let seen = Seen {
            exercise,
            place: Some(&place),
        };
        let ramps = rules
            .ramp
            .values()
            .filter(|rule| self.matches(&rule.what, seen));
        let ramp = ramps.map(|rule| {
            let reached = |from: i64| place.percent.is_some_and(|percent| percent >= from);
            let step = rule
                .steps
                .iter()
                .rev()
                .find(|step| reached(step.from_percent));
            step.unwrap_or(&rule.steps[0]).seconds
        });
        let seconds = ramp.min().unwrap_or(0) + sets * (dose.set_seconds + rest);
        Done {
            sets,
            reps,
            percent,
            asked,
            seconds,
        }
    }

    /// A best in thousandths: stated, or else from the first stand-in that is stated.
    pub fn best_of(&self, reference: &str) -> Option<i64> {
        let bests = &self.case.bests;
        if let Some(best) = bests.get(reference) {
            return Some(best.0);
        }
        let stand_in = self.pack.references[reference]
            .instead
            .iter()
            .find(|one| bests.contains_key(&one.from))?;
        Some(bests[&stand_in.from].0 * stand_in.percent / 100)
    }

    /// The bar that the case names, or the first.
    pub fn usual_bar(&self) -> String {
        let first = || self.pack.bars.keys().next().unwrap().clone();
        self.case.gym.bar.clone().unwrap_or_else(first)
    }

    fn empty(&self, bar: &str) -> i64 {
        let bar = &self.pack.bars[bar];
        let collars = self.case.gym.collars.unwrap_or(true);
        bar.weight.0 + if collars { 2 * bar.collar.0 } else { 0 }
    }

    /// The bar on which something is done whose lightest load would be this.
    pub fn bar_for(&self, lightest: i64) -> String {
        let usual = self.usual_bar();
        let mut best = usual.clone();
        for other in &self.case.gym.other_bars {
            let (own, held) = (self.empty(other), self.empty(&best));
            let better = if held <= lightest {
                // The usual bar is never given up for another one that fits.
                best != usual && own <= lightest && (own, &best) > (held, other)
            } else {
                own < held
            };
            if better {
                best.clone_from(other);
            }
        }
        best
    }

    fn gym(&self, bar: &str) -> (i64, Vec<(Piece, Option<i64>)>) {
        let empty = self.empty(bar);
        let bar = &self.pack.bars[bar];
        let pairs = &self.case.gym.pairs;
        let mut pieces = Vec::new();
        for piece in &self.pack.measures[&bar.measure].pieces {
            let held = pairs
                .iter()
                .find(|pair| pair.weight == piece.weight)
                .map(|pair| pair.pairs);
            if pairs.is_empty() || held.is_some() {
                pieces.push((piece.clone(), held));
            }
        }
        assert!(
            self.pack.measures[&bar.measure].in_pairs,
            "the oracle knows only pieces that go on in pairs"
        );
        (empty, pieces)
    }

    /// All loads that can be made, up to a bound, lightest first.
    pub fn loads(&self, bar: &str, most: i64) -> Vec<i64> {
        let (empty, pieces) = self.gym(bar);
        let mut all = BTreeSet::from([empty]);
        for (piece, pairs) in pieces {
            let step = 2 * piece.weight.0;
            for load in all.clone() {
                let times = ((most - load) / step).max(0).min(pairs.unwrap_or(i64::MAX));
                all.extend((0..=times).map(|count| load + count * step));
            }
        }
        all.into_iter().collect()
    }

    /// The load on a bar at a percent of a reference; none where no best is known.
    pub fn load(&self, bar: &str, reference: Option<&String>, percent: i64) -> Option<Load> {
        let wanted = self.best_of(reference?)? * percent / 100;
        let all = self.loads(bar, wanted);
        Some(Load(
            all.iter()
                .rev()
                .copied()
                .find(|load| *load <= wanted)
                .unwrap_or(all[0]),
        ))
    }

    /// The least load on a bar that a rule asks for.
    pub fn least_load(&self, bar: &str, rule: &super::rule_text::LeastLoad) -> i64 {
        let (empty, pieces) = self.gym(bar);
        let full = pieces
            .iter()
            .filter(|(piece, _)| piece.full_diameter)
            .map(|(piece, _)| piece.weight.0)
            .min();
        let disc = full
            .filter(|_| rule.lightest_full_diameter == Some(true))
            .map(|weight| empty + 2 * weight);
        disc.unwrap_or(0)
            .max(rule.at_least.map_or(0, |load| load.0))
    }
}
