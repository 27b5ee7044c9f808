//! The filter over exercises and placed items that every rule uses.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{
    At, CaseFieldId, CauseId, ConstraintId, EffortId, ExerciseId, GroupId, MarkId, PartId,
    QualityId, RoleId, SkillId, StageId,
};

use super::{FieldTest, Names, Range, Sourced};

/// A filter. Keys are joined by "and"; lists by "or", except `with-all`,
/// `with-none`, `stages-all` and `stages-none`. What is asked of an exercise
/// must be met wholly by one component of a complex; `not` means by none.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Selector {
    /// Deliberately everything; the only key of its selector.
    #[serde(default)]
    pub(crate) everything: bool,
    /// One of these exercises as listed, and no descendant.
    #[serde(default)]
    pub(crate) exercises: Vec<At<ExerciseId>>,
    /// One of these exercises or a descendant.
    #[serde(default)]
    pub(crate) under: Vec<At<ExerciseId>>,
    /// Trains one of these skills.
    #[serde(default)]
    pub(crate) skills: Vec<At<SkillId>>,
    /// Belongs to one of these groups.
    #[serde(default)]
    pub(crate) groups: Vec<At<GroupId>>,
    /// Has one of these constraints.
    #[serde(default)]
    pub(crate) with_any: Vec<At<ConstraintId>>,
    /// Has all of these constraints.
    #[serde(default)]
    pub(crate) with_all: Vec<At<ConstraintId>>,
    /// Has none of these constraints.
    #[serde(default)]
    pub(crate) with_none: Vec<At<ConstraintId>>,
    /// Has no constraint that departs from the full lift (true), or has one (false).
    pub(crate) unconstrained: Option<bool>,
    /// How many of its constraints depart from the full lift.
    pub(crate) departing: Option<Range>,
    /// How many of its constraints are strong.
    pub(crate) strong: Option<Range>,
    /// Sum of what its constraints cost in likeness.
    pub(crate) departure: Option<Range>,
    /// Has all of these stages.
    #[serde(default)]
    pub(crate) stages_all: Vec<At<StageId>>,
    /// Has none of these stages.
    #[serde(default)]
    pub(crate) stages_none: Vec<At<StageId>>,
    /// Is this competition form, with nothing on top; where a `fullest` rule has something stand in, that instead.
    #[serde(default)]
    pub(crate) full: Vec<At<ExerciseId>>,
    /// Trains a skill for which all of these case fields pass.
    #[serde(default)]
    pub(crate) case_of_skill: IndexMap<At<CaseFieldId>, FieldTest>,
    /// Trains a skill that has a cause in focus.
    pub(crate) in_focus: Option<bool>,
    /// Can show one of these movement causes: the cause is in focus for a skill that it trains, and it has a stage of the cause.
    #[serde(default)]
    pub(crate) shows: Vec<At<CauseId>>,
    /// Is done alone (true), or is a complex (false); asked of the item.
    pub(crate) alone: Option<bool>,
    /// Repetitions of one round of a complex; asked of the item, never met by one done alone.
    pub(crate) reps_in_complex: Option<Range>,
    /// Net effect, in half points, on the best served cause in focus; asked of the item.
    pub(crate) best_effect_on_focus: Option<Range>,
    /// Net effect, in half points, on the worst served cause in focus; asked of the item.
    pub(crate) worst_effect_on_focus: Option<Range>,
    /// Its effect on one of these movement causes is above 0 for a skill that it trains, carry-over and focus aside;
    /// asked of the item.
    #[serde(default)]
    pub(crate) helps: Vec<At<CauseId>>,
    /// Quality points; asked of the item, whatever its dose.
    #[serde(default)]
    pub(crate) trains: IndexMap<At<QualityId>, Range>,
    /// The lifter has not done it before; asked of the item.
    pub(crate) new: Option<bool>,
    /// The lifter dislikes it; asked of the item.
    pub(crate) disliked: Option<bool>,
    /// The lifter has tried it, and one of these came of it; asked of the item.
    #[serde(default)]
    pub(crate) tried: Vec<At<Came>>,
    /// Has every departing constraint of something that the lifter has tried, or of one of its components, for a skill that
    /// both train, where one of these came of it.
    #[serde(default)]
    pub(crate) like_tried: Vec<At<Came>>,
    /// The lifter did it the week before; asked of the item.
    pub(crate) did_last_week: Option<bool>,
    /// In how many weeks in a row the lifter has done it, up to the week before; 0 where not in that; asked of the item.
    pub(crate) weeks_in_a_row: Option<Range>,
    /// By how much its departure is above that of all that stood in the week before in its role and shares a skill with it;
    /// never where nothing of the kind stood; asked of the item.
    pub(crate) further_than_before: Option<Range>,
    /// Placed in one of these roles.
    #[serde(default)]
    pub(crate) roles: Vec<At<RoleId>>,
    /// Placed in one of these parts.
    #[serde(default)]
    pub(crate) parts: Vec<At<PartId>>,
    /// Placed on a day of one of these efforts.
    #[serde(default)]
    pub(crate) efforts: Vec<At<EffortId>>,
    /// Top of its load, in percent of its reference; never met where no load is named.
    pub(crate) percent: Option<Range>,
    /// At least one of these.
    #[serde(default)]
    pub(crate) any: Vec<Selector>,
    /// None of these.
    #[serde(default)]
    pub(crate) not: Vec<Selector>,
}

/// What came of an exercise that was tried.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Came {
    /// The lift went better.
    Better,
    /// It was done well itself; the lifter goes further along its ladder.
    Learned,
    /// Nothing changed.
    Same,
    /// The lift went worse.
    Worse,
}

impl Came {
    /// All of them.
    pub(crate) const ALL: [Self; 4] = [Self::Better, Self::Learned, Self::Same, Self::Worse];

    /// The word of rule files and cases.
    pub(crate) const fn as_str(self) -> &'static str {
        match self {
            Self::Better => "better",
            Self::Learned => "learned",
            Self::Same => "same",
            Self::Worse => "worse",
        }
    }
}

/// Which days a rule about sessions speaks of; every key given must hold.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct DayFilter {
    /// Days of one of these efforts.
    #[serde(default)]
    pub(crate) efforts: Vec<At<EffortId>>,
    /// Days with one of these marks.
    #[serde(default)]
    pub(crate) marks: Vec<At<MarkId>>,
    /// Days without any of these marks.
    #[serde(default)]
    pub(crate) without_marks: Vec<At<MarkId>>,
    /// Training days whose next calendar day is a day of one of these efforts; the week wraps round.
    #[serde(default)]
    pub(crate) eve_of: Vec<At<EffortId>>,
    /// Days whose values of all these case fields pass; each field is a `whole` one with `by-day: true`.
    #[serde(default)]
    pub(crate) case_of_day: IndexMap<At<CaseFieldId>, FieldTest>,
}

impl DayFilter {
    /// Whether it leaves out no day.
    pub(crate) fn takes_every_day(&self) -> bool {
        // Every field by name: a new one must say here that it leaves days out.
        let Self {
            efforts,
            marks,
            without_marks,
            eve_of,
            case_of_day,
        } = self;
        efforts.is_empty()
            && marks.is_empty()
            && without_marks.is_empty()
            && eve_of.is_empty()
            && case_of_day.is_empty()
    }
}

/// A named selector.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Group {
    pub(crate) names: Names,
    /// What it is, in words.
    pub(crate) says: String,
    pub(crate) what: Selector,
    #[serde(default)]
    pub(crate) source: Sourced,
}
