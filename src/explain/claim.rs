//! What a trail claims: facts as data, never as text.

use std::fmt;

use crate::base::{
    CauseId, ConstraintId, DoseId, ExerciseId, FaultId, GradeId, ObservationId, PartId, QualityId,
    RoleId, RuleId, SkillId,
};

use super::LAYOUT_BOUNDS;

/// Whose bound it is.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Ruling {
    /// A rule's; `kind` is the word of its section in rule files.
    Rule {
        /// The word of the rule's kind, such as `count`.
        kind: &'static str,
        /// The rule.
        id: RuleId,
    },
    /// That of a part of the layout's day: fewest and most items.
    Part(PartId),
}

impl Ruling {
    /// The word of the rule's kind; `layouts` for a part of the layout.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Rule { kind, .. } => kind,
            Self::Part(_) => LAYOUT_BOUNDS,
        }
    }

    /// Whether it is that of a rule with this id, of whatever kind.
    pub(crate) fn is_rule(&self, wanted: &str) -> bool {
        matches!(self, Self::Rule { id, .. } if id.as_str() == wanted)
    }

    /// The rule's id, or the part's.
    #[must_use]
    pub fn id(&self) -> &str {
        match self {
            Self::Rule { id, .. } => id.as_str(),
            Self::Part(part) => part.as_str(),
        }
    }
}

impl fmt::Display for Ruling {
    /// Written as in rule files: `rules.count.ID`, or `layouts.PART`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&super::glossary::rule_path(self.kind(), self.id()))
    }
}

/// What gives way: a hard rule never; `first` before `middle` before `last`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Level {
    /// A week that breaks it is no week.
    Never,
    /// Gives way only when nothing else can.
    Last,
    /// Gives way after `first`.
    Middle,
    /// Gives way before all others.
    First,
}

impl Level {
    /// The word of rule files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Never => "never",
            Self::Last => "last",
            Self::Middle => "middle",
            Self::First => "first",
        }
    }
}

impl From<crate::rules::vocab::Yields> for Level {
    fn from(yields: crate::rules::vocab::Yields) -> Self {
        use crate::rules::vocab::Yields;
        match yields {
            Yields::Never => Self::Never,
            Yields::Last => Self::Last,
            Yields::Middle => Self::Middle,
            Yields::First => Self::First,
        }
    }
}

/// Why a cause is not worked on now.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum WaitsFor {
    /// Its demand is below what is worked on.
    MoreDemand,
    /// The skill has as many causes as are worked on at once.
    RoomInSkill,
    /// The week has as many causes as are worked on at once.
    RoomInAll,
    /// It asks for the opposite of a cause that has the better support.
    Opposite {
        /// The cause that is worked on.
        cause: CauseId,
        /// The look that tells the two apart, where the rules name one.
        look: Option<ObservationId>,
        /// Whether the coach is sure of the cause that is worked on.
        sure: bool,
    },
}

/// What an item adds to the worth of a week.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Gain {
    /// Help on a cause in focus, by these constraints.
    Cause {
        /// The skill.
        skill: SkillId,
        /// The cause.
        cause: CauseId,
        /// The constraints that help most.
        by: Vec<ConstraintId>,
        /// Whether the coach is sure of the cause.
        sure: bool,
    },
    /// Points of a quality.
    Quality {
        /// The quality.
        quality: QualityId,
        /// How many points it gives.
        points: i64,
    },
    /// A rule prefers it.
    Preference(RuleId),
}

/// One fact.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Claim {
    /// The case states a fault.
    Seen {
        /// The fault.
        fault: FaultId,
        /// The skill in which it is seen.
        skill: SkillId,
        /// Its grade.
        grade: GradeId,
        /// The grade's severity, 1 to 3.
        severity: u8,
        /// In how many attempts of how many it was seen, where the case says so.
        times: Option<(u16, u16)>,
        /// The load at which it starts, in percent of the best, where the case says so.
        from_percent: Option<u8>,
    },
    /// A stated fault was seen in too few attempts to count.
    TooSeldom {
        /// The fault.
        fault: FaultId,
        /// The skill in which it is seen.
        skill: SkillId,
        /// The rule that says from how many on it counts.
        rule: RuleId,
    },
    /// A further look is true, by the case, by a measured value or by the load at which a fault starts.
    Observed(ObservationId),
    /// The case says that the coach is sure of a cause.
    Sure {
        /// The skill.
        skill: SkillId,
        /// The cause.
        cause: CauseId,
    },
    /// A cause of a skill asks for work.
    Demand {
        /// The skill.
        skill: SkillId,
        /// The cause.
        cause: CauseId,
        /// Percent times severity, summed over faults, 1 to 300; at least as if certain where the coach is sure.
        points: i64,
    },
    /// A cause is worked on this week.
    InFocus {
        /// The skill.
        skill: SkillId,
        /// The cause.
        cause: CauseId,
        /// Its demand.
        points: i64,
    },
    /// A cause waits.
    Waits {
        /// The skill.
        skill: SkillId,
        /// The cause.
        cause: CauseId,
        /// Its demand.
        points: i64,
        /// What it waits for.
        why: WaitsFor,
    },
    /// A constraint acts on a cause.
    Acts {
        /// The constraint.
        constraint: ConstraintId,
        /// The cause.
        cause: CauseId,
        /// From -3 (feeds it) to 3 (takes it away).
        points: i64,
    },
    /// An exercise acts on a cause of a skill in focus, before its role is looked at.
    Helps {
        /// The exercise.
        exercise: ExerciseId,
        /// The skill.
        skill: SkillId,
        /// The cause.
        cause: CauseId,
        /// Net effect in half points; below 0 it feeds the cause.
        half_points: i64,
        /// The constraints that help most; none where the exercise helps by itself.
        by: Vec<ConstraintId>,
        /// Whether the coach is sure of the cause.
        sure: bool,
    },
    /// Something stands in for the full form that the case rules out.
    StandsIn {
        /// The full form.
        of: ExerciseId,
        /// What stands in.
        exercise: ExerciseId,
        /// The rule that says so.
        rule: RuleId,
    },
    /// The item is dosed so.
    Dosed {
        /// The dose.
        dose: DoseId,
        /// The rule that gives it.
        rule: RuleId,
    },
    /// A rule moved the load down.
    Capped(RuleId),
    /// A rule takes sets away.
    Trimmed(RuleId),
    /// A rule moves the load by some points of percent.
    Stepped(RuleId),
    /// Without the item a bound would be missed, or missed by more.
    Needed {
        /// Whose bound.
        ruling: Ruling,
        /// What gives way.
        level: Level,
        /// Units missed without it.
        units: i64,
    },
    /// Without the item a quality would fall below the least that the week needs.
    Floor {
        /// The quality.
        quality: QualityId,
        /// Points that the item gives.
        gives: i64,
        /// Points that the week needs.
        asked: i64,
    },
    /// What the item adds most to the worth of the week.
    Gains {
        /// To what.
        to: Gain,
        /// Worth lost without it, in hundredths of a point.
        worth: i64,
    },
    /// What the exercise is used for.
    UsedFor(ExerciseId),
    /// The item stands there.
    Placed {
        /// Day of the week, 1 to 7.
        day: u8,
        /// The exercise.
        exercise: ExerciseId,
        /// Its role.
        role: RoleId,
        /// Its part of the session.
        part: PartId,
    },
}
