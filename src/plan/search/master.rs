//! Proposes multipliers: the relaxation over the sessions known so far.

use super::rows::{Aim, RowValues};
use super::session::Session;
use super::simplex::Simplex;
use super::stage::POINT;

/// What the relaxation says.
pub(super) struct Proposal {
    /// One multiplier a row.
    pub(super) multipliers: Vec<i64>,
    /// By column given: its share.
    pub(super) shares: Vec<f64>,
    /// By day: the value that a new session must pass to matter.
    pub(super) bars: Vec<i64>,
}

/// The most that a multiplier may be; keeps every sum far from the ends of the integers.
const MOST: f64 = (1i64 << 47) as f64;

/// Solves the relaxation over sessions of all days; every day needs at least one.
pub(super) fn propose(
    days: usize,
    rows: &[RowValues],
    hulls: &[Vec<(i64, f64)>],
    columns: &[(usize, &Session)],
    aim: Aim,
) -> Option<Proposal> {
    let scale = POINT as f64;
    // Rows that no session known touches, or whose totals are all worth the same, play no part: any
    // multiplier is right for them, so theirs is 0.
    let plays: Vec<Option<usize>> = {
        let mut next = days;
        (0..rows.len())
            .map(|row| {
                let flat = hulls.get(row).is_some_and(|hull| {
                    let first = hull.first().map(|(_, value)| *value);
                    hull.iter().all(|(_, value)| Some(*value) == first)
                });
                let touched = columns
                    .iter()
                    .any(|(_, session)| session.amounts.get(row).is_some_and(|amount| *amount != 0));
                (touched && !flat).then(|| {
                    next += 1;
                    next - 1
                })
            })
            .collect()
    };
    let count = days + plays.iter().flatten().count();
    let mut simplex = Simplex::new(count);
    for (day, session) in columns {
        let mut entries = vec![(*day, 1.0)];
        for (row, amount) in session
            .amounts
            .iter()
            .enumerate()
            .filter(|(_, amount)| **amount != 0)
        {
            if let Some(Some(place)) = plays.get(row) {
                entries.push((*place, *amount as f64));
            }
        }
        simplex.column(if aim == Aim::Score { session.score as f64 / scale } else { 0.0 }, f64::INFINITY, entries);
    }
    let mut basis = Vec::new();
    let mut values = Vec::new();
    let mut totals = vec![0i64; rows.len()];
    for day in 0..days {
        let at = columns.iter().position(|(held, _)| *held == day)?;
        let (_, session) = columns.get(at)?;
        for (total, amount) in totals.iter_mut().zip(&session.amounts) {
            *total += amount;
        }
        basis.push(at);
        values.push(1.0);
    }
    for ((hull, total), place) in hulls.iter().zip(&totals).zip(&plays) {
        let Some(place) = *place else { continue };
        let mut held = None;
        let (first, _) = *hull.first()?;
        if hull.len() < 2 {
            let column = simplex.column(0.0, 0.0, vec![(place, -1.0)]);
            held = Some((column, 0.0));
        }
        for pair in hull.windows(2) {
            let [(a, va), (b, vb)] = pair else { continue };
            let length = (*b - *a) as f64;
            let column =
                simplex.column((vb - va) / length / scale, length, vec![(place, -1.0)]);
            if held.is_none() {
                if total <= b || hull.last() == pair.last() {
                    held = Some((column, (*total - *a) as f64));
                } else {
                    simplex.raise(column);
                }
            }
        }
        let (column, value) = held?;
        basis.push(column);
        values.push(value);
        // The rows' right-hand sides are the hulls' first totals; values above are measured from there.
        let _ = first;
    }
    if !simplex.start(basis, values) {
        return None;
    }
    simplex.improve(4_000);
    let duals = simplex.duals();
    let multipliers = plays
        .iter()
        .map(|place| place.and_then(|place| duals.get(place)).copied().unwrap_or(0.0))
        .map(|dual| {
            let scaled = (-dual * scale).clamp(-MOST, MOST);
            if scaled.is_finite() {
                scaled.round() as i64
            } else {
                0
            }
        })
        .collect();
    let bars = duals
        .iter()
        .take(days)
        .map(|dual| {
            let scaled = (dual * scale).clamp(-1e18, 1e18);
            if scaled.is_finite() {
                scaled.round() as i64
            } else {
                0
            }
        })
        .collect();
    let shares = (0..columns.len()).map(|at| simplex.value(at)).collect();
    Some(Proposal {
        multipliers,
        shares,
        bars,
    })
}
