//! A log of training, as a file says it and as read.

use serde::Deserialize;

use crate::base::{At, Decimal, FaultId, GradeId, Place, SkillId};

use super::case::FieldValue;

/// More entries than a log may have.
pub(crate) const MOST_ENTRIES: usize = 10_000;

/// More repetitions than a log may have in all: half of what highly qualified lifters do in a year (about 20,000, Laputin and
/// Oleshko 1982, chapter 3, read in another work). Exact intervals of more take long.
pub(crate) const MOST_REPETITIONS: u64 = 10_000;

/// More repetitions than one entry may have.
pub(super) const MOST_IN_ENTRY: u16 = 1_000;

/// More faults than one entry may name.
pub(super) const MOST_FAULTS: usize = 8;

/// One entry: a set, or several that were alike.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct EntryText {
    /// As YYYY-MM-DD.
    pub(crate) date: At<String>,
    /// By id or as it is written.
    pub(crate) exercise: At<String>,
    /// In the unit of the bar; not known where absent.
    pub(crate) load: Option<At<Decimal>>,
    /// How many sets it sums up, 1 to 50; one where absent.
    pub(crate) sets: Option<At<u16>>,
    /// Repetitions made, of a round whole rounds, in all its sets, 0 to 1 000.
    pub(crate) made: At<u16>,
    /// Repetitions missed, 0 to 1 000; none where absent.
    pub(crate) missed: Option<At<u16>>,
    /// Faults seen, by id or name; none where absent.
    pub(crate) fault: Option<At<FieldValue>>,
    /// The skill of each, in the same order; needed where a fault and the exercise share several.
    pub(crate) skill: Option<At<FieldValue>>,
    /// The grade of each, in the same order.
    pub(crate) grade: Option<At<FieldValue>>,
    /// In how many of the repetitions each was seen, in the same order; where absent in all that were missed, or, where none
    /// was, in all.
    pub(crate) seen: Option<At<FieldValue>>,
}

/// A fault that an entry names.
#[derive(Debug, Clone)]
pub(crate) struct EntryFault {
    pub(crate) fault: FaultId,
    pub(crate) place: Place,
    /// Where it is said.
    pub(crate) skill: Option<SkillId>,
    pub(crate) grade: Option<GradeId>,
    /// In how many of the repetitions.
    pub(crate) seen: u16,
    /// Whether that is said.
    pub(crate) is_said: bool,
}

/// An entry as read.
#[derive(Debug, Clone)]
pub(crate) struct Entry {
    /// In days since 1970-01-01.
    pub(crate) date: i64,
    pub(crate) exercise: At<String>,
    pub(crate) load: Option<Decimal>,
    pub(crate) sets: u16,
    pub(crate) made: u16,
    pub(crate) missed: u16,
    pub(crate) faults: Vec<EntryFault>,
}

impl Entry {
    /// Repetitions made and missed.
    pub(crate) fn repetitions(&self) -> u16 {
        self.made.saturating_add(self.missed)
    }
}

/// What a text says in one field of which several may be said: each by itself.
pub(super) fn several(value: &FieldValue) -> Vec<&str> {
    match value {
        FieldValue::One(text) => text.split('|').map(str::trim).collect(),
        FieldValue::Some(all) => all.iter().map(|text| text.trim()).collect(),
    }
}

/// A calendar week, from Monday on, counted from that of 1970-01-01.
pub(crate) fn week_of(date: i64) -> i64 {
    (date + 3).div_euclid(7)
}

/// The Monday of a week, in days since 1970-01-01.
pub(crate) fn monday_of(week: i64) -> i64 {
    week * 7 - 3
}
