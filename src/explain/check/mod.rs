//! A week held against the rules once more: one that was handed out, or one that anybody put together.

mod handing;

use std::collections::BTreeMap;

use crate::base::Place;

use super::answer::{Missed, Plan};
use super::claim::{Level, Ruling};

pub(crate) use handing::{Handing, dosing, items_of};

/// What stands somewhere, in ids of the rules.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub struct Placing {
    /// Part of the session.
    pub part: String,
    /// What it is in the week for.
    pub role: String,
    /// The exercise.
    pub exercise: String,
}

impl Placing {
    /// An exercise in a role and part, each by its id.
    #[must_use]
    pub fn new(
        part: impl Into<String>,
        role: impl Into<String>,
        exercise: impl Into<String>,
    ) -> Self {
        Self {
            part: part.into(),
            role: role.into(),
            exercise: exercise.into(),
        }
    }
}

impl From<&super::answer::Item> for Placing {
    fn from(item: &super::answer::Item) -> Self {
        Self::new(
            item.part.as_str(),
            item.role.as_str(),
            item.exercise.as_str(),
        )
    }
}

/// What a week comes to by the rules alone.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Recheck {
    /// Hard bounds that it breaks.
    pub broken: Vec<Lack>,
    /// What may not stand as it stands.
    pub wrong: Vec<Wrongly>,
    /// Bounds that gave way.
    pub lacks: Vec<Lack>,
    /// Units missed on each level.
    pub missed: Missed,
    /// In hundredths of a point.
    pub worth: i64,
    /// The tie measure.
    pub tie: i64,
}

impl Recheck {
    /// Whether it breaks no hard rule and all of it may stand as it stands.
    #[must_use]
    pub fn stands(&self) -> bool {
        self.broken.is_empty() && self.wrong.is_empty()
    }

    /// Whether it stands, and is as good as the week says of itself.
    #[must_use]
    pub fn confirms(&self, plan: &Plan) -> bool {
        self.stands()
            && self.missed == plan.missed
            && self.worth == plan.worth
            && self.tie == plan.tie
    }

    /// Units that each bound that gave way misses over the whole week.
    #[must_use]
    pub fn units_missed(&self) -> BTreeMap<Ruling, i64> {
        let mut units = BTreeMap::new();
        for lack in &self.lacks {
            *units.entry(lack.ruling.clone()).or_insert(0) += lack.units;
        }
        units
    }
}

/// A bound that is missed.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Lack {
    /// Whose bound.
    pub ruling: Ruling,
    /// Where it is written.
    pub place: Place,
    /// Why the rule is there, in its own words; empty for a part of the layout.
    pub because: String,
    /// When it gives way.
    pub level: Level,
    /// Units missed.
    pub units: i64,
    /// By how much, in what the kind counts: items, sets, repetitions, points, pairs; seconds of
    /// a time, hundredths of a share.
    pub lack: i64,
    /// The day of the week, 1 to 7; of two days the earlier; none for a sum over the week.
    pub day: Option<u8>,
}

/// Something that may not stand as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Wrongly {
    /// The day of the week, 1 to 7, where it is about one.
    pub day: Option<u8>,
    /// The item's place in the session, counted from 0, where it is about one.
    pub at: Option<usize>,
    /// What is wrong, in words.
    pub what: String,
    /// What in the rules says so; empty for what is wrong by itself, such as an unknown exercise.
    pub says: Vec<Says>,
}

/// Something in the rules.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Says {
    /// Its path in rule files, such as `rules.exclude.ID`.
    pub path: String,
    /// Where it is written.
    pub place: Place,
    /// Why it is there, in its own words, where it says so.
    pub because: String,
}
