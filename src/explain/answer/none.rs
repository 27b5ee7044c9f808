//! That there is no week, or that none was found.

use std::sync::Arc;

use crate::base::{BarId, CaseFieldId, LayoutId, PhaseId, Place, RuleId, SkillId, Weekday};
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
    /// What still cannot hold together behind it: where no part of a clash is enough by itself,
    /// its first part is left out and the next clash looked for, until a part is enough.
    pub further: Vec<Further>,
    /// Whether what clashes was seen to be irreducible: each clash by itself allows no week, and
    /// without any one of its parts it does. It was not where the limit of work was reached, or where the search was
    /// cancelled, which leaves everything in that was not looked at by then.
    pub irreducible: bool,
    /// The layout of the days.
    pub layout: LayoutId,
    /// What must be said whatever comes of it.
    pub cautions: Vec<Said>,
    pub(crate) glossary: Arc<Glossary>,
}

impl NoWeek {
    /// Every part that is named, of the first clash and of those behind it.
    pub fn parts(&self) -> impl Iterator<Item = &Clash> {
        let further = self.further.iter().flat_map(|further| &further.clash);
        self.clash.iter().chain(further)
    }
}

/// A clash that stands behind another one.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Further {
    /// The part of the clash before that is left out here, with those left out before it.
    pub once: Clashing,
    /// What cannot hold together then.
    pub clash: Vec<Clash>,
}

/// One part of a clash.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Clash {
    /// The rule, or what the case says.
    pub what: Clashing,
    /// Whether a week is found if this alone is left out and all the rest stays; in a further
    /// clash, without what is left out there.
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
    /// The phase.
    Phase {
        /// That of the case.
        phase: PhaseId,
        /// Those in which the clash is none.
        others: Vec<PhaseId>,
    },
    /// The bar.
    Bar {
        /// That of the case.
        bar: BarId,
        /// Those of the same measure with which the clash is none.
        others: Vec<BarId>,
    },
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
    /// Causes that the coach is sure of.
    SureOf,
    /// Bests.
    Bests,
    /// Exercises that are new to the lifter.
    New,
    /// Exercises that the lifter dislikes.
    Disliked,
    /// Exercises that were tried, with what came of them.
    Tried,
    /// Exercises of the week before.
    DidLastWeek,
    /// What stood in the week before, with its sets and loads.
    WeekBefore,
}

impl SaidList {
    /// The key of case files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Faults => "faults",
            Self::Observed => "observed",
            Self::SureOf => "sure-of",
            Self::Bests => "bests",
            Self::New => "new",
            Self::Disliked => "disliked",
            Self::Tried => "tried",
            Self::DidLastWeek => "did-last-week",
            Self::WeekBefore => "week-before",
        }
    }
}

/// The limit of work was reached, or the search was cancelled, before any week was found.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct NotFound {
    /// The fingerprint of the rules.
    pub fingerprint: String,
    /// Nodes that the search took.
    pub nodes: u64,
    /// Whether it was cancelled.
    pub cancelled: bool,
}
