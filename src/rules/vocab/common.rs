//! What many kinds of thing share: names, ranges, sources, what gives way.

use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

use crate::base::{At, SourceId};

/// Words for a thing by language; the first is canonical, the rest are synonyms.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Names {
    /// English names, canonical first.
    #[serde(default)]
    pub(crate) en: Vec<At<String>>,
    /// Ids that this thing had in earlier versions of the pack.
    #[serde(default)]
    pub(crate) formerly: Vec<At<String>>,
}

/// Where a thing comes from: source id, then where in it (or what is missing).
pub(crate) type Sourced = IndexMap<At<SourceId>, String>;

/// A whole range with both ends included; an absent end is open.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Range {
    /// Smallest value that is in the range.
    pub(crate) at_least: Option<i64>,
    /// Largest value that is in the range.
    pub(crate) at_most: Option<i64>,
}

impl Range {
    /// Whether `value` lies in the range, ends included.
    pub(crate) fn holds(self, value: i64) -> bool {
        self.at_least.is_none_or(|least| value >= least)
            && self.at_most.is_none_or(|most| value <= most)
    }
}

/// What a rule does when it cannot be kept.
///
/// `never` is hard. The others give way level by level: `first` before
/// `middle` before `last`; units missed are minimised in the order `last`,
/// `middle`, `first`, and only then comes worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Yields {
    /// Hard: a week that breaks it is no week.
    Never,
    /// Gives way only when nothing else can.
    Last,
    /// Gives way after `first`.
    Middle,
    /// Gives way before all others.
    First,
}

impl Yields {
    /// 0 for `last`, 1 for `middle`, 2 for `first`; none for a hard rule.
    pub(crate) fn level(self) -> Option<usize> {
        match self {
            Self::Never => None,
            Self::Last => Some(0),
            Self::Middle => Some(1),
            Self::First => Some(2),
        }
    }
}
