//! What a base of rules answers: owned, and free of anything that was borrowed.

mod none;
mod plan;

pub use none::{Clash, Clashing, Further, NoWeek, NotFound, SaidList};
pub use plan::{
    Bar, BarLoad, Composed, Item, LighterSet, Load, Missing, Plan, Said, Seen, Session, Shortfall,
    StandIn, StatedBest, Waiting, Watch, Worked,
};

/// What came out for a case.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Answer {
    /// The best week that was found, re-checked against the rules.
    Week(Box<Plan>),
    /// No week satisfies the hard rules.
    NoWeek(Box<NoWeek>),
    /// The limit of work was reached before any week was found.
    NotFound(NotFound),
}

impl Answer {
    /// The week, where there is one.
    #[must_use]
    pub fn week(&self) -> Option<&Plan> {
        match self {
            Self::Week(plan) => Some(plan),
            _ => None,
        }
    }

    /// The week, where there is one.
    #[must_use]
    pub fn into_week(self) -> Option<Plan> {
        match self {
            Self::Week(plan) => Some(*plan),
            _ => None,
        }
    }
}

/// What is known of how good a week is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Proof {
    /// The search says that no week is better.
    Claimed,
    /// The limit of work was reached; no week is better than the bound.
    Limited,
    /// It was cancelled before; no week is better than the bound.
    Cancelled,
}

impl Proof {
    /// The word of output.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Claimed => "claimed",
            Self::Limited => "limited",
            Self::Cancelled => "cancelled",
        }
    }
}

/// Units missed on each level.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub struct Missed {
    /// By rules that give way last.
    pub last: i64,
    /// By rules that give way in the middle.
    pub middle: i64,
    /// By rules that give way first.
    pub first: i64,
}

impl Missed {
    /// Whether nothing gave way.
    #[must_use]
    pub const fn is_none(&self) -> bool {
        self.last == 0 && self.middle == 0 && self.first == 0
    }
}

impl From<[i64; 3]> for Missed {
    fn from([last, middle, first]: [i64; 3]) -> Self {
        Self {
            last,
            middle,
            first,
        }
    }
}

/// How good a week could be at best: no week misses less, and none that misses as much is worth more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Bound {
    /// Units that every week misses at least.
    pub missed: Missed,
    /// Worth that no week exceeds, in hundredths of a point.
    pub worth: i64,
}
