//! A small dense simplex over bounded variables, for proposals only.
//!
//! What it says decides nothing: its duals are rounded to integers, and every
//! bound is worked out again from those in integers. So it may stop early.

/// A linear program: maximise `gain · x` with equal rows and `0 ≤ x ≤ most`.
pub(super) struct Simplex {
    rows: usize,
    columns: Vec<Column>,
    /// Column in the basis, by row.
    basis: Vec<usize>,
    /// Value of that column.
    values: Vec<f64>,
    /// Inverse of the basis, row by row.
    inverse: Vec<f64>,
}

struct Column {
    gain: f64,
    most: f64,
    entries: Vec<(usize, f64)>,
    state: State,
}

#[derive(Clone, Copy, PartialEq)]
enum State {
    Basic,
    Low,
    High,
}

const TINY: f64 = 1e-9;

impl Simplex {
    /// An empty program over so many rows.
    pub(super) fn new(rows: usize) -> Self {
        Self {
            rows,
            columns: Vec::new(),
            basis: vec![usize::MAX; rows],
            values: vec![0.0; rows],
            inverse: Vec::new(),
        }
    }

    /// Adds a column at zero; gives its index.
    pub(super) fn column(&mut self, gain: f64, most: f64, entries: Vec<(usize, f64)>) -> usize {
        self.columns.push(Column {
            gain,
            most,
            entries,
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
            for (row, value) in &held.entries {
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
        self.inverse = inverse;
        true
    }

    /// Duals of the rows.
    #[allow(clippy::indexing_slicing)] // every index is below `rows` squared by construction
    pub(super) fn duals(&self) -> Vec<f64> {
        let n = self.rows;
        let mut duals = vec![0.0f64; n];
        if self.inverse.len() != n * n {
            return duals;
        }
        for (place, column) in self.basis.iter().enumerate() {
            let gain = self.columns.get(*column).map_or(0.0, |held| held.gain);
            if gain != 0.0 {
                for (k, dual) in duals.iter_mut().enumerate() {
                    *dual += gain * self.inverse[place * n + k];
                }
            }
        }
        duals
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

    /// Improves until nothing does, or so many steps are done; gives how many were.
    #[allow(clippy::indexing_slicing)] // every index is below `rows` squared by construction
    pub(super) fn improve(&mut self, steps: usize) -> u64 {
        let n = self.rows;
        if self.inverse.len() != n * n {
            return 0;
        }
        let mut duals = self.duals();
        let mut done = 0u64;
        for step in 0..steps {
            done += 1;
            let scale = 1.0 + duals.iter().fold(0.0f64, |a, b| a.max(b.abs()));
            let mut enter: Option<(usize, f64)> = None;
            for (at, column) in self.columns.iter().enumerate() {
                if column.state == State::Basic {
                    continue;
                }
                let mut gain = column.gain;
                for (row, value) in &column.entries {
                    gain -= duals[*row] * value;
                }
                let better = match column.state {
                    State::Low => gain > TINY * scale,
                    _ => gain < -TINY * scale,
                };
                // Late in a long run the first that improves is taken, so that it ends.
                if better && enter.is_none_or(|(_, best)| gain.abs() > best.abs()) {
                    enter = Some((at, gain));
                    if step > steps * 3 / 4 {
                        break;
                    }
                }
            }
            let Some((enter, gain)) = enter else {
                return done;
            };
            let up = gain > 0.0;
            let mut along = vec![0.0f64; n];
            for (row, value) in &self.columns[enter].entries {
                for (place, slot) in along.iter_mut().enumerate() {
                    *slot += self.inverse[place * n + row] * value;
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
                    for k in 0..n {
                        self.inverse[place * n + k] *= by;
                    }
                    for (row, times) in along.iter().enumerate().filter(|(row, _)| *row != place) {
                        if *times != 0.0 {
                            for k in 0..n {
                                self.inverse[row * n + k] -= times * self.inverse[place * n + k];
                            }
                        }
                    }
                    let through = gain;
                    let row = &self.inverse[place * n..][..n];
                    for (dual, held) in duals.iter_mut().zip(row) {
                        *dual += through * held;
                    }
                }
            }
        }
        done
    }
}
