//! What holding one rule against a week finds.

use crate::rules::vocab::Yields;

use super::exact::{Exact, plus, started, times};

/// A bound that is missed.
pub(super) struct Lack {
    pub(super) yields: Yields,
    pub(super) units: i64,
    pub(super) lack: i64,
    pub(super) day: Option<usize>,
}

/// What one rule finds.
#[derive(Default)]
pub(super) struct Found {
    pub(super) lacks: Vec<Lack>,
    /// In hundredths of a point.
    pub(super) worth: i64,
}

impl Found {
    /// Notes by how much a bound is missed, `unit` of it being one unit; nothing where it is kept.
    pub(super) fn lack(
        &mut self,
        yields: Yields,
        day: Option<usize>,
        lack: i64,
        unit: i64,
    ) -> Exact<()> {
        if lack > 0 {
            self.lacks.push(Lack {
                yields,
                units: started(lack, unit)?,
                lack,
                day,
            });
        }
        Ok(())
    }

    /// Adds worth in points.
    pub(super) fn points(&mut self, points: i64) -> Exact<()> {
        self.hundredths(times(points, 100)?)
    }

    /// Adds worth in hundredths of a point, the scale of demand.
    pub(super) fn hundredths(&mut self, worth: i64) -> Exact<()> {
        self.worth = plus(self.worth, worth)?;
        Ok(())
    }
}
