//! The rule kinds, one a file. Each is a section `rules: KIND: {ID: {...}}`.
//!
//! A kind decides about an item, a session, a sum over the week, or the same
//! thing on two days, and nothing else; its file says which.

mod adjacent;
mod alike;
mod apart;
mod before;
mod cap;
mod carry_over;
mod caution;
mod common;
mod compose;
mod count;
mod differ;
mod dose;
mod exclude;
mod floor;
mod focus;
mod followed;
mod fullest;
mod help_worth;
mod how_often;
mod kept;
mod least_load;
mod lighter;
mod load_step;
mod minutes;
mod needs;
mod position;
mod prefer;
mod proportion;
mod quality_worth;
mod ramp;
mod repeat;
mod shift;
mod stress;
mod timing;
mod trim;
mod volume;
mod watch;

pub(crate) use adjacent::{Adjacent, Side};
pub(crate) use alike::{Alike, Same};
pub(crate) use apart::{Apart, Way};
pub(crate) use before::Before;
pub(crate) use cap::Cap;
pub(crate) use carry_over::CarryOver;
pub(crate) use caution::Caution;
pub(crate) use common::{CountedIn, Per, Say};
pub(crate) use compose::Compose;
pub(crate) use count::Count;
pub(crate) use differ::Differ;
pub(crate) use dose::DoseRule;
pub(crate) use exclude::Exclude;
pub(crate) use floor::Floor;
pub(crate) use focus::Focus;
pub(crate) use followed::{Followed, Within};
pub(crate) use fullest::Fullest;
pub(crate) use help_worth::HelpWorth;
pub(crate) use how_often::{HowOften, OftenStep};
pub(crate) use kept::Kept;
pub(crate) use least_load::LeastLoad;
pub(crate) use lighter::{Against, Lighter};
pub(crate) use load_step::LoadStep;
pub(crate) use minutes::{Amount, Minutes};
pub(crate) use needs::Needs;
pub(crate) use position::{Position, Stretch, Where};
pub(crate) use prefer::{Each, Prefer};
pub(crate) use proportion::Proportion;
pub(crate) use quality_worth::QualityWorth;
pub(crate) use ramp::{LighterSet, Ramp, RampStep};
pub(crate) use repeat::Repeat;
pub(crate) use shift::Shift;
pub(crate) use stress::StressCap;
pub(crate) use timing::Timing;
pub(crate) use trim::Trim;
pub(crate) use volume::{Together, Volume};
pub(crate) use watch::Watch;

use crate::base::{At, RuleId};
use crate::rules::vocab::{Condition, IfUnknown, Sourced};

/// What every rule has, whatever its kind.
pub(crate) trait Rule {
    /// The section's word in rule files.
    const KIND: &'static str;
    /// When it speaks.
    fn when(&self) -> Option<&Condition>;
    /// What it does where that can't be decided.
    fn if_unknown(&self) -> Option<IfUnknown>;
    /// Why it is there.
    fn because(&self) -> &str;
    /// Where it comes from.
    fn source(&self) -> &Sourced;
}

macro_rules! rule_kinds {
    ($($field:ident : $ty:ident = $word:literal),* $(,)?) => {
        $(impl Rule for $ty {
            const KIND: &'static str = $word;
            fn when(&self) -> Option<&Condition> { self.when.as_ref() }
            fn if_unknown(&self) -> Option<IfUnknown> { self.if_unknown }
            fn because(&self) -> &str { &self.because }
            fn source(&self) -> &Sourced { &self.source }
        })*

        /// All rules of a pack, by kind, sorted by id.
        #[derive(Debug, Clone, Default)]
        pub(crate) struct Rules {
            $(pub(crate) $field: Vec<(At<RuleId>, $ty)>,)*
        }

        /// The words of the kinds, in the order of this list.
        pub(crate) const KINDS: &[&str] = &[$($word),*];
    };
}

rule_kinds! {
    adjacent: Adjacent = "adjacent",
    alike: Alike = "alike",
    apart: Apart = "apart",
    before: Before = "before",
    cap: Cap = "cap",
    carry_over: CarryOver = "carry-over",
    caution: Caution = "caution",
    compose: Compose = "compose",
    count: Count = "count",
    differ: Differ = "differ",
    dose: DoseRule = "dose",
    exclude: Exclude = "exclude",
    floor: Floor = "floor",
    focus: Focus = "focus",
    followed: Followed = "followed",
    fullest: Fullest = "fullest",
    help_worth: HelpWorth = "help-worth",
    how_often: HowOften = "how-often",
    kept: Kept = "kept",
    least_load: LeastLoad = "least-load",
    lighter: Lighter = "lighter",
    load_step: LoadStep = "load-step",
    minutes: Minutes = "minutes",
    needs: Needs = "needs",
    position: Position = "position",
    prefer: Prefer = "prefer",
    proportion: Proportion = "proportion",
    quality_worth: QualityWorth = "quality-worth",
    ramp: Ramp = "ramp",
    repeat: Repeat = "repeat",
    shift: Shift = "shift",
    stress: StressCap = "stress",
    timing: Timing = "timing",
    trim: Trim = "trim",
    volume: Volume = "volume",
    watch: Watch = "watch",
}
