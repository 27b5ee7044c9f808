//! What a log makes of bests: loads that were made, and what those made several times say.

use std::collections::BTreeMap;

use crate::base::{Decimal, ReferenceId};
use crate::graph::Graph;
use crate::rules::pack::Pack;
use crate::rules::vocab::{Estimate, Formula, Instead};

use super::Row;
use super::estimate::{made_once, rounded_down};

/// A load above the best that was made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct BestMade {
    pub(crate) reference: ReferenceId,
    pub(crate) load: Decimal,
    /// In days since 1970-01-01; the first day of several.
    pub(crate) date: i64,
    /// Where it was made.
    pub(crate) exercise: usize,
    /// What was the best until then.
    pub(crate) before: Option<Decimal>,
}

/// What a load made several times says of the one that could be made once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct EstimateMade {
    pub(crate) reference: ReferenceId,
    pub(crate) formula: Formula,
    pub(crate) load: Decimal,
    pub(crate) repetitions: u16,
    pub(crate) date: i64,
    /// What could be made once.
    pub(crate) once: Decimal,
    /// Whether that is above the best and everything that was made.
    pub(crate) is_above: bool,
    /// Whether it becomes the best.
    pub(crate) becomes_best: bool,
}

/// Bests that entries make, by reference, and what else they say of them.
pub(crate) fn bests(
    pack: &Pack,
    graph: &Graph,
    known: &BTreeMap<ReferenceId, Decimal>,
    rows: &[Row],
) -> (Vec<BestMade>, Vec<EstimateMade>) {
    let (mut made, mut estimates) = (Vec::new(), Vec::new());
    for from in pack.best_from.values() {
        let reference = &from.reference.value;
        let is_one = |row: &&Row| {
            let id = graph.ids.get(row.exercise);
            row.made > 0 && id.is_some_and(|id| from.exercises.iter().any(|of| of.value == *id))
        };
        let best = known.get(reference).copied();
        // What is not stated is stood in for; less than that would be a step back.
        let stood_in = || {
            let held = pack.references.get(reference)?;
            let of = |instead: &Instead| {
                let load = known.get(&instead.from.value)?.thousandths();
                Decimal::from_thousandths(load * i64::from(instead.percent) / 100)
            };
            held.instead.iter().find_map(of)
        };
        let above = best.or_else(stood_in);
        let loaded = || {
            let all = rows.iter().filter(is_one);
            all.filter_map(|row| Some((row, row.load?)))
        };
        // The heaviest, then the earliest, then the first by exercise.
        let heaviest =
            loaded().max_by_key(|(row, load)| (*load, std::cmp::Reverse((row.date, row.exercise))));
        let now = heaviest.map(|(_, load)| load).max(above);
        if let Some((row, load)) =
            heaviest.filter(|(_, load)| above.is_none_or(|above| *load > above))
        {
            made.push(BestMade {
                reference: reference.clone(),
                load,
                date: row.date,
                exercise: row.exercise,
                before: best,
            });
        }
        let mut of = pack.estimates.values();
        if let Some(rule) = of.find(|rule| rule.references.contains(&from.reference)) {
            estimates.extend(estimated(rule, reference, now, loaded()));
        }
    }
    made.sort_by(|one, other| one.reference.cmp(&other.reference));
    estimates.sort_by(|one, other| one.reference.cmp(&other.reference));
    (made, estimates)
}

fn estimated<'r>(
    rule: &Estimate,
    reference: &ReferenceId,
    best: Option<Decimal>,
    loaded: impl Iterator<Item = (&'r Row, Decimal)>,
) -> Option<EstimateMade> {
    let most = u16::from(rule.repetitions_at_most.value);
    // Of several sets nobody knows how many repetitions one had.
    let sets = loaded.filter(|(row, _)| row.sets == 1 && (2..=most).contains(&row.made));
    let all = sets.filter_map(|(row, load)| {
        let once = made_once(rule.formula, load, row.made)?;
        Some((row, load, rounded_down(once, rule.round_to.value)))
    });
    let (row, load, once) = all
        .max_by_key(|(row, load, once)| (*once, std::cmp::Reverse((row.made, row.date, *load))))?;
    let is_above = best.is_none_or(|best| once > best);
    Some(EstimateMade {
        reference: reference.clone(),
        formula: rule.formula,
        load,
        repetitions: row.made,
        date: row.date,
        once,
        is_above,
        becomes_best: is_above && rule.becomes_best,
    })
}
