//! Repetitions within the zones of a table.
//!
//! Scope: a session. An item is in the zone that holds the top of its load, in
//! none where no zone does. For each zone and each group that is added up, the
//! repetitions above the zone's total are missed, and so is, for each item, each
//! repetition of one set above the zone's. Each such total and each item's set is
//! a bound of its own, with started units of its own.

use serde::Deserialize;

use crate::base::{At, ZoneTableId};
use crate::rules::vocab::{Condition, IfUnknown, Selector, Sourced, Yields};

/// Repetitions within the zones of a table.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Volume {
    /// When the rule speaks; always where absent.
    pub(crate) when: Option<Condition>,
    /// What it does where `when` can't be decided; required if `when` reads a field that may be missing.
    pub(crate) if_unknown: Option<IfUnknown>,
    pub(crate) what: Selector,
    pub(crate) table: At<ZoneTableId>,
    /// What is added up before it is held against the table.
    pub(crate) together: Together,
    /// Repetitions that make one unit missed, 1 where absent; a started unit is a whole one.
    pub(crate) unit: Option<At<u16>>,
    pub(crate) yields: Yields,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// What is added up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Together {
    /// Each item by itself.
    Item,
    /// Items that train a skill, for each skill.
    Skill,
    /// All items of the session.
    Session,
}
