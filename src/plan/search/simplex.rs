//! A small dense simplex over bounded variables, for proposals only.
//!
//! What it says decides nothing: its duals are rounded to integers, and every
//! bound is worked out again from those in integers. So it may stop early.

use crate::base::Cancel;

/// A linear program: maximise `gain · x` with equal rows and `0 ≤ x ≤ most`.
pub(super) struct Simplex {
    rows: usize,
    columns: Vec<Column>,
    /// What the columns hold, one column after another: row and amount.
    entries: Vec<(usize, f64)>,
    /// Column in the basis, by row.
    basis: Vec<usize>,
    /// Value of that column.
    values: Vec<f64>,
    /// Inverse of the basis, column by column: a step leaves most columns as they are, and runs along the others.
    inverse: Vec<f64>,
}

struct Column {
    gain: f64,
    most: f64,
    /// Where its entries begin and end.
    from: usize,
    to: usize,
    state: State,
}

#[derive(Clone, Copy, PartialEq)]
enum State {
    Basic,
    Low,
    High,
}

const TINY: f64 = 1e-9;
/// Most columns kept from one look through all to the next.
const LIST: usize = 24;
/// After so many steps it looks whether it was cancelled.
const LOOK_UP: usize = 32;

/// The column whose unit brings most; of those that bring the same the first.
fn best(columns: impl Iterator<Item = (usize, f64)>) -> Option<(usize, f64)> {
    columns.fold(None, |best, (at, gain)| match best {
        Some((held, most)) if (gain.abs(), held) <= (f64::abs(most), at) => Some((held, most)),
        _ => Some((at, gain)),
    })
}

impl Simplex {
    /// An empty program over so many rows.
    pub(super) fn new(rows: usize) -> Self {
        Self {
            rows,
            columns: Vec::new(),
            entries: Vec::new(),
            basis: vec![usize::MAX; rows],
            values: vec![0.0; rows],
            inverse: Vec::new(),
        }
    }

    /// Adds a column at zero; gives its index.
    pub(super) fn column(
        &mut self,
        gain: f64,
        most: f64,
        entries: impl IntoIterator<Item = (usize, f64)>,
    ) -> usize {
        let from = self.entries.len();
        self.entries.extend(entries);
        self.columns.push(Column {
            gain,
            most,
            from,
            to: self.entries.len(),
            state: State::Low,
        });
        self.columns.len() - 1
    }

    /// Puts a column at its upper end.
    pub(super) fn raise(&mut self, column: usize) {
        if let Some(held) = self.columns.get_mut(column) {
            held.state = State::High;
        }
    }

    /// Starts from a basis with its values; false where it can't be inverted.
    pub(super) fn start(&mut self, basis: Vec<usize>, values: Vec<f64>) -> bool {
        self.basis = basis;
        self.values = values;
        for at in 0..self.basis.len() {
            if let Some(held) = self
                .basis
                .get(at)
                .and_then(|column| self.columns.get_mut(*column))
            {
                held.state = State::Basic;
            }
        }
        self.invert()
    }

    /// Starts from a basis of columns with a one each, in their own rows.
    pub(super) fn start_apart(&mut self, basis: Vec<usize>, values: Vec<f64>) {
        let n = basis.len();
        self.rows = n;
        for column in &basis {
            if let Some(held) = self.columns.get_mut(*column) {
                held.state = State::Basic;
            }
        }
        self.basis = basis;
        self.values = values;
        self.inverse = vec![0.0; n * n];
        for slot in self.inverse.iter_mut().step_by(n + 1) {
            *slot = 1.0;
        }
    }

    #[allow(clippy::indexing_slicing)] // every index is below `rows` squared by construction
    fn invert(&mut self) -> bool {
        let n = self.rows;
        let mut matrix = vec![0.0f64; n * n];
        for (place, column) in self.basis.iter().enumerate() {
            let Some(held) = self.columns.get(*column) else {
                return false;
            };
            for (row, value) in &self.entries[held.from..held.to] {
                if *row < n {
                    matrix[row * n + place] = *value;
                }
            }
        }
        let mut inverse = vec![0.0f64; n * n];
        for at in 0..n {
            inverse[at * n + at] = 1.0;
        }
        for at in 0..n {
            let Some(pivot) = (at..n).max_by(|a, b| {
                matrix[a * n + at]
                    .abs()
                    .total_cmp(&matrix[b * n + at].abs())
            }) else {
                return false;
            };
            if matrix[pivot * n + at].abs() < 1e-12 {
                return false;
            }
            if pivot != at {
                for k in 0..n {
                    matrix.swap(pivot * n + k, at * n + k);
                    inverse.swap(pivot * n + k, at * n + k);
                }
            }
            let by = 1.0 / matrix[at * n + at];
            for k in 0..n {
                matrix[at * n + k] *= by;
                inverse[at * n + k] *= by;
            }
            for row in (0..n).filter(|row| *row != at) {
                let times = matrix[row * n + at];
                if times != 0.0 {
                    for k in 0..n {
                        matrix[row * n + k] -= times * matrix[at * n + k];
                        inverse[row * n + k] -= times * inverse[at * n + k];
                    }
                }
            }
        }
        self.inverse = vec![0.0f64; n * n];
        for (place, row) in inverse.chunks_exact(n).enumerate() {
            for (at, value) in row.iter().enumerate() {
                self.inverse[at * n + place] = *value;
            }
        }
        true
    }

