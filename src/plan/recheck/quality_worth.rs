//! `quality-worth`: a table's value of the points that each quality gets, from zero or from its floor.

use crate::rules::kinds::QualityWorth;

use super::Held;
use super::exact::{Exact, Stop, less, worth_of};
use super::floor::{largest, points};
use super::found::Found;
use super::view::View;

impl Held for QualityWorth {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let table = view
            .setting
            .pack
            .tables
            .get(&self.table.value)
            .ok_or(Stop::Dangling)?;
        for quality in &self.qualities {
            let from = if self.above_floor {
                largest(view, quality)?
            } else {
                0
            };
            found.points(worth_of(table, less(points(view, quality)?, from)?)?)?;
        }
        Ok(())
    }
}
