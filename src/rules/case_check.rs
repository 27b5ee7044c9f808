//! A case as checked against a pack.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::base::{
    BarId, CaseFieldId, CauseId, Decimal, ExerciseId, FaultId, GradeId, LayoutId, ObservationId,
    PhaseId, ReferenceId, RoleId, SkillId, TrackMeasureId, ValueId, Weekday,
};

pub(crate) use super::case_file::{read_case, read_case_text};
pub(crate) use super::case_read::{check_case, check_tests_with};

use super::case::CaseText;
use super::vocab::Came;

/// The value of a case field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Value {
    /// Of a `one-of` field.
    Word(ValueId),
    /// Of a `some-of` field.
    Words(BTreeSet<ValueId>),
    /// Of a `whole` field.
    Number(i64),
    /// Of a `dates` field, in days since 1970-01-01.
    Date(i64),
}

/// One fault that was seen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Seen {
    pub(crate) fault: FaultId,
    pub(crate) skill: SkillId,
    pub(crate) grade: GradeId,
    pub(crate) severity: u8,
    /// In how many attempts of how many; unknown where absent.
    pub(crate) times: Option<(u16, u16)>,
    /// The load at which it starts, in percent of the best.
    pub(crate) from_percent: Option<u8>,
    /// What that load makes true of this fault.
    pub(crate) also: BTreeSet<ObservationId>,
}

impl Seen {
    /// Whether a look is true of this fault in its case.
    pub(crate) fn shows(&self, case: &Case, look: &ObservationId) -> bool {
        case.observed.contains(look) || self.also.contains(look)
    }
}

/// A kind of disc that the gym has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct GymPiece {
    pub(crate) weight: Decimal,
    pub(crate) full_diameter: bool,
    /// How many pairs; any number where absent.
    pub(crate) pairs: Option<u8>,
}

/// What lies behind of a week that has begun.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct SoFar {
    /// By day of the week, 1 to 7: what was done, in order.
    pub(crate) done: BTreeMap<u8, Vec<DoneItem>>,
    /// Days of the layout on which nothing was done.
    pub(crate) missed: BTreeSet<u8>,
}

/// Something that was done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct DoneItem {
    /// The part's place in the day.
    pub(crate) slot: usize,
    pub(crate) role: RoleId,
    pub(crate) exercise: ExerciseId,
}

/// Something that stood in the week before.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Before {
    pub(crate) exercise: ExerciseId,
    pub(crate) role: RoleId,
    pub(crate) sets: i64,
    /// Of one set, all components counted.
    pub(crate) reps: i64,
    /// Top of its load, in percent of its reference.
    pub(crate) percent: Option<i64>,
    /// In how many weeks in a row it had been done by then.
    pub(crate) weeks: i64,
}

/// A case as checked against a pack, defaults filled in.
#[derive(Debug, Clone)]
pub(crate) struct Case {
    /// What it follows from.
    pub(crate) text: Arc<CaseText>,
    pub(crate) lifter: String,
    /// In days since 1970-01-01.
    pub(crate) today: Option<i64>,
    pub(crate) phase: PhaseId,
    pub(crate) layout: Option<LayoutId>,
    /// The training days that the case names, each with what it says itself; empty where it names none.
    pub(crate) days: BTreeMap<Weekday, BTreeMap<CaseFieldId, i64>>,
    pub(crate) faults: Vec<Seen>,
    /// What the case lists and what a measured value makes true.
    pub(crate) observed: BTreeSet<ObservationId>,
    #[cfg_attr(
        not(test),
        expect(
            dead_code,
            reason = "what it makes true stands in `observed`; tests read it"
        )
    )]
    pub(crate) measured: BTreeMap<TrackMeasureId, i64>,
    pub(crate) ruled_out: BTreeSet<CauseId>,
    /// By skill, causes that the coach is sure of.
    pub(crate) sure_of: BTreeSet<(SkillId, CauseId)>,
    pub(crate) bests: BTreeMap<ReferenceId, Decimal>,
    /// The days on which bests were lifted, in days since 1970-01-01, where they are known.
    pub(crate) best_days: BTreeMap<ReferenceId, i64>,
    pub(crate) bar: BarId,
    /// Further bars of the same measure.
    pub(crate) other_bars: BTreeSet<BarId>,
    pub(crate) collars: bool,
    /// Heaviest first.
    pub(crate) pieces: Vec<GymPiece>,
    pub(crate) new: BTreeSet<ExerciseId>,
    pub(crate) disliked: BTreeSet<ExerciseId>,
    /// What came of what was tried.
    pub(crate) tried: BTreeMap<ExerciseId, Came>,
    pub(crate) did_last_week: BTreeSet<ExerciseId>,
    pub(crate) week_before: Vec<Before>,
    /// Said or by default; an unknown field is absent. What is not asked of one day is read by [`Case::value`].
    pub(crate) fields: BTreeMap<CaseFieldId, Value>,
    pub(crate) by_skill: BTreeMap<(SkillId, CaseFieldId), Value>,
    /// Fields that the case itself says.
    pub(crate) stated: BTreeSet<CaseFieldId>,
    /// Empty for a week that has not begun.
    pub(crate) so_far: SoFar,
    /// Exercises that must stand in the week so often, whatever the rules say; what they cost is asked so.
    pub(crate) wanted: BTreeMap<ExerciseId, i64>,
}

impl Case {
    /// The value of a field where no single day is asked: where a training day says its own, the mean of
    /// the days' values, rounded down.
    pub(crate) fn value(&self, field: &CaseFieldId) -> Option<Value> {
        let case = self.fields.get(field);
        if !self.days.values().any(|said| said.contains_key(field)) {
            return case.cloned();
        }
        let mut sum = 0i64;
        for said in self.days.values() {
            sum += match (said.get(field), case) {
                (Some(number), _) | (None, Some(Value::Number(number))) => *number,
                (None, _) => return None,
            };
        }
        let days = i64::try_from(self.days.len()).unwrap_or(1).max(1);
        Some(Value::Number(sum.div_euclid(days)))
    }

    /// In how many weeks in a row an exercise was done, up to the week before; nought where it was not done in that.
    pub(crate) fn weeks_in_a_row(&self, exercise: &ExerciseId) -> i64 {
        let before = self.week_before.iter();
        let weeks = before.filter(|held| held.exercise == *exercise);
        let listed = i64::from(self.did_last_week.contains(exercise));
        weeks.map(|held| held.weeks).max().unwrap_or(listed)
    }

    /// Whether the case says a field: by itself, or on each of its days.
    pub(crate) fn says(&self, field: &CaseFieldId) -> bool {
        let on_all = || self.days.values().all(|said| said.contains_key(field));
        self.stated.contains(field) || (!self.days.is_empty() && on_all())
    }
}
