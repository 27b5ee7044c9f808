//! Tests of a method, written in the rule language: cases with what their answers must show.
//!
//! They stand beside the rules, in files of the kind `cases`, and take no part in any answer.

use indexmap::IndexMap;
use serde::Deserialize;

use crate::base::{
    At, CaseFieldId, CaseVariantId, CauseId, ConstraintId, ExerciseId, ExpectationId, FaultId,
    NamedRuleId, PhaseId, ReferenceId, ReviewDecisionId, SkillId, WeekFigureId,
};

use super::case::CaseText;
use super::kinds::{CountedIn, Per};
use super::log::EntryText;
use super::vocab::{DayFilter, Decides, Range, Selector};
use super::week_file::WeekText;

/// A case with what its answer must show.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct RuleTest {
    /// What it shows, in one line.
    pub(crate) because: String,
    pub(crate) case: CaseText,
    /// The case with some of it said otherwise. With any of these the case by itself is not asked.
    #[serde(default)]
    pub(crate) variants: IndexMap<At<CaseVariantId>, CaseText>,
    /// Weeks of the training block that is made of the case, 1 to 52. Each of them is asked as a variant: `week-1`, `week-2`
    /// and so on.
    pub(crate) weeks: Option<At<u16>>,
    /// What was trained and seen, for what is decided from it.
    #[serde(default)]
    pub(crate) log: Vec<At<EntryText>>,
    /// A week that somebody wrote, held against the answer.
    #[serde(default)]
    pub(crate) written: WeekText,
    pub(crate) expect: Expect,
}

/// What an answer must show, by kind.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Expect {
    #[serde(default)]
    pub(crate) contains: Expectations<Contains>,
    #[serde(default)]
    pub(crate) lacks: Expectations<Lacks>,
    #[serde(default)]
    pub(crate) count: Expectations<CountIs>,
    #[serde(default)]
    pub(crate) before: Expectations<StandsBefore>,
    #[serde(default)]
    pub(crate) dose: Expectations<DoseIs>,
    #[serde(default)]
    pub(crate) compare: Expectations<Compare>,
    #[serde(default)]
    pub(crate) reason: Expectations<ReasonIs>,
    #[serde(default)]
    pub(crate) focus: Expectations<FocusIs>,
    #[serde(default)]
    pub(crate) missed: Expectations<MissedIs>,
    #[serde(default)]
    pub(crate) proof: Expectations<ProofIs>,
    #[serde(default)]
    pub(crate) no_week: Expectations<NoWeekIs>,
    #[serde(default)]
    pub(crate) said: Expectations<SaidIs>,
    #[serde(default)]
    pub(crate) decides: Expectations<DecidesIs>,
    #[serde(default)]
    pub(crate) phase: Expectations<PhaseIs>,
    #[serde(default)]
    pub(crate) figure: Expectations<FigureIs>,
    #[serde(default)]
    pub(crate) sound: Expectations<SoundIs>,
    #[serde(default)]
    pub(crate) breaks: Expectations<BreaksIs>,
}

/// Expectations of one kind.
pub(crate) type Expectations<T> = IndexMap<At<ExpectationId>, T>;

/// The week has an item of `what`.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Contains {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) what: Selector,
    /// Days that it is about; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
}

/// The week has no item of `what`.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Lacks {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) what: Selector,
    /// Days that it is about; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
}

/// The week, or each of its sessions, has so many of `what`.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct CountIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) what: Selector,
    pub(crate) per: Per,
    /// What is counted; `items` where absent.
    #[serde(default)]
    pub(crate) counted_in: CountedIn,
    pub(crate) at_least: Option<At<i64>>,
    pub(crate) at_most: Option<At<i64>>,
    /// Days that it is about; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
}

/// In the week, or in each session that has both, no item of `then` stands before one of `first`;
/// at least one pair stands in this order.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct StandsBefore {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) first: Selector,
    pub(crate) then: Selector,
    pub(crate) per: Per,
}

/// The week has items of `what`, and each of them has this dose.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct DoseIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) what: Selector,
    /// Days that it is about; all where absent.
    #[serde(default)]
    pub(crate) on: DayFilter,
    pub(crate) sets: Option<Range>,
    /// Repetitions of one set.
    pub(crate) reps: Option<Range>,
    /// Low end of the load, in percent of its reference; never met where no load is named.
    pub(crate) percent_from: Option<Range>,
    /// High end of the load, in percent of its reference; never met where no load is named.
    pub(crate) percent_to: Option<Range>,
    /// Whether a load on the bar is named.
    pub(crate) loaded: Option<bool>,
    /// Whether the load is estimated from another best.
    pub(crate) estimated: Option<bool>,
}

/// One variant's week has more of `what` than another's.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct Compare {
    pub(crate) what: Selector,
    /// What is counted; `items` where absent.
    #[serde(default)]
    pub(crate) counted_in: CountedIn,
    /// The variant that has more.
    pub(crate) more_in: At<CaseVariantId>,
    /// The variant that has fewer.
    pub(crate) fewer_in: At<CaseVariantId>,
}

