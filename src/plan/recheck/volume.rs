//! `volume`: repetitions of a session within the zones of a table. Each total and each item's set is a bound of its own.

use std::collections::{BTreeMap, BTreeSet};

use crate::plan::item::Item;
use crate::rules::kinds::{Together, Volume};
use crate::rules::vocab::{Zone, ZoneTable};

use super::Held;
use super::exact::{Exact, Stop, less, plus, times};
use super::found::Found;
use super::view::View;

impl Held for Volume {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let table = view
            .setting
            .pack
            .zone_tables
            .get(&self.table.value)
            .ok_or(Stop::Dangling)?;
        let unit = self.unit.as_ref().map_or(1, |unit| i64::from(unit.value));
        for (day, session) in view.sessions() {
            // By what is added up and by zone: the repetitions, and the most that the zone takes.
            let mut sums: BTreeMap<(usize, usize), (i64, i64)> = BTreeMap::new();
            for (at, item) in session
                .iter()
                .enumerate()
                .filter(|(_, item)| view.is(&self.what, item))
            {
                let Some((zone_at, zone)) = zone_of(table, item) else {
                    continue;
                };
                let over = less(item.dosed.reps, i64::from(zone.reps_per_set.value.to))?;
                found.lack(self.yields, Some(day), over, unit)?;
                let reps = times(item.dosed.sets, item.dosed.reps)?;
                for group in self.groups_of(view, at, item) {
                    let sum = sums
                        .entry((group, zone_at))
                        .or_insert((0, i64::from(zone.total.value.to)));
                    sum.0 = plus(sum.0, reps)?;
                }
            }
            for (reps, most) in sums.into_values() {
                found.lack(self.yields, Some(day), less(reps, most)?, unit)?;
            }
        }
        Ok(())
    }
}

impl Volume {
    /// What an item is added up with: itself, its skills, or the whole session.
    fn groups_of(&self, view: &View<'_>, at: usize, item: &Item) -> BTreeSet<usize> {
        match self.together {
            Together::Item => BTreeSet::from([at]),
            Together::Skill => view
                .exercise(item)
                .map(|exercise| exercise.skills.iter().collect())
                .unwrap_or_default(),
            Together::Session => BTreeSet::from([0]),
        }
    }
}

/// The zone that holds the top of an item's load.
fn zone_of<'t>(table: &'t ZoneTable, item: &Item) -> Option<(usize, &'t Zone)> {
    let (_, top) = item.dosed.percent?;
    table
        .zones
        .values()
        .enumerate()
        .find(|(_, zone)| zone.percent.holds(top))
}
