//! Tables, zones, pieces, bars and references: what must rise, fall or not overlap.

use std::collections::BTreeMap;

use crate::base::{At, Code, Decimal, Diagnostic, Place, ReferenceId};
use crate::rules::vocab::{Measure, Table, Zone, ZoneTable};

use super::Checks;
use super::sections::Sort;

/// More worth than any table needs; sums of products of it still fit.
const MOST_WORTH: i64 = 10_000;

/// Checks tables and loads.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for (id, table) in &pack.tables {
        check_table(checks, id.as_str(), table);
    }
    for (id, table) in &pack.zone_tables {
        check_zones(checks, id.as_str(), table);
    }
    for (id, measure) in &pack.measures {
        check_measure(checks, id.as_str(), measure);
    }
    for (id, bar) in &pack.bars {
        let place = |key| checks.place(Sort::Bar, id.as_str(), &[key]);
        let (weight, collar) = (place("weight"), place("collar"));
        checks.load(&weight, "weight", bar.weight, false);
        checks.load(&collar, "collar", bar.collar, true);
    }
    for (id, reference) in &pack.references {
        let mut held: BTreeMap<&ReferenceId, &Place> = BTreeMap::new();
        for instead in &reference.instead {
            if instead.from == *id {
                let what = format!("`{id}` stands in for itself");
                checks.problem(
                    Code::Contradiction,
                    instead.from.place.clone(),
                    what,
                    "name another reference",
                );
            }
            checks.number(
                &instead.from.place,
                "percent",
                instead.percent.into(),
                1,
                300,
            );
            if let Some(first) = held.get(&instead.from.value) {
                checks.out.push(
                    Diagnostic::new(
                        Code::DuplicateId,
                        instead.from.place.clone(),
                        format!("`{}` stands in twice", instead.from),
                        "take one out; the first that is known counts",
                    )
                    .with_also((*first).clone(), "it stands here first"),
                );
            } else {
                held.insert(&instead.from.value, &instead.from.place);
            }
        }
    }
}

fn check_table(checks: &mut Checks<'_, '_>, id: &str, table: &Table) {
    checks.at(&table.below_zero, "below-zero", 0, MOST_WORTH);
    checks.some(Sort::Table, id, &["steps"], table.steps.len(), "step");
    let mut slope = table.below_zero.value;
    let mut reached = 0;
    for step in &table.steps {
        if step.to <= reached {
            let what = format!(
                "the step ends at {}, which is not beyond {reached}",
                step.to
            );
            checks.problem(
                Code::OutOfRange,
                step.place.clone(),
                what,
                "let each step end further up than the one before, the first above 0",
            );
        }
        checks.number(&step.place, "to", step.to, i64::MIN, MOST_WORTH);
        checks.number(&step.place, "each", step.each, -MOST_WORTH, MOST_WORTH);
        if step.each > slope {
            let before = if reached == 0 {
                "below zero"
            } else {
                "in the step before"
            };
            let what = format!(
                "the slope rises: a unit is worth {} here and {slope} {before}",
                step.each
            );
            checks.problem(Code::RisingSlope, step.place.clone(), what, "let each step be worth no more than the one before, and the first no more than `below-zero`");
        }
        reached = reached.max(step.to);
        slope = step.each;
    }
    if let (true, Some(last)) = (slope < 0, table.steps.last()) {
        let what = format!(
            "the slope rises: a unit is worth {slope} here and nothing beyond the last step"
        );
        checks.problem(
            Code::RisingSlope,
            last.place.clone(),
            what,
            "let no step be worth less than 0",
        );
    }
}

fn check_zones(checks: &mut Checks<'_, '_>, id: &str, table: &ZoneTable) {
    checks.some(Sort::ZoneTable, id, &["zones"], table.zones.len(), "zone");
    let mut last: Option<(&str, &Zone)> = None;
    for (at, (zone_id, zone)) in table.zones.iter().enumerate() {
        checks.span(&zone.reps_per_set, "reps-per-set", 1, 100);
        checks.span(&zone.total, "total", 0, 1_000);
        let (from, to) = (zone.total.from, zone.total.to);
        if !(from..=to).contains(&zone.best_total) && from <= to {
            let place = checks.place(
                Sort::ZoneTable,
                id,
                &["zones", zone_id.as_str(), "best-total"],
            );
            checks.number(
                &place,
                "best-total",
                zone.best_total.into(),
                from.into(),
                to.into(),
            );
        }
        let open_below = zone.percent.at_least.is_none() && at > 0;
        let open_above = zone.percent.at_most.is_none() && at + 1 < table.zones.len();
        if open_below || open_above {
            let what = format!("the zone `{zone_id}` has an open end towards another zone");
            checks.problem(
                Code::Contradiction,
                zone_id.place.clone(),
                what,
                "write both ends of its percent; only the outermost may be open",
            );
        } else if let Some((other, before)) = last
            && let (Some(most), Some(least)) = (before.percent.at_most, zone.percent.at_least)
            && least <= most
        {
            let what = format!(
                "the zone `{zone_id}` begins at {least}, and `{other}` before it ends at {most}"
            );
            checks.problem(Code::Contradiction, zone_id.place.clone(), what, "write the zones from light to heavy, each beginning above the end of the one before");
        }
        last = Some((zone_id.as_str(), zone));
    }
}

fn check_measure(checks: &mut Checks<'_, '_>, id: &str, measure: &Measure) {
    checks.some(
        Sort::Measure,
        id,
        &["pieces"],
        measure.pieces.len(),
        "piece",
    );
    let mut last: Option<Decimal> = None;
    for piece in &measure.pieces {
        let before = checks.out.len();
        checks.load(&piece.place, "weight", piece.weight, false);
        if checks.out.len() > before {
            // What weighs nothing, or too much, has no place among the others.
            continue;
        }
        if let Some(last) = last.filter(|last| *last <= piece.weight) {
            let what = format!("a piece of {} stands after one of {last}", piece.weight);
            checks.problem(
                Code::OutOfRange,
                piece.place.clone(),
                what,
                "write the pieces from heavy to light, each weight once",
            );
        }
        last = Some(piece.weight);
    }
}

impl Checks<'_, '_> {
    /// Values must rise from one to the next.
    pub(super) fn rising<T>(&mut self, steps: &[At<T>], key: &str, value: impl Fn(&T) -> i64) {
        for (before, after) in steps.iter().zip(steps.iter().skip(1)) {
            if value(after) <= value(before) {
                let what = format!("`{key}` is {} after {}", value(after), value(before));
                self.problem(
                    Code::OutOfRange,
                    after.place.clone(),
                    what,
                    format!("let `{key}` rise from step to step"),
                );
            }
        }
    }
}