/// The week has an item of `what` that rests on all of this.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct ReasonIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) what: Selector,
    /// Causes that it helps against.
    #[serde(default)]
    pub(crate) causes: Vec<At<CauseId>>,
    /// Constraints by which it helps.
    #[serde(default)]
    pub(crate) constraints: Vec<At<ConstraintId>>,
    /// Rules that asked for it, dosed it or capped its load.
    #[serde(default)]
    pub(crate) rules: Vec<At<NamedRuleId>>,
}

/// What the week works on.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct FocusIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) skill: At<SkillId>,
    /// Causes that are worked on.
    #[serde(default)]
    pub(crate) works_on: Vec<At<CauseId>>,
    /// Causes that are not worked on, whether they wait or nobody asks for them.
    #[serde(default)]
    pub(crate) leaves: Vec<At<CauseId>>,
    /// Causes that wait because they ask for the opposite of one that is worked on.
    #[serde(default)]
    pub(crate) opposed: Vec<At<CauseId>>,
}

/// No more than so many units of rules that give way are missed.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct MissedIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    /// By rules that give way last.
    pub(crate) last_at_most: Option<i64>,
    /// By rules that give way in the middle.
    pub(crate) middle_at_most: Option<i64>,
    /// By rules that give way first.
    pub(crate) first_at_most: Option<i64>,
    /// Rules of which nothing is missed.
    #[serde(default)]
    pub(crate) kept: Vec<At<NamedRuleId>>,
}

/// What is known of how good the week is.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct ProofIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) is: ProofWord,
}

/// A word for a proof.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub(crate) enum ProofWord {
    /// The search says that no week is better.
    Claimed,
    /// The limit of work was reached.
    Limited,
}

/// No week satisfies the hard rules, and what clashes is at least this.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct NoWeekIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    /// Rules that clash.
    #[serde(default)]
    pub(crate) rules: Vec<At<NamedRuleId>>,
    /// Case fields that clash.
    #[serde(default)]
    pub(crate) fields: Vec<At<CaseFieldId>>,
}

/// What is said with the answer.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct SaidIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    /// Rules whose cautions, or words about what stands in, are said.
    #[serde(default)]
    pub(crate) rules: Vec<At<NamedRuleId>>,
    /// Case fields that are said to be missing.
    #[serde(default)]
    pub(crate) missing_fields: Vec<At<CaseFieldId>>,
    /// Bests that are said to be missing.
    #[serde(default)]
    pub(crate) missing_bests: Vec<At<ReferenceId>>,
}

/// From the log this is decided of an exercise against a fault.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct DecidesIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) fault: At<FaultId>,
    /// Of which skill; of any where absent.
    pub(crate) skill: Option<At<SkillId>>,
    pub(crate) exercise: At<ExerciseId>,
    pub(crate) is: Decides,
    /// The rule that decides; any where absent.
    pub(crate) by: Option<At<ReviewDecisionId>>,
}

/// A week of a block is of this phase.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct PhaseIs {
    /// Weeks that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) is: At<PhaseId>,
}

/// A figure of a week of a block lies between these.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct FigureIs {
    /// Weeks that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) figure: At<WeekFigureId>,
    pub(crate) at_least: Option<i64>,
    pub(crate) at_most: Option<i64>,
}

/// The written week is sound, or is not.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct SoundIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    pub(crate) is: bool,
}

/// The written week clashes with all of these, or with nothing.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(crate) struct BreaksIs {
    /// Variants that it is about; all where absent.
    #[serde(default, rename = "in")]
    pub(crate) within: Vec<At<CaseVariantId>>,
    /// Hard rules that it breaks.
    #[serde(default)]
    pub(crate) rules: Vec<At<NamedRuleId>>,
    /// Whether it clashes with nothing.
    #[serde(default)]
    pub(crate) nothing: bool,
}

impl RuleTest {
    /// What the weeks of its block are called where variants are; none where it asks for no block.
    pub(crate) fn block_weeks(&self) -> Vec<CaseVariantId> {
        let weeks = self.weeks.as_ref().map_or(0, |weeks| weeks.value);
        let named = (1..=weeks).map(|week| CaseVariantId::new(&format!("week-{week}")));
        named.flatten().collect()
    }

    /// The cases that it asks, each with the variant that it is of; one without variants asks its
    /// own case.
    pub(crate) fn cases(&self) -> Vec<(Option<&At<CaseVariantId>>, CaseText)> {
        if self.variants.is_empty() {
            return vec![(None, self.case.clone())];
        }
        let variants = self.variants.iter();
        variants
            .map(|(id, said)| (Some(id), self.case.said_otherwise(said)))
            .collect()
    }
}
