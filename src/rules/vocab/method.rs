//! The method's frame: phases, layouts, efforts, parts, roles, tables, factors.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{At, CaseFieldId, EffortId, MarkId, PartId, PhaseId, RoleId, ValueId};

use super::{Condition, Names, Range, Selector, Sourced, Span, Yields};

/// A phase of training.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Phase {
    pub(crate) names: Names,
    /// How many weeks it lasts.
    pub(crate) weeks: At<Span>,
    /// Phases that may come after it.
    #[serde(default)]
    pub(crate) then: Vec<At<PhaseId>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// The days of a week with their parts and efforts.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Layout {
    pub(crate) names: Names,
    /// Cases it is for; exactly one layout must fit a case that names none.
    pub(crate) when: Condition,
    /// Days in the order of the week.
    pub(crate) days: Vec<At<LayoutDay>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// One training day of a layout.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct LayoutDay {
    /// Day of the week, 1 (Monday) to 7.
    pub(crate) day: At<u8>,
    pub(crate) effort: At<EffortId>,
    /// Marks that rules can ask for, such as a top day.
    #[serde(default)]
    pub(crate) marks: Vec<At<MarkId>>,
    /// Parts in the order of the session.
    pub(crate) parts: Vec<At<Slot>>,
}

/// One part of a session with how many items it takes.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Slot {
    pub(crate) part: At<PartId>,
    /// Fewest items.
    #[serde(default)]
    pub(crate) at_least: u8,
    /// Most items, 1 to 6; hard.
    pub(crate) at_most: At<u8>,
    /// Whether too few give way.
    #[serde(default = "never")]
    pub(crate) yields: Yields,
}

fn never() -> Yields {
    Yields::Never
}

/// How hard a day is; it picks inside the spans of a dose.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Effort {
    pub(crate) names: Names,
    /// Where in a dose's span of sets, 0 (fewest) to 100.
    pub(crate) sets_at_percent: At<u8>,
    /// Where in a dose's span of repetitions, 0 (fewest) to 100.
    pub(crate) reps_at_percent: At<u8>,
    /// Where in a dose's span of percents the load begins.
    pub(crate) load_from_percent: At<u8>,
    /// Where in a dose's span of percents the load ends; rest is taken there too.
    pub(crate) load_to_percent: At<u8>,
    pub(crate) source: Sourced,
}

/// A stretch of a session.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Part {
    pub(crate) names: Names,
    /// Roles that it takes.
    pub(crate) roles: Vec<At<RoleId>>,
    /// Exercises that it takes; all where absent.
    pub(crate) what: Option<Selector>,
}

/// What an exercise is in the week for.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Role {
    pub(crate) names: Names,
    /// What it is for, in words.
    pub(crate) says: String,
    /// How much of its help on a cause counts; harm always counts whole.
    pub(crate) help: Help,
    /// Percent of an exercise's quality points that count in this role.
    pub(crate) trains_percent: At<u16>,
    /// Percent of an exercise's stress that counts in this role.
    pub(crate) stress_percent: At<u16>,
    /// Who may take it.
    #[serde(default)]
    pub(crate) gate: Gate,
    pub(crate) source: Sourced,
}

/// How much of its help an item gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Help {
    /// All of it.
    Whole,
    /// Half of it, towards zero.
    Half,
}

/// Who may take a role; every key given must hold.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Gate {
    /// Only the competition form itself, or what stands in for it.
    #[serde(default)]
    pub(crate) full_form: bool,
    /// Only exercises of a skill that has a cause in focus.
    #[serde(default)]
    pub(crate) skill_in_focus: bool,
    /// Net effect, in half points, on the best served cause in focus.
    pub(crate) best_effect_on_focus: Option<Range>,
    /// Net effect, in half points, on the worst served cause in focus.
    pub(crate) worst_effect_on_focus: Option<Range>,
}

/// A table of worth: value of a total, slopes never rising.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Table {
    /// Lost by each unit below zero.
    pub(crate) below_zero: At<i64>,
    /// Steps upward from zero; beyond the last, nothing more is gained.
    pub(crate) steps: Vec<At<Step>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// Up to a total, what each further unit is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Step {
    /// The total at which the step ends.
    pub(crate) to: i64,
    /// Worth of each unit within it.
    pub(crate) each: i64,
}

/// A percent that depends on the phase.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct FactorByPhase {
    /// Percent by phase; 100 where a phase is not named.
    pub(crate) percents: IndexMap<At<PhaseId>, u16>,
    pub(crate) source: Sourced,
}

/// A percent that depends on a `one-of` case field.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct FactorByChoice {
    pub(crate) field: At<CaseFieldId>,
    /// Percent by value; 100 where a value is not named or not known.
    pub(crate) percents: IndexMap<At<ValueId>, u16>,
    pub(crate) source: Sourced,
}

/// A percent that depends on a `whole` case field.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct FactorByNumber {
    pub(crate) field: At<CaseFieldId>,
    /// Steps with rising `from`; the last that the value reaches counts, 100 below all.
    pub(crate) steps: Vec<FactorStep>,
    pub(crate) source: Sourced,
}

/// From a value on, a percent.
#[derive(Debug, Clone, Copy, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct FactorStep {
    pub(crate) from: i64,
    pub(crate) percent: u16,
}

/// A region that work tires.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Stress {
    pub(crate) names: Names,
    /// What a point means.
    pub(crate) means: String,
    pub(crate) source: Sourced,
}

/// A mark that a layout can put on a day.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Mark {
    pub(crate) names: Names,
    /// What the mark means.
    pub(crate) means: String,
}
