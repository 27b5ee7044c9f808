//! A week that was handed out, held against the rules once more.

use crate::base::ExerciseId;
use crate::plan::recheck::{Illegal, Miss, Verdict, Wrong};
use crate::plan::{Dosed, Item, Week};

use super::answer::{Missed, Plan};
use super::claim::{Level, Ruling};
use super::reason::ruling;

/// What a week comes to by the rules alone.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Recheck {
    /// Hard bounds that it breaks.
    pub broken: Vec<Lack>,
    /// What may not stand as it stands.
    pub wrong: Vec<Wrongly>,
    /// Bounds that gave way.
    pub lacks: Vec<Lack>,
    /// Units missed on each level.
    pub missed: Missed,
    /// In hundredths of a point.
    pub worth: i64,
    /// The tie measure.
    pub tie: i64,
}

impl Recheck {
    /// Whether it breaks no hard rule and all of it may stand as it stands.
    #[must_use]
    pub fn stands(&self) -> bool {
        self.broken.is_empty() && self.wrong.is_empty()
    }

    /// Whether it stands, and is as good as the week says of itself.
    #[must_use]
    pub fn confirms(&self, plan: &Plan) -> bool {
        self.stands()
            && self.missed == plan.missed
            && self.worth == plan.worth
            && self.tie == plan.tie
    }
}

/// A bound that is missed.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Lack {
    /// Whose bound.
    pub ruling: Ruling,
    /// When it gives way.
    pub level: Level,
    /// Units missed.
    pub units: i64,
    /// The day of the week, 1 to 7; of two days the earlier; none for a sum over the week.
    pub day: Option<u8>,
}

/// Something that may not stand as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Wrongly {
    /// The day of the week, 1 to 7, where it is about one.
    pub day: Option<u8>,
    /// The item's place in the session, counted from 0, where it is about one.
    pub at: Option<usize>,
    /// What is wrong, in words.
    pub what: String,
}

/// Takes the items of a plan back to what the re-check reads; the exercise that is not known, if one is not.
pub(crate) fn items_of(
    plan: &Plan,
    find: impl Fn(&str) -> Option<usize>,
) -> Result<Vec<Vec<Item>>, ExerciseId> {
    let mut days = Vec::new();
    for (day, session) in plan.sessions.iter().enumerate() {
        let mut items = Vec::new();
        for item in &session.items {
            items.push(Item {
                day,
                slot: item.slot,
                part: item.part.clone(),
                role: item.role.clone(),
                exercise: find(item.exercise.as_str()).ok_or_else(|| item.exercise.clone())?,
                dosed: Dosed {
                    dose: item.dose.clone(),
                    rule: item.dose_rule.clone(),
                    sets: item.sets,
                    reps: item.reps,
                    percent: item.percent,
                    caps: item.caps.clone(),
                    rest_seconds: item.rest_seconds,
                    seconds: item.seconds,
                },
            });
        }
        days.push(items);
    }
    Ok(days)
}

/// The verdict as it is handed out.
pub(crate) fn handed_out(week: &Week<'_>, verdict: &Verdict) -> Recheck {
    let day_of = |day: Option<usize>| {
        day.and_then(|day| week.days.get(day))
            .map(|day| day.layout.day.value)
    };
    let lack = |miss: &Miss| Lack {
        ruling: ruling(miss),
        level: miss.yields.into(),
        units: miss.units,
        day: day_of(miss.day),
    };
    Recheck {
        broken: verdict.broken.iter().map(lack).collect(),
        wrong: verdict
            .illegal
            .iter()
            .map(|illegal| Wrongly {
                day: day_of(illegal.day),
                at: illegal.at,
                what: in_words(illegal),
            })
            .collect(),
        lacks: verdict.misses.iter().map(lack).collect(),
        missed: verdict.missed.into(),
        worth: verdict.worth,
        tie: verdict.tie,
    }
}

fn in_words(illegal: &Illegal) -> String {
    match &illegal.why {
        Wrong::Days { asked, given } => format!("the layout has {asked} days, the week {given}"),
        Wrong::NoSlot => String::from("the day has no such part"),
        Wrong::Order => String::from("it stands after an item of a later part"),
        Wrong::Twice => String::from("the session has the exercise already"),
        Wrong::NoCandidate => String::from("it may not stand there"),
        Wrong::Otherwise(item) => {
            let load = item.dosed.percent.map_or_else(String::new, |(low, high)| {
                format!(" at {low} to {high} percent")
            });
            format!(
                "by the rules it would be {} sets of {}{load}",
                item.dosed.sets, item.dosed.reps
            )
        }
        Wrong::TwoDoses(two) => format!("two rules dose it: `{}` and `{}`", two.one, two.other),
        Wrong::TooLarge { kind, rule } => {
            format!("a number of `rules.{kind}.{rule}` is too large to be counted")
        }
        Wrong::Dangling { kind, rule } => {
            format!("`rules.{kind}.{rule}` names what the rules do not have")
        }
        Wrong::HelpWorth { speak } => {
            format!("{speak} rules say what help is worth, where one must")
        }
        Wrong::SumTooLarge => String::from("the sums over all rules are too large to be counted"),
    }
}
