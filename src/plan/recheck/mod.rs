//! The re-check: a finished week held against the rules, in exact integers.
//!
//! It is written from the meaning of the rules alone. It shares with the search
//! what lies below both (what an exercise is, what a selector matches, how an
//! item is dosed) and nothing else: no row, no table and no bound that the
//! search made is looked at.
//!
//! One file for each rule kind. [`hold_all`] takes the rules apart field by
//! field, so that a kind with no re-check does not compile.

mod adjacent;
mod alike;
mod apart;
mod before;
mod count;
mod differ;
mod exact;
mod exclude;
mod floor;
mod followed;
mod found;
mod fullest;
mod help_worth;
mod kept;
mod legal;
mod lighter;
mod minutes;
mod needs;
mod position;
mod prefer;
mod proportion;
mod quality_worth;
mod repeat;
mod shift;
mod slots;
mod stress;
mod view;
mod volume;

#[cfg(test)]
mod tests;

use crate::base::{At, PartId, Place, RuleId};
use crate::infer::Setting;
use crate::rules::kinds::{Rule, Rules};
use crate::rules::vocab::Yields;

use super::dose::TwoDoses;
use super::item::{Item, Refusal};
use super::load::Loads;
use super::slots::Week;

use exact::{Exact, Stop, plus, times};
use found::Found;
use view::View;

/// Whose bound is missed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Whose {
    /// A rule's.
    Rule(RuleId),
    /// That of a part of the day's layout.
    Slot(PartId),
}

/// A bound that the week does not keep.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Miss {
    /// The rule kind's word, or [`slots::KIND`].
    pub(crate) kind: &'static str,
    pub(crate) whose: Whose,
    /// Where the rule or the part of the layout stands.
    pub(crate) place: Place,
    pub(crate) yields: Yields,
    /// Units missed.
    pub(crate) units: i64,
    /// By how much, in what the kind counts: items, sets, repetitions, points,
    /// pairs; seconds for a time, hundredths for a share.
    pub(crate) lack: i64,
    /// The day, by its place in the week; of two days the earlier; none for a sum over the week.
    pub(crate) day: Option<usize>,
}

