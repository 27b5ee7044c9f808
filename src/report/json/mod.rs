//! A week as a document for programs. Every document has `format: 1`.
//!
//! The structs are read back with any reader that speaks serde, and are then equal.

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize};

use crate::base::{Decimal, Weekday};

/// The format of the documents.
pub const FORMAT: u32 = 1;

/// Reads the number of the format; another one than this is refused.
pub(super) fn this_format<'de, D: Deserializer<'de>>(from: D) -> Result<u32, D::Error> {
    let format = u32::deserialize(from)?;
    if format == FORMAT {
        Ok(format)
    } else {
        Err(D::Error::custom(format!(
            "format {format} is not read; this is format {FORMAT}"
        )))
    }
}

macro_rules! document {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident : $ty:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(deny_unknown_fields)]
        #[non_exhaustive]
        pub struct $name {
            $($(#[$field_doc])* pub $field: $ty,)*
        }
    };
}
pub(crate) use document;

mod none;

pub use none::{ClashDocument, FurtherDocument, NoWeekDocument, NotFoundDocument};

/// Any answer as a document; it is written as the document itself, and which one it is is read from
/// its keys.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
#[non_exhaustive]
pub enum AnswerDocument {
    /// A week.
    Week(Box<WeekDocument>),
    /// No week satisfies the hard rules.
    NoWeek(NoWeekDocument),
    /// None was found within the limit of work.
    NotFound(NotFoundDocument),
}

document! {
    /// A training week.
    WeekDocument {
        /// The format, 1.
        #[serde(deserialize_with = "this_format")]
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        format: u32,
        /// The fingerprint of the rules.
        fingerprint: String,
        /// The label of the case.
        lifter: String,
        /// Phase of training.
        phase: String,
        /// The layout of the days.
        layout: String,
        /// The bar that loads are made on.
        bar: BarDocument,
        /// Bars on which loads are made that are too light for it; absent where there is none.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        lighter_bars: Vec<BarDocument>,
        /// `claimed`: the search says that no week is better; `limited`: the best that was found within the limit of work;
        /// `cancelled`: the best that was found until then.
        proof: String,
        /// In hundredths of a point.
        worth: i64,
        /// Units missed by what gave way.
        missed: MissedDocument,
        /// Where the proof is limited: what no week betters.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bound: Option<BoundDocument>,
        /// Faults that were seen in too few attempts to count; absent where there is none.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        too_seldom: Vec<TooSeldomDocument>,
        /// Causes worked on.
        worked_on: Vec<CauseDocument>,
        /// Causes that wait.
        waits: Vec<CauseDocument>,
        /// What stands in for a full form that the case rules out.
        stand_ins: Vec<StandInDocument>,
        /// What gave way.
        shortfalls: Vec<ShortfallDocument>,
        /// Days, 1 to 7, that were missed before the rest of the week was made.
        missed_days: Vec<u8>,
        /// Training days in order.
        sessions: Vec<SessionDocument>,
        /// What of the week is a variation that no rule file lists.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        composed: Vec<ComposedDocument>,
        /// Repetitions in the week, all components and all kinds of exercise counted.
        lifts: i64,
        /// Minutes of all sessions together.
        minutes: i64,
        /// What must be said with the week.
        cautions: Vec<SaidDocument>,
        /// What the case leaves open.
        missing: Vec<MissingDocument>,
    }
}

document! {
    /// A variation that no rule file lists.
    ComposedDocument {
        /// Its id.
        exercise: String,
        /// Its canonical name.
        name: String,
        /// The listed exercise that it is made from.
        from: String,
        /// What it has beyond that.
        with: Vec<String>,
    }
}

document! {
    /// A bar with its collars, which every load includes.
    BarDocument {
        /// The bar.
        bar: String,
        /// What it weighs alone.
        weight: Decimal,
        /// What each of its two collars weighs; 0 where none is on.
        collar: Decimal,
        /// The unit's sign.
        unit: String,
    }
}

document! {
    /// Units missed on each level.
    MissedDocument {
        /// By rules that give way last.
        last: i64,
        /// By rules that give way in the middle.
        middle: i64,
        /// By rules that give way first.
        first: i64,
    }
}

document! {
    /// What no week betters.
    BoundDocument {
        /// Units that every week misses at least.
        missed: MissedDocument,
        /// Worth that no week which misses as little exceeds, in hundredths of a point.
        worth: i64,
    }
}

document! {
    /// A cause of a skill.
    CauseDocument {
        /// The skill.
        skill: String,
        /// The cause.
        cause: String,
        /// Its demand, 1 to 300.
        demand: i64,
        /// Whether the coach is sure of it; absent where not.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        sure: bool,
        /// The exercises of the week that work on it, the most first; absent where there is none.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        by: Vec<String>,
        /// What it waits for, in words; absent where it is worked on.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        why: Option<String>,
    }
}

