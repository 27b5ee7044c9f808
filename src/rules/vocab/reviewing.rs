//! What a log is reviewed by: how much of it is looked at, what is decided from it, what it makes of bests.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{At, Decimal, ExerciseId, FaultId, ReferenceId, StageId};

use super::{Came, Sourced};

/// How much of a log is looked at, and how sure its intervals are. Exactly one stands beside decisions.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct ReviewWindow {
    /// How sure an interval is, in percent, 50 to 99.
    pub(crate) interval_percent: At<u8>,
    /// The last so many calendar weeks, that of the last entry among them, are what is so now, 1 to 52.
    pub(crate) last_weeks: At<u8>,
    /// A trend goes from the first so many calendar weeks to the last ones, where these are others, 1 to 52.
    pub(crate) first_weeks: At<u8>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// What can be decided about an exercise that works against a fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Decides {
    /// It stays.
    Keep,
    /// The next exercise of its ladder takes its place.
    MoveAlong,
    /// Another one takes its place.
    Swap,
    /// The fault is gone, and with it what the exercise is for.
    Withdraw,
    /// Too little was seen to say.
    LookAgain,
}

/// A decision with what must hold for it; the first by rank that holds decides. Keys are joined by "and".
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct ReviewDecision {
    /// The smallest that holds decides; each stands once, 1 to 1 000.
    pub(crate) rank: At<u16>,
    pub(crate) decides: Decides,
    /// The full form in the last weeks.
    pub(crate) full: Option<ShareTest>,
    /// The exercise in the last weeks.
    pub(crate) exercise: Option<ShareTest>,
    /// The full form in the whole log.
    pub(crate) full_in_all: Option<ShareTest>,
    /// The exercise in the whole log.
    pub(crate) exercise_in_all: Option<ShareTest>,
    /// The full form from the first weeks to the last.
    pub(crate) full_trend: Option<TrendTest>,
    /// The exercise from the first weeks to the last.
    pub(crate) exercise_trend: Option<TrendTest>,
    /// What came of the exercise, for the case that goes on from the log; nothing is said where absent.
    pub(crate) came: Option<Came>,
    /// What it means for the weeks to come, in words.
    pub(crate) say: String,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// A test of how often a fault was seen; every key given must hold. Percents are 0 to 100.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct ShareTest {
    /// Repetitions that could show it, 1 to 10 000.
    pub(crate) repetitions_at_least: Option<At<u16>>,
    /// Calendar weeks that have such repetitions, 1 to 520.
    pub(crate) weeks_at_least: Option<At<u16>>,
    /// The lower end of the interval, rounded down to whole per mille, is at least this.
    pub(crate) low_at_least: Option<At<u8>>,
    /// The lower end of the interval is at most this.
    pub(crate) low_at_most: Option<At<u8>>,
    /// The upper end of the interval, rounded up to whole per mille, is at least this.
    pub(crate) high_at_least: Option<At<u8>>,
    /// The upper end of the interval is at most this.
    pub(crate) high_at_most: Option<At<u8>>,
    /// Of the repetitions at least so many show it.
    pub(crate) share_at_least: Option<At<u8>>,
    /// Of the repetitions at most so many show it.
    pub(crate) share_at_most: Option<At<u8>>,
}

/// A test of how the share of a fault changed; every key given must hold. It never holds where there are no first weeks
/// before the last ones, or no repetitions in one of the two.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct TrendTest {
    /// It fell by so many percent points at least, 1 to 100.
    pub(crate) falls_at_least: Option<At<u8>>,
    /// It rose by so many percent points at least, 1 to 100.
    pub(crate) rises_at_least: Option<At<u8>>,
    /// Whether the two intervals must not meet; `true` or absent.
    #[serde(default)]
    pub(crate) apart: bool,
}

/// What an exercise must show before a fault can be seen in it at all.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct SeenWhere {
    /// Faults that it is of, at least one; each stands in one such entry at most.
    pub(crate) faults: Vec<At<FaultId>>,
    /// Of these stages those that the skill has must be there.
    pub(crate) stages: Vec<At<StageId>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// Exercises of which a load that was made is a best.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct BestFrom {
    /// The best.
    pub(crate) reference: At<ReferenceId>,
    /// Done alone, each of them at least one.
    pub(crate) exercises: Vec<At<ExerciseId>>,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// A published formula for the load that could be made once.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Formula {
    /// Load × (30 + repetitions) / 30.
    Epley,
    /// Load × 36 / (37 − repetitions).
    Brzycki,
    /// 100 × load / (48.8 + 53.8 × e^(−0.075 × repetitions)).
    Wathan,
}

/// Which loads made several times in a set say something of the load that could be made once.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Estimate {
    pub(crate) formula: Formula,
    /// Bests that it is for, each of one estimate at most; what may be done for them stands under `bests`.
    pub(crate) references: Vec<At<ReferenceId>>,
    /// Most repetitions of a set from which it is estimated, 2 to 20.
    pub(crate) repetitions_at_most: At<u8>,
    /// It is rounded down to a whole multiple of this, above 0.
    pub(crate) round_to: At<Decimal>,
    /// Whether an estimate above the best becomes the best; else it is only told.
    #[serde(default)]
    pub(crate) becomes_best: bool,
    pub(crate) because: String,
    pub(crate) source: Sourced,
}

/// Tests of a decision by their keys.
pub(crate) type ShareTests<'a> = IndexMap<&'static str, &'a ShareTest>;

impl Decides {
    /// The word of rule files and output.
    pub(crate) const fn as_str(self) -> &'static str {
        match self {
            Self::Keep => "keep",
            Self::MoveAlong => "move-along",
            Self::Swap => "swap",
            Self::Withdraw => "withdraw",
            Self::LookAgain => "look-again",
        }
    }
}

impl Formula {
    /// The name under which it was published.
    pub(crate) const fn as_str(self) -> &'static str {
        match self {
            Self::Epley => "Epley",
            Self::Brzycki => "Brzycki",
            Self::Wathan => "Wathan",
        }
    }
}

impl ReviewDecision {
    /// Whether it asks for nothing, so that it always holds.
    pub(crate) fn is_always(&self) -> bool {
        self.share_tests().is_empty() && self.trend_tests().is_empty()
    }

    /// Its tests of shares by key.
    pub(crate) fn share_tests(&self) -> ShareTests<'_> {
        let all = [
            ("full", &self.full),
            ("exercise", &self.exercise),
            ("full-in-all", &self.full_in_all),
            ("exercise-in-all", &self.exercise_in_all),
        ];
        all.into_iter()
            .filter_map(|(key, test)| Some((key, test.as_ref()?)))
            .collect()
    }

    /// Its tests of trends by key.
    pub(crate) fn trend_tests(&self) -> IndexMap<&'static str, &TrendTest> {
        let all = [
            ("full-trend", &self.full_trend),
            ("exercise-trend", &self.exercise_trend),
        ];
        all.into_iter()
            .filter_map(|(key, test)| Some((key, test.as_ref()?)))
            .collect()
    }
}

impl ShareTest {
    /// Its percents by key.
    pub(crate) fn percents(&self) -> [(&'static str, &Option<At<u8>>); 6] {
        [
            ("low-at-least", &self.low_at_least),
            ("low-at-most", &self.low_at_most),
            ("high-at-least", &self.high_at_least),
            ("high-at-most", &self.high_at_most),
            ("share-at-least", &self.share_at_least),
            ("share-at-most", &self.share_at_most),
        ]
    }
}
