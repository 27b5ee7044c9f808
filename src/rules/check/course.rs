//! Training blocks whose weeks can be laid out, and figures with ranges that mean something.

use crate::base::{At, Code, TrainingBlockId};
use crate::rules::vocab::{Span, Stretch, TrainingBlock, WaveWeek};

use super::Checks;
use super::conditions::{FieldSort, sort_of};
use super::items::get;
use super::sections::Sort;

/// More weeks than a block has.
const MOST_WEEKS: i64 = 52;

/// More than a week has of anything.
const MOST: i64 = 10_000;

/// Checks all of them.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for (id, block) in &pack.training_blocks {
        let len = block.stretches.len();
        checks.some(
            Sort::TrainingBlock,
            id.as_str(),
            &["stretches"],
            len,
            "stretch",
        );
        checks.span(&block.weeks, "weeks", 1, MOST_WEEKS);
        if let Some(field) = &block.ends_on {
            checks.is_field(field, FieldSort::Dates);
        }
        for stretch in &block.stretches {
            one(checks, stretch);
        }
        lengths(checks, id, block);
        order(checks, block);
    }
    for figure in pack.week_figures.values() {
        for (phase, range) in &figure.ranges {
            let fits = 0 <= range.from && range.from <= range.to && range.to <= MOST;
            if !fits {
                checks.problem(
                    Code::OutOfRange,
                    phase.place.clone(),
                    format!(
                        "from {} to {} is no range from 0 to {MOST}",
                        range.from, range.to
                    ),
                    "let `from` be no more than `to`",
                );
            }
        }
    }
}

fn one(checks: &mut Checks<'_, '_>, stretch: &Stretch) {
    checks.at(&stretch.percent, "percent", 1, 100);
    if let Some(weeks) = &stretch.weeks {
        checks.span(weeks, "weeks", 1, MOST_WEEKS);
    }
    let Some(wave) = &stretch.wave else { return };
    if wave.weeks.is_empty() {
        checks.problem(
            Code::MissingKey,
            wave.field.place.clone(),
            "a wave without weeks says nothing",
            "name a value for each week of it, or take it out",
        );
    }
    if checks.is_field(&wave.field, FieldSort::OneOf)
        && let Some(field) = get(&checks.pack.one_of, wave.field.as_str())
    {
        for WaveWeek { is: value } in wave.weeks.iter().map(|week| &week.value) {
            checks.value_of((Sort::CaseField, wave.field.as_str()), &field.values, value);
        }
    }
}

/// Every length that the block may have can be laid out.
fn lengths(checks: &mut Checks<'_, '_>, id: &At<TrainingBlockId>, block: &TrainingBlock) {
    let stretches = block.stretches.iter();
    let spans = stretches.map(|stretch| checks.pack.weeks_of(stretch));
    let Some(spans) = spans.collect::<Option<Vec<Span>>>() else {
        return;
    };
    let least: u32 = spans.iter().map(|span| u32::from(span.from)).sum();
    let most: u32 = spans.iter().map(|span| u32::from(span.to)).sum();
    let weeks = block.weeks.value;
    let is_span = 1 <= weeks.from && weeks.from <= weeks.to && i64::from(weeks.to) <= MOST_WEEKS;
    if !is_span {
        // That is told by itself.
        return;
    }
    if u32::from(weeks.from) < least || u32::from(weeks.to) > most {
        checks.problem(
            Code::Contradiction,
            block.weeks.place.clone(),
            format!(
                "`{id}` may have {} to {} weeks, and its stretches come to {least} to {most}",
                weeks.from, weeks.to
            ),
            "let `weeks` lie within what the stretches can have, or give a stretch `weeks` of its own",
        );
    }
}

/// A phase follows only one after which it may come.
fn order(checks: &mut Checks<'_, '_>, block: &TrainingBlock) {
    for two in block.stretches.windows(2) {
        let [one, next] = two else { continue };
        let Some(phase) = get(&checks.pack.phases, one.phase.as_str()) else {
            continue;
        };
        if !phase.then.contains(&next.phase) {
            checks.problem(
                Code::Contradiction,
                next.phase.place.clone(),
                format!("`{}` does not come after `{}`", next.phase, one.phase),
                format!(
                    "name one of what stands under `then` of `phases.{}`, or add it there",
                    one.phase
                ),
            );
        }
    }
}

impl Checks<'_, '_> {
    /// Whether an id that was read is a case field of a sort; says so where it is one of another.
    fn is_field(&mut self, field: &At<crate::base::CaseFieldId>, wanted: FieldSort) -> bool {
        match sort_of(self.pack, field.as_str()) {
            Some(sort) if sort != wanted => {
                self.problem(
                    Code::Contradiction,
                    field.place.clone(),
                    format!(
                        "`{field}` is a `{}` field, and this wants one of `{}`",
                        sort.word(),
                        wanted.word()
                    ),
                    "name another field",
                );
                false
            }
            held => held.is_some(),
        }
    }
}
