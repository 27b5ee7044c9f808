//! Tests of what watched attempts say: attempts with what must be made of them.
//!
//! They stand beside the rules, in files of the kind `watched-tests`, and take no part in any answer.

use serde::Deserialize;

use crate::base::{At, CauseId, ExpectationId, FaultId, GradeId, ObservationId};

use super::expect::Expectations;
use super::expect_track::LookIs;
use super::watched::WatchedText;

/// Watched attempts with what must be made of them.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct WatchedTest {
    /// What it shows, in one line.
    pub(crate) because: String,
    pub(crate) watched: WatchedText,
    pub(crate) expect: WatchedExpect,
}

/// What must be made of them, by kind.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct WatchedExpect {
    #[serde(default)]
    pub(crate) fault: Expectations<FaultIs>,
    #[serde(default)]
    pub(crate) behind: Expectations<BehindIs>,
    #[serde(default)]
    pub(crate) looked: Expectations<LookIs>,
    #[serde(default)]
    pub(crate) further: Expectations<FurtherIs>,
}

impl WatchedExpect {
    /// The first of them.
    pub(crate) fn first(&self) -> Option<&At<ExpectationId>> {
        let (fault, behind) = (self.fault.keys(), self.behind.keys());
        let (looked, further) = (self.looked.keys(), self.further.keys());
        fault.chain(behind).chain(looked).chain(further).next()
    }
}

/// This is made of a fault.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct FaultIs {
    pub(crate) fault: At<FaultId>,
    pub(crate) is: MadeOfFault,
    /// In which grade; in any where absent.
    pub(crate) grade: Option<At<GradeId>>,
    /// From how many percent of the best on; from any where absent.
    pub(crate) from_percent: Option<At<u8>>,
}

/// What can be made of a fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum MadeOfFault {
    /// It is there.
    Concluded,
    /// It was seen in too few of the attempts.
    TooSeldom,
    /// It was seen too few times.
    MayBeChance,
    /// Too few attempts were watched.
    TooFewAttempts,
    /// No attempt showed it.
    NotSeen,
}

impl MadeOfFault {
    /// Its word.
    pub(crate) const fn as_str(self) -> &'static str {
        match self {
            Self::Concluded => "concluded",
            Self::TooSeldom => "too-seldom",
            Self::MayBeChance => "may-be-chance",
            Self::TooFewAttempts => "too-few-attempts",
            Self::NotSeen => "not-seen",
        }
    }
}

/// Of the causes behind what is concluded, this one has the most demand, or more than each of these.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct BehindIs {
    pub(crate) cause: At<CauseId>,
    /// Causes that have less; all others where absent.
    #[serde(default)]
    pub(crate) more_than: Vec<At<CauseId>>,
}

/// This is what should be looked at next.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct FurtherIs {
    pub(crate) look: At<ObservationId>,
}
