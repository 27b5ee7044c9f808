//! That there is no week, or that none was found.

use std::sync::Arc;

use crate::base::{CaseFieldId, LayoutId, Place, RuleId, SkillId, Weekday};
use crate::explain::glossary::Glossary;

use super::Said;

/// No week satisfies the hard rules.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct NoWeek {
    /// The fingerprint of the rules.
    pub fingerprint: String,
    /// What cannot hold together. Empty where the layout's days cannot be filled even without
    /// any hard rule.
    pub clash: Vec<Clash>,
    /// Whether what clashes was seen to be irreducible: by itself it allows no week, and without
    /// any one of its parts it does.
    pub irreducible: bool,
    /// The layout of the days.
    pub layout: LayoutId,
    /// What must be said whatever comes of it.
    pub cautions: Vec<Said>,
    pub(crate) glossary: Arc<Glossary>,
}

/// One part of a clash.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Clash {
    /// The rule, or what the case says.
    pub what: Clashing,
    /// Whether a week is found if this alone is left out and all the rest stays.
    pub enough: bool,
}

/// A rule or a case field that takes part in a clash.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Clashing {
    /// A hard rule.
    Rule {
        /// The word of its kind.
        kind: &'static str,
        /// The rule.
        id: RuleId,
        /// Where it stands.
        place: Place,
    },
    /// What the case says in a field.
    Field {
        /// The field.
        field: CaseFieldId,
        /// The skill that it is said for, where it is said for one.
        skill: Option<SkillId>,
        /// The training day that says it, where one does for itself.
        day: Option<Weekday>,
        /// What the case says, in words.
        says: String,
    },
    /// The training days that the case names, in words.
    Days(String),
    /// The layout that the case names.
    Layout(LayoutId),
    /// The pieces that the gym has.
    Pieces,
    /// All that the case lists of one sort.
    List {
        /// Which list.
        list: SaidList,
        /// What it lists, in words.
        says: String,
    },
}

/// A list in a case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum SaidList {
    /// Faults that were seen.
    Faults,
    /// What else was looked at and was true, listed or measured.
    Observed,
    /// Bests.
    Bests,
    /// Exercises that are new to the lifter.
    New,
    /// Exercises that the lifter dislikes.
    Disliked,
}

impl SaidList {
    /// The key of case files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Faults => "faults",
            Self::Observed => "observed",
            Self::Bests => "bests",
            Self::New => "new",
            Self::Disliked => "disliked",
        }
    }
}

/// The limit of work was reached before any week was found.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct NotFound {
    /// The fingerprint of the rules.
    pub fingerprint: String,
    /// Nodes that the search took.
    pub nodes: u64,
}
