//! `floor`: the points that a quality gets over the week.

use crate::base::QualityId;
use crate::rules::kinds::Floor;

use super::Held;
use super::exact::{Exact, Stop, less, scaled, total};
use super::found::Found;
use super::view::View;

impl Held for Floor {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let unit = self.unit.as_ref().map_or(1, |unit| i64::from(unit.value));
        let lack = less(bound(view, self)?, points(view, &self.quality)?)?;
        found.lack(self.yields, None, lack, unit)
    }
}

/// What a floor comes to in this case.
fn bound(view: &View<'_>, floor: &Floor) -> Exact<i64> {
    scaled(
        floor.points_at_least.value,
        &view
            .setting
            .factors(floor.scaled_by.iter().map(|id| &id.value)),
    )
}

/// Points that a quality gets over the week.
pub(super) fn points(view: &View<'_>, quality: &QualityId) -> Exact<i64> {
    let at = view
        .setting
        .graph
        .qualities
        .find(quality.as_str())
        .ok_or(Stop::Dangling)?;
    total(
        view.sessions()
            .flat_map(|(_, session)| session)
            .map(|item| Ok(item.trains(view.setting, view.week, at))),
    )
}

/// The largest floor of a quality that speaks, 0 with none.
pub(super) fn largest(view: &View<'_>, quality: &QualityId) -> Exact<i64> {
    let mut largest = None;
    for (_, floor) in view.setting.speaking(&view.setting.rules().floor) {
        if floor.quality.value == *quality {
            largest = largest.max(Some(bound(view, floor)?));
        }
    }
    Ok(largest.unwrap_or(0))
}
