//! The loads of a case: bests, the bar and the pieces of the gym.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use crate::base::{BarId, Code, Decimal, Place, ReferenceId};

use super::case::{CaseText, Gym};
use super::case_check::GymPiece;
use super::case_read::Checking;
use super::check::sections::Sort;
use super::vocab::MOST_LOAD;

impl Checking<'_> {
    pub(super) fn bests(&mut self, text: &CaseText) -> BTreeMap<ReferenceId, Decimal> {
        let pack = self.pack;
        let mut all = BTreeMap::new();
        for (id, best) in &text.bests {
            let id = self.item(Sort::Reference, &pack.references, id);
            let weight = &best.weight;
            let thousandths = weight.thousandths();
            if thousandths == 0 || thousandths > MOST_LOAD * 1000 {
                self.problem(
                    Code::OutOfRange,
                    &weight.place,
                    format!("a best of {weight} cannot be"),
                    format!(
                        "write a load above 0 and not above {MOST_LOAD}, or leave the best out"
                    ),
                );
            } else if let Some(id) = id {
                all.insert(id, weight.value);
            }
        }
        all
    }

    /// The days on which bests were lifted, none of them after `today`.
    pub(super) fn best_days(
        &mut self,
        text: &CaseText,
        today: Option<i64>,
    ) -> BTreeMap<ReferenceId, i64> {
        let mut all = BTreeMap::new();
        for (id, best) in &text.bests {
            let Some(on) = &best.on else { continue };
            let Some(day) = self.date(on.as_str(), &on.place) else {
                continue;
            };
            match (today, &text.today) {
                (Some(today), _) if day <= today => {
                    all.insert(id.value.clone(), day);
                }
                (Some(_), Some(today)) => {
                    self.contradiction(
                        format!("the best of `{id}` was lifted on {on}, after today, {today}"),
                        "write the day on which it was lifted, or mend `today`",
                        &on.place,
                        (&today.place, "today is said here"),
                    );
                }
                (_, None) => self.problem(
                    Code::MissingKey,
                    &on.place,
                    format!(
                        "the best of `{id}` has a date, and the case does not say what day it is"
                    ),
                    "add `today:` to the case, or leave the date out",
                ),
                // That day is no day, which has been told.
                (None, Some(_)) => {}
            }
        }
        all
    }

    /// What was lifted was lifted with a bar: no best is lighter than the lightest bar of the case with its collars.
    pub(super) fn bests_on_bars(&mut self, text: &CaseText, bar: &BarId, others: &BTreeSet<BarId>) {
        let collars = text.gym.collars.unwrap_or(true);
        let bars = [bar].into_iter().chain(others);
        let held = bars.filter_map(|id| Some((id, self.pack.bars.get(id)?)));
        let Some((bar, held)) = held.min_by_key(|(_, held)| held.empty(collars)) else {
            return;
        };
        let empty = held.empty(collars);
        let weights = text.bests.iter().map(|(id, best)| (id, &best.weight));
        let light = weights.filter(|(_, best)| {
            let thousandths = best.thousandths();
            thousandths > 0 && thousandths < empty
        });
        for (id, best) in light {
            let and_collars = if collars && held.collar != Decimal::ZERO {
                " with its two collars"
            } else {
                ""
            };
            let what = format!(
                "a best of {} for `{id}` is lighter than the bar `{bar}`{and_collars}, {}",
                best.value,
                Decimal::from_thousandths(empty).unwrap_or_default()
            );
            self.problem(
                Code::OutOfRange,
                &best.place,
                what,
                "name under `gym` the bar that it was done with, write `collars: false` there, or leave the best out",
            );
        }
    }

    pub(super) fn bar(&mut self, gym: &Gym, whole: &Place) -> Option<BarId> {
        let pack = self.pack;
        match &gym.bar {
            Some(id) => self.item(Sort::Bar, &pack.bars, id),
            None => {
                let first = pack.bars.keys().next().map(|id| id.value.clone());
                if first.is_none() {
                    let what = "the rules have no bar, so no load can be made up";
                    self.problem(
                        Code::MissingKey,
                        whole,
                        what,
                        "add one to the rules under `bars`",
                    );
                }
                first
            }
        }
    }

    /// The further bars that the gym has, each once and of the measure of `bar`.
    pub(super) fn other_bars(&mut self, gym: &Gym, bar: &BarId) -> BTreeSet<BarId> {
        let pack = self.pack;
        let mut all: BTreeMap<BarId, Place> = BTreeMap::new();
        let first = gym.bar.as_ref().map(|first| first.place.clone());
        for id in &gym.other_bars {
            let Some(other) = self.item(Sort::Bar, &pack.bars, id) else {
                continue;
            };
            let stands = if other == *bar {
                first.clone()
            } else {
                all.get(&other).cloned()
            };
            let measures =
                [bar, &other].map(|id| pack.bars.get(id).map(|held| &held.measure.value));
            match (stands, measures) {
                (Some(stands), _) => self.twice(&format!("the bar `{other}`"), &id.place, &stands),
                (None, [Some(one), Some(two)]) if one != two => self.problem(
                    Code::Contradiction,
                    &id.place,
                    format!("the bar `{other}` takes pieces in `{two}`, and `{bar}` in `{one}`"),
                    "name only bars of one measure; a case has its loads in one",
                ),
                (None, _) => {
                    all.insert(other, id.place.clone());
                }
            }
        }
        all.into_keys().collect()
    }

    /// The gym's pieces in the bar's measure, heaviest first.
    pub(super) fn pieces(&mut self, gym: &Gym, bar: &BarId) -> Vec<GymPiece> {
        let pack = self.pack;
        let Some((measure_id, measure)) = pack
            .bars
            .get(bar)
            .and_then(|bar| Some((&bar.measure, pack.measures.get(&bar.measure.value)?)))
        else {
            return Vec::new();
        };
        let mut pairs: BTreeMap<Decimal, (u8, Place)> = BTreeMap::new();
        for pair in &gym.pairs {
            if !(1..=20).contains(&pair.pairs) {
                let what = format!("{} pairs of {} cannot be", pair.pairs, pair.weight);
                self.problem(
                    Code::OutOfRange,
                    &pair.place,
                    what,
                    "write 1 to 20 pairs, or leave the piece out",
                );
            }
            if !measure
                .pieces
                .iter()
                .any(|piece| piece.weight == pair.weight)
            {
                let known: Vec<String> = measure
                    .pieces
                    .iter()
                    .map(|piece| piece.weight.to_string())
                    .collect();
                self.problem(
                    Code::DanglingId,
                    &pair.place,
                    format!("`{measure_id}` has no piece of {}", pair.weight),
                    format!("the bar `{bar}` takes pieces of {}", known.join(", ")),
                );
            } else if let Some((_, first)) = pairs.get(&pair.weight) {
                let first = first.clone();
                self.twice(
                    &format!("the piece of {}", pair.weight),
                    &pair.place,
                    &first,
                );
            } else {
                pairs.insert(pair.weight, (pair.pairs, pair.place.clone()));
            }
        }
        let held = measure.pieces.iter().filter_map(|piece| {
            let pairs = if gym.pairs.is_empty() {
                None
            } else {
                Some(pairs.get(&piece.weight)?.0)
            };
            Some(GymPiece {
                weight: piece.weight,
                full_diameter: piece.full_diameter,
                pairs,
            })
        });
        let mut held: Vec<GymPiece> = held.collect();
        held.sort_by_key(|piece| Reverse(piece.weight));
        held
    }
}