document! {
    /// A stated fault that was seen in too few attempts to count.
    TooSeldomDocument {
        /// The fault.
        fault: String,
        /// The skill.
        skill: String,
        /// The rule that says from how many on it counts.
        rule: String,
        /// Its words: what to do.
        says: String,
    }
}

document! {
    /// What stands in for a full form.
    StandInDocument {
        /// The full form.
        of: String,
        /// What stands in; absent where nothing does.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        exercise: Option<String>,
        /// The words of the rule.
        says: String,
    }
}

document! {
    /// A bound that gave way.
    ShortfallDocument {
        /// The rule's path, or `layouts.PART`.
        rule: String,
        /// Units missed.
        missed: i64,
        /// What outranked it.
        because_of: Vec<String>,
        /// When it gives way: `last`, `middle` or `first`.
        yields: String,
        /// Days of the week, 1 to 7; empty for a sum over the week.
        days: Vec<u8>,
        /// Where the rule stands.
        place: PlaceDocument,
    }
}

document! {
    /// A place in a rule file.
    PlaceDocument {
        /// The file.
        file: String,
        /// The line, counted from 1.
        line: u32,
        /// The column in characters, counted from 1.
        column: u32,
    }
}

document! {
    /// A training day.
    SessionDocument {
        /// Day of the week, 1 (Monday) to 7.
        day: u8,
        /// The same as a word, where the case names its training days.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        weekday: Option<Weekday>,
        /// How hard the day is.
        effort: String,
        /// Whether it was done already when the week was made.
        done: bool,
        /// All of its time, a started minute as a whole.
        minutes: i64,
        /// Repetitions, all components counted.
        lifts: i64,
        /// Items in order.
        items: Vec<ItemDocument>,
    }
}

document! {
    /// One line of a session.
    ItemDocument {
        /// Part of the session.
        part: String,
        /// What it is in the week for.
        role: String,
        /// The exercise.
        exercise: String,
        /// Its name.
        name: String,
        /// The competition form whose place it takes, where the case rules that form out.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        in_place_of: Option<String>,
        /// Sets.
        sets: i64,
        /// Repetitions of one set, all components counted.
        reps: i64,
        /// Repetitions of each component in order.
        round: Vec<i64>,
        /// The load; absent where there is no basis for one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        load: Option<LoadDocument>,
        /// How it should feel; absent where there is a load.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        feel: Option<String>,
        /// The lighter sets that lead to it, rising.
        lighter_sets: Vec<LighterSetDocument>,
        /// What to look at while it is done; absent where no rule says so.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        watch: Option<WatchDocument>,
        /// What rules say of so light a load; absent where none does.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        notes: Vec<SaidDocument>,
        /// The constraints that make it what it is.
        constraints: Vec<String>,
        /// Why it is there: one sentence, or all that led to it.
        why: Vec<String>,
    }
}

document! {
    /// A set that leads to the first working set.
    LighterSetDocument {
        /// Percent of the first working set's load, before it is rounded down.
        percent_of_load: i64,
        /// Repetitions of each component in order.
        round: Vec<i64>,
        /// With bar and collars, in the unit of the bar.
        weight: Decimal,
        /// Pieces on one side, innermost first.
        pieces: Vec<Decimal>,
    }
}

document! {
    /// What to look at while something is done.
    WatchDocument {
        /// The rule.
        rule: String,
        /// What to look at.
        look: String,
        /// When to take load off or stop.
        lighten: String,
    }
}

document! {
    /// A load on the bar.
    LoadDocument {
        /// The bar.
        bar: String,
        /// With bar and collars.
        low: Decimal,
        /// With bar and collars.
        high: Decimal,
        /// The unit's sign.
        unit: String,
        /// What the load is a share of the reference.
        percent: PercentDocument,
        /// What the rules ask for; absent where that is what the load is.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        asked: Option<PercentDocument>,
        /// The reference.
        of: String,
        /// What goes on each side, innermost first.
        pieces: PiecesDocument,
        /// The best that the reference was estimated from; absent where it is known.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        estimated_from: Option<String>,
    }
}

document! {
    /// Percent of a reference.
    PercentDocument {
        /// Low end.
        low: i64,
        /// High end.
        high: i64,
    }
}

document! {
    /// Pieces on one side of the bar, innermost first.
    PiecesDocument {
        /// For the low end.
        low: Vec<Decimal>,
        /// For the high end.
        high: Vec<Decimal>,
    }
}

document! {
    /// Words that a rule has said.
    SaidDocument {
        /// The rule.
        rule: String,
        /// Its words.
        says: String,
    }
}

document! {
    /// What the case leaves open.
    MissingDocument {
        /// `field` or `best`.
        kind: String,
        /// The case field or the reference.
        id: String,
        /// What follows from it, in words.
        says: String,
    }
}
