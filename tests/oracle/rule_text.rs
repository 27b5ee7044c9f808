//! The rules of a pack, as plain structs: one for each kind.

use serde::Deserialize;

use super::text::{ById, Condition, DayFilter, Ids, Load, Selector, Yields};

/// When a rule speaks.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
pub struct Speaks {
    pub when: Option<Condition>,
    pub if_unknown: Option<String>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
pub struct OftenStep {
    pub from: i64,
    pub percent: i64,
}

macro_rules! kinds {
    ($($word:literal $field:ident $kind:ident { $($name:ident: $type:ty),* $(,)? })*) => {
        $(
            #[derive(Clone, Debug, Deserialize)]
            #[serde(rename_all = "kebab-case")]
            pub struct $kind {
                #[serde(flatten)]
                pub speaks: Speaks,
                $(pub $name: $type,)*
            }
        )*

        #[derive(Clone, Debug, Default, Deserialize)]
        #[serde(default, deny_unknown_fields)]
        pub struct RuleTexts {
            $(#[serde(rename = $word)] pub $field: ById<$kind>,)*
        }

        impl RuleTexts {
            /// Leaves only the rules that speak.
            pub fn keep(&mut self, speaks: impl Fn(&Speaks) -> bool) {
                $(self.$field.retain(|_, rule| speaks(&rule.speaks));)*
            }
        }
    };
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Counted {
    #[default]
    Items,
    Sets,
    Reps,
    Days,
}

#[derive(Clone, Debug, Deserialize)]
pub struct Amount {
    pub whole: Option<i64>,
    pub field: Option<String>,
    pub percent: Option<i64>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct RampStep {
    pub from_percent: i64,
    pub seconds: i64,
}

kinds! {
    "adjacent" adjacent Adjacent {
        what: Selector, directly: String, which: Selector, same_skill: Option<bool>, yields: Yields,
    }
    "alike" alike Alike {
        what: Selector, same: String, at_most: i64, on: Option<DayFilter>, yields: Yields,
    }
    "apart" apart Apart {
        what: Selector, from: Selector, free_days: i64, way: Option<String>, same_skill: Option<bool>,
        same_exercise: Option<bool>, wraps: Option<bool>, yields: Yields,
    }
    "before" before Before {
        first: Selector, then: Selector, same_skill: Option<bool>, yields: Yields,
    }
    "cap" cap Cap {
        what: Selector, percent_of_reference_at_most: Option<i64>, percent_of_own_highest_at_most: Option<i64>,
    }
    "carry-over" carry_over CarryOver {
        from: String, to: String, causes: Ids, percent: i64,
    }
    "caution" caution Caution {}
    "compose" compose Compose {}
    "count" count Count {
        what: Selector, per: String, counted_in: Option<Counted>, at_least: Option<i64>, at_most: Option<i64>,
        scaled_by: Option<Ids>, on: Option<DayFilter>, unit: Option<i64>, yields: Yields,
    }
    "differ" differ Differ {
        what: Selector, shared_at_most: i64, yields: Yields,
    }
    "dose" dose DoseRule {
        what: Selector, give: String, instead_of: Option<Ids>,
    }
    "exclude" exclude Exclude {
        what: Selector, on: Option<DayFilter>, yields: Yields,
    }
    "floor" floor Floor {
        quality: String, points_at_least: i64, scaled_by: Option<Ids>, unit: Option<i64>, yields: Yields,
    }
    "focus" focus Focus {
        per_skill_at_most: i64, in_all_at_most: Option<i64>, demand_at_least: Option<i64>,
    }
    "followed" followed Followed {
        what: Selector, by: Selector, freer: Option<bool>, within: String, closer_by: Option<i64>, yields: Yields,
    }
    "fullest" fullest Fullest {
        of: String, or_of: Option<Ids>,
    }
    "help-worth" help_worth HelpWorth {
        table: String,
    }
    "how-often" how_often HowOften {
        faults: Option<Ids>, steps: Vec<OftenStep>,
    }
    "kept" kept Kept {
        what: Selector, weeks: i64, yields: Yields,
    }
    "least-load" least_load LeastLoad {
        what: Selector, lightest_full_diameter: Option<bool>, at_least: Option<Load>, say: Option<serde_yaml::Value>,
    }
    "lighter" lighter Lighter {
        what: Selector, than: Selector, against: String, above_at_most: Option<i64>, yields: Yields,
    }
    "load-step" load_step LoadStep {
        what: Selector, on: Option<DayFilter>, points: i64,
    }
    "minutes" minutes Minutes {
        at_least: Option<Amount>, at_most: Option<Amount>, on: Option<DayFilter>, unit: Option<i64>, yields: Yields,
    }
    "needs" needs Needs {
        what: Selector, needs: Selector, same_skill: Option<bool>, yields: Yields,
    }
    "position" position Position {
        what: Selector, r#where: String, of: String, yields: Yields,
    }
    "prefer" prefer Prefer {
        what: Selector, weight: i64, each: Option<String>, on: Option<DayFilter>,
    }
    "proportion" proportion Proportion {
        of: Selector, to: Selector, counted_in: Option<Counted>, percent_at_most: Option<i64>,
        percent_at_least: Option<i64>, unit: Option<i64>, yields: Yields,
    }
    "quality-worth" quality_worth QualityWorth {
        qualities: Ids, above_floor: Option<bool>, table: String,
    }
    "ramp" ramp Ramp {
        what: Selector, steps: Vec<RampStep>,
    }
    "repeat" repeat Repeat {
        what: Selector, at_least_if_used: Option<i64>, at_most: Option<i64>, yields: Yields,
    }
    "shift" shift Shift {
        of: Selector, to: Selector, counted_in: Option<Counted>, up_at_most: Option<i64>, down_at_most: Option<i64>,
        unit: Option<i64>, yields: Yields,
    }
    "stress" stress Stress {
        of: String, per: String, at_most: i64, on: Option<DayFilter>, unit: Option<i64>, yields: Yields,
    }
    "timing" timing Timing {
        on: Option<DayFilter>, warm_up_seconds: i64, changeover_seconds: i64,
    }
    "trim" trim Trim {
        what: Selector, on: Option<DayFilter>, sets_fewer: i64, sets_at_least: i64,
    }
    "watch" watch Watch {}
    "volume" volume Volume {
        what: Selector, table: String, together: String, unit: Option<i64>, yields: Yields,
    }
}
