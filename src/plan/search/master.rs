//! Proposes multipliers: the relaxation over the sessions known so far.

use crate::base::Cancel;

use super::rows::{covered, flat};
use super::simplex::Simplex;
use super::stage::POINT;

/// What the relaxation says.
pub(super) struct Proposal {
    /// One multiplier a row.
    pub(super) multipliers: Vec<i64>,
    /// By column given: its share.
    pub(super) shares: Vec<f64>,
    /// Points of work that it took.
    pub(super) work: u64,
}

/// The most that a multiplier may be; keeps every sum far from the ends of the integers.
const MOST: f64 = (1i64 << 47) as f64;

/// A session that the relaxation may take a share of: its day, its score, its amounts by row.
pub(super) type Choice<'c> = (usize, i64, &'c [i64]);

/// Whether some other total of a cover is worth more than one.
fn wants_more(hull: &[(i64, f64)], total: i64) -> bool {
    let here = covered(hull, total as f64);
    hull.iter().any(|(_, value)| *value > here)
}

/// Solves the relaxation over sessions of all days; every day needs at least one.
///
/// A row that no session moves away from its best total, or whose totals are all worth the same, asks for no multiplier and
/// is left out.
pub(super) fn propose(
    days: usize,
    hulls: &[Vec<(i64, f64)>],
    columns: &[Choice<'_>],
    cancel: &Cancel,
) -> Option<Proposal> {
    let scale = POINT as f64;
    let mut totals = vec![0i64; hulls.len()];
    let mut moved = vec![false; hulls.len()];
    let mut first = vec![None; days];
    for (at, (day, _, amounts)) in columns.iter().enumerate() {
        for (moved, amount) in moved.iter_mut().zip(*amounts) {
            *moved |= *amount != 0;
        }
        if let Some(slot) = first.get_mut(*day).filter(|slot| slot.is_none()) {
            *slot = Some(at);
            for (total, amount) in totals.iter_mut().zip(*amounts) {
                *total += amount;
            }
        }
    }
    let mut places = vec![None; hulls.len()];
    let mut count = days;
    for (((place, hull), moved), total) in places.iter_mut().zip(hulls).zip(&moved).zip(&totals) {
        if (*moved || wants_more(hull, *total)) && !flat(hull) {
            *place = Some(count);
            count += 1;
        }
    }
    let mut simplex = Simplex::new(count);
    for (day, score, amounts) in columns {
        let mut entries = vec![(*day, 1.0)];
        for (place, amount) in places
            .iter()
            .zip(*amounts)
            .filter(|(_, amount)| **amount != 0)
        {
            if let Some(place) = place {
                entries.push((*place, *amount as f64));
            }
        }
        simplex.column(*score as f64 / scale, f64::INFINITY, entries);
    }
    let mut basis: Vec<usize> = first.into_iter().collect::<Option<_>>()?;
    let mut values = vec![1.0; days];
    for ((hull, total), place) in hulls.iter().zip(&totals).zip(&places) {
        let Some(place) = place else { continue };
        let mut held = None;
        for pair in hull.windows(2) {
            let [(a, va), (b, vb)] = pair else { continue };
            let length = (*b - *a) as f64;
            let column = simplex.column((vb - va) / length / scale, length, vec![(*place, -1.0)]);
            if held.is_none() {
                if total <= b || hull.last() == pair.last() {
                    held = Some((column, (*total - *a) as f64));
                } else {
                    simplex.raise(column);
                }
            }
        }
        // The row's right-hand side is the hull's first total; values above are measured from there.
        let (column, value) = held?;
        basis.push(column);
        values.push(value);
    }
    if !simplex.start(basis, values) {
        return None;
    }
    let steps = simplex.improve(4_000, cancel);
    let duals = simplex.duals();
    let whole = |dual: f64, most: f64| -> i64 {
        let scaled = (dual * scale).clamp(-most, most);
        if scaled.is_finite() {
            scaled.round() as i64
        } else {
            0
        }
    };
    let multipliers = places
        .iter()
        .map(|place| {
            place
                .and_then(|place| duals.get(place))
                .map_or(0, |dual| whole(-dual, MOST))
        })
        .collect();
    let shares = (0..columns.len()).map(|at| simplex.value(at)).collect();
    Some(Proposal {
        multipliers,
        shares,
        work: (steps + 1).saturating_mul(count as u64) / 4,
    })
}