    /// Duals of the rows.
    #[allow(clippy::indexing_slicing)] // every index is below `rows` squared by construction
    pub(super) fn duals(&self) -> Vec<f64> {
        let n = self.rows;
        if n == 0 || self.inverse.len() != n * n {
            return vec![0.0f64; n];
        }
        let gains: Vec<f64> = self
            .basis
            .iter()
            .map(|column| self.columns.get(*column).map_or(0.0, |held| held.gain))
            .collect();
        let dual = |column: &[f64]| {
            let parts = gains.iter().zip(column);
            parts.fold(0.0, |sum, (gain, held)| sum + gain * held)
        };
        self.inverse.chunks_exact(n).map(dual).collect()
    }

    /// Value of a column.
    pub(super) fn value(&self, column: usize) -> f64 {
        match self.columns.get(column) {
            Some(held) => match held.state {
                State::Low => 0.0,
                State::High => held.most,
                State::Basic => self
                    .basis
                    .iter()
                    .position(|held| *held == column)
                    .and_then(|at| self.values.get(at))
                    .copied()
                    .unwrap_or(0.0),
            },
            None => 0.0,
        }
    }

    /// What a unit of a column brings, where moving it improves.
    #[allow(clippy::indexing_slicing)] // rows are those of the program, and columns come from it
    fn better(&self, at: usize, duals: &[f64], scale: f64) -> Option<(usize, f64)> {
        let column = &self.columns[at];
        let mut gain = column.gain;
        for (row, value) in &self.entries[column.from..column.to] {
            gain -= duals[*row] * value;
        }
        let better = match column.state {
            State::Basic => false,
            State::Low => gain > TINY * scale,
            State::High => gain < -TINY * scale,
        };
        better.then_some((at, gain))
    }

    /// Improves until nothing does, so many steps are done or it is cancelled; gives how many were.
    #[allow(clippy::indexing_slicing)] // every index is below `rows` squared by construction
    pub(super) fn improve(&mut self, steps: usize, cancel: &Cancel) -> u64 {
        let n = self.rows;
        if self.inverse.len() != n * n {
            return 0;
        }
        let mut duals = self.duals();
        let mut along = vec![0.0f64; n];
        // The columns that improved most when all were looked through; they come first until none does any more.
        let mut list: Vec<(usize, f64)> = Vec::new();
        let mut done = 0u64;
        for step in 0..steps {
            if step.is_multiple_of(LOOK_UP) && cancel.is_cancelled() {
                return done;
            }
            done += 1;
            let scale = 1.0 + duals.iter().fold(0.0f64, |a, b| a.max(b.abs()));
            let kept = list.iter().map(|(at, _)| *at);
            let mut enter = best(kept.filter_map(|at| self.better(at, &duals, scale)));
            if enter.is_none() {
                let all = (0..self.columns.len()).filter_map(|at| self.better(at, &duals, scale));
                list.clear();
                // Late in a long run the first that improves is taken, so that it ends.
                list.extend(all.take(if step > steps * 3 / 4 { 1 } else { usize::MAX }));
                if list.len() > LIST {
                    list.select_nth_unstable_by(LIST, |(a, ga), (b, gb)| {
                        gb.abs().total_cmp(&ga.abs()).then(a.cmp(b))
                    });
                    list.truncate(LIST);
                }
                enter = best(list.iter().copied());
            }
            let Some((enter, gain)) = enter else {
                return done;
            };
            let up = gain > 0.0;
            along.fill(0.0);
            let held = &self.columns[enter];
            for (row, value) in &self.entries[held.from..held.to] {
                for (slot, held) in along.iter_mut().zip(&self.inverse[row * n..][..n]) {
                    *slot += held * value;
                }
            }
            // Moving the entering column by t moves the basic ones by -t along (or +t when it falls).
            let sign = if up { 1.0 } else { -1.0 };
            let mut most = self.columns[enter].most;
            let mut leave: Option<(usize, bool)> = None;
            for (place, along) in along.iter().enumerate() {
                let change = -sign * along;
                if change.abs() < 1e-11 {
                    continue;
                }
                let value = self.values[place];
                let upper = self.columns[self.basis[place]].most;
                let (room, high) = if change < 0.0 {
                    (value / -change, false)
                } else {
                    ((upper - value) / change, true)
                };
                let room = room.max(0.0);
                if room < most - 1e-12
                    || (room <= most && leave.is_none() && room < self.columns[enter].most)
                {
                    most = room;
                    leave = Some((place, high));
                }
            }
            if !most.is_finite() {
                return done;
            }
            for (place, along) in along.iter().enumerate() {
                self.values[place] -= sign * along * most;
            }
            match leave {
                None => {
                    self.columns[enter].state = if up { State::High } else { State::Low };
                }
                Some((place, high)) => {
                    let old = self.basis[place];
                    self.columns[old].state = if high { State::High } else { State::Low };
                    let from = if up { 0.0 } else { self.columns[enter].most };
                    self.columns[enter].state = State::Basic;
                    self.basis[place] = enter;
                    self.values[place] = from + sign * most;
                    let by = 1.0 / along[place];
                    // The row that leaves is scaled; every other loses its share of it.
                    along[place] = 0.0;
                    for (column, dual) in self.inverse.chunks_exact_mut(n).zip(&mut duals) {
                        if column[place] == 0.0 {
                            continue;
                        }
                        let scaled = column[place] * by;
                        for (slot, times) in column.iter_mut().zip(&along) {
                            *slot -= times * scaled;
                        }
                        column[place] = scaled;
                        *dual += gain * scaled;
                    }
                }
            }
        }
        done
    }
}