/// Why what stands there can't be a week at all.
#[derive(Debug, Clone)]
pub(crate) enum Wrong {
    /// The week has another number of days than the layout.
    Days { asked: usize, given: usize },
    /// The day has no such part.
    NoSlot,
    /// It stands after an item of a later part.
    Order,
    /// The session has the exercise already.
    Twice,
    /// It may not stand there, for these reasons.
    NoCandidate(Vec<Refusal>),
    /// It may stand there, but as this, not as it is.
    Otherwise(Box<Item>),
    /// The pack leaves its dose open.
    TwoDoses(Box<TwoDoses>),
    /// A number of this rule's is beyond what can be counted.
    TooLarge { kind: &'static str, rule: RuleId },
    /// This rule names a table or a quality that the pack does not have.
    Dangling { kind: &'static str, rule: RuleId },
    /// So many rules say what help is worth, where one must.
    HelpWorth { speak: usize },
    /// The sums over all rules are beyond what can be counted.
    SumTooLarge,
}

/// Something that can't be part of a week, or of no week.
#[derive(Debug, Clone)]
pub(crate) struct Illegal {
    /// The day, by its place in the week.
    pub(crate) day: Option<usize>,
    /// The item, by its place in the session.
    pub(crate) at: Option<usize>,
    pub(crate) why: Wrong,
}

/// What a week comes to.
#[derive(Debug, Clone, Default)]
pub(crate) struct Verdict {
    /// Hard bounds that are missed.
    pub(crate) broken: Vec<Miss>,
    /// What can't stand at all; the rest of the verdict takes it as it stands.
    pub(crate) illegal: Vec<Illegal>,
    /// Bounds that gave way.
    pub(crate) misses: Vec<Miss>,
    /// Units missed on the levels `last`, `middle`, `first`.
    pub(crate) missed: [i64; 3],
    /// In hundredths of a point.
    pub(crate) worth: i64,
    /// The worth by whose it is, where there is any.
    pub(crate) worths: Vec<(&'static str, Whose, i64)>,
    /// What decides between weeks of the same worth; the least is best.
    pub(crate) tie: i64,
}

impl Verdict {
    /// Whether the week may be given out at all.
    pub(crate) fn stands(&self) -> bool {
        self.broken.is_empty() && self.illegal.is_empty()
    }

    fn wrong(&mut self, why: Wrong) {
        self.illegal.push(Illegal {
            day: None,
            at: None,
            why,
        });
    }

    /// Takes over what one rule or slot found.
    fn take(&mut self, kind: &'static str, whose: &Whose, place: &Place, found: Found) {
        match plus(self.worth, found.worth) {
            Ok(worth) => self.worth = worth,
            Err(_) => self.wrong(Wrong::SumTooLarge),
        }
        if found.worth != 0 {
            self.worths.push((kind, whose.clone(), found.worth));
        }
        for lack in found.lacks {
            let miss = Miss {
                kind,
                whose: whose.clone(),
                place: place.clone(),
                yields: lack.yields,
                units: lack.units,
                lack: lack.lack,
                day: lack.day,
            };
            match lack
                .yields
                .level()
                .and_then(|level| self.missed.get_mut(level))
            {
                None => self.broken.push(miss),
                Some(level) => {
                    match plus(*level, lack.units) {
                        Ok(units) => *level = units,
                        Err(_) => self.wrong(Wrong::SumTooLarge),
                    }
                    self.misses.push(miss);
                }
            }
        }
    }
}

/// A rule kind that decides about what stands in a week.
trait Held: Rule {
    /// Holds the week against the rule, which speaks.
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()>;
}

/// Holds a week against all rules; `days` are the items of each training day in the order of the session.
pub(crate) fn recheck(
    setting: &Setting<'_>,
    week: &Week<'_>,
    loads: &Loads,
    days: &[Vec<Item>],
) -> Verdict {
    let mut verdict = Verdict::default();
    let view = View {
        setting,
        week,
        days,
    };
    if days.len() != week.days.len() {
        verdict.wrong(Wrong::Days {
            asked: week.days.len(),
            given: days.len(),
        });
    }
    legal::hold(&view, loads, &mut verdict);
    judge(&view, By::Everything, &mut verdict);
    match tie(days) {
        Ok(tie) => verdict.tie = tie,
        Err(_) => verdict.wrong(Wrong::SumTooLarge),
    }
    verdict
}

/// By what a week is judged.
#[derive(Clone, Copy)]
pub(crate) enum By<'b> {
    Everything,
    /// What the layout asks of its parts.
    Parts,
    /// A rule of this kind and id alone.
    Rule(&'static str, &'b RuleId),
}

/// What a week comes to whose items are known to be able to stand where they stand, without asking that again: for weeks that
/// differ by an item from one that was rechecked.
pub(crate) fn judged(
    setting: &Setting<'_>,
    week: &Week<'_>,
    days: &[Vec<Item>],
    by: By<'_>,
) -> Verdict {
    let mut verdict = Verdict::default();
    let view = View {
        setting,
        week,
        days,
    };
    judge(&view, by, &mut verdict);
    verdict
}

fn judge(view: &View<'_>, by: By<'_>, verdict: &mut Verdict) {
    let only = match by {
        By::Rule(kind, id) => Some((kind, id)),
        By::Everything | By::Parts => None,
    };
    if only.is_none() {
        slots::hold(view, verdict);
    }
    if !matches!(by, By::Parts) {
        hold_all(view, view.setting.rules(), verdict, only);
    }
}

/// The kind and id of the only rule that is asked for.
type Only<'o> = Option<(&'static str, &'o RuleId)>;

/// Every kind by name, with no `..`: a new kind must say here where it is held.
fn hold_all(view: &View<'_>, rules: &Rules, verdict: &mut Verdict, only: Only<'_>) {
    let Rules {
        adjacent,
        alike,
        apart,
        before,
        // An item's load: part of its dose, which is made again for each item.
        cap: _,
        // An item's effect: it is in the setting before anything is placed.
        carry_over: _,
        // It is said with a week and asks nothing of it.
        caution: _,
        // Which exercises there are: they are there before a week is looked at.
        compose: _,
        count,
        differ,
        // An item's dose, which is made again for each item.
        dose: _,
        exclude,
        floor,
        // Which causes are worked on: it is in the setting before anything is placed.
        focus: _,
        followed,
        // What stands in: it is in the setting. Where nothing does, `fullest::asks_nothing` silences lower bounds.
        fullest: _,
        help_worth,
        // Demand: it is in the setting before anything is placed.
        how_often: _,
        kept,
        // Which items may stand, which is asked again for each item.
        least_load: _,
        lighter,
        // An item's load: part of its dose, which is made again for each item.
        load_step: _,
        minutes,
        needs,
        position,
        prefer,
        proportion,
        quality_worth,
        // An item's time: part of its dose, which is made again for each item.
        ramp: _,
        repeat,
        shift,
        stress,
        // The changeover is part of an item's dose; the warm-up is asked for by `minutes`.
        timing: _,
        // An item's sets: part of its dose, which is made again for each item.
        trim: _,
        volume,
        // It is said beside an item and asks nothing of it.
        watch: _,
    } = rules;
    each(view, adjacent, verdict, only);
    each(view, alike, verdict, only);
    each(view, apart, verdict, only);
    each(view, before, verdict, only);
    each(view, count, verdict, only);
    each(view, differ, verdict, only);
    each(view, exclude, verdict, only);
    each(view, floor, verdict, only);
    each(view, followed, verdict, only);
    let speak = each(view, help_worth, verdict, only);
    if only.is_none() && (speak > 1 || (speak == 0 && !view.setting.focus.is_empty())) {
        verdict.wrong(Wrong::HelpWorth { speak });
    }
    each(view, kept, verdict, only);
    each(view, lighter, verdict, only);
    each(view, minutes, verdict, only);
    each(view, needs, verdict, only);
    each(view, position, verdict, only);
    each(view, prefer, verdict, only);
    each(view, proportion, verdict, only);
    each(view, quality_worth, verdict, only);
    each(view, repeat, verdict, only);
    each(view, shift, verdict, only);
    each(view, stress, verdict, only);
    each(view, volume, verdict, only);
}

/// Holds the rules of one kind; says how many speak.
fn each<R: Held>(
    view: &View<'_>,
    rules: &[(At<RuleId>, R)],
    verdict: &mut Verdict,
    only: Only<'_>,
) -> usize {
    if only.is_some_and(|(kind, _)| kind != R::KIND) {
        return 0;
    }
    let mut speak = 0;
    let speaking = view.setting.speaking(rules);
    for (id, rule) in speaking.filter(|(id, _)| only.is_none_or(|(_, only)| id.value == *only)) {
        speak += 1;
        let mut found = Found::default();
        let rule_id = || id.value.clone();
        match rule.hold(view, &mut found) {
            Ok(()) => verdict.take(R::KIND, &Whose::Rule(rule_id()), &id.place, found),
            Err(Stop::TooLarge) => verdict.wrong(Wrong::TooLarge {
                kind: R::KIND,
                rule: rule_id(),
            }),
            Err(Stop::Dangling) => verdict.wrong(Wrong::Dangling {
                kind: R::KIND,
                rule: rule_id(),
            }),
        }
    }
    speak
}

/// Of each item its place among all exercises times its day's place in the week, both from one.
fn tie(days: &[Vec<Item>]) -> Exact<i64> {
    let from_one = |at: usize| {
        i64::try_from(at)
            .map_err(|_| Stop::TooLarge)
            .and_then(|at| plus(at, 1))
    };
    exact::total(days.iter().enumerate().flat_map(|(day, session)| {
        session
            .iter()
            .map(move |item| times(from_one(item.exercise)?, from_one(day)?))
    }))
}
