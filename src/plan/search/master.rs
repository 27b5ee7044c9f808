//! Proposes multipliers: the relaxation over the sessions known so far.

use super::rows::RowValues;
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
) -> Option<Proposal> {
    let scale = POINT as f64;
    let mut simplex = Simplex::new(days + rows.len());
    for (day, session) in columns {
        let mut entries = vec![(*day, 1.0)];
        for (row, amount) in session
            .amounts
            .iter()
            .enumerate()
            .filter(|(_, amount)| **amount != 0)
        {
            entries.push((days + row, *amount as f64));
        }
        simplex.column(session.score as f64 / scale, f64::INFINITY, entries);
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
    for (row, (hull, total)) in hulls.iter().zip(&totals).enumerate() {
        let mut held = None;
        let (first, _) = *hull.first()?;
        if hull.len() < 2 {
            let column = simplex.column(0.0, 0.0, vec![(days + row, -1.0)]);
            held = Some((column, 0.0));
        }
        for pair in hull.windows(2) {
            let [(a, va), (b, vb)] = pair else { continue };
            let length = (*b - *a) as f64;
            let column =
                simplex.column((vb - va) / length / scale, length, vec![(days + row, -1.0)]);
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
    let multipliers = duals
        .iter()
        .skip(days)
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
