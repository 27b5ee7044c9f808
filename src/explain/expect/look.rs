//! Looking at a week: what matches, how much of it, and what a line rests on.

use std::collections::BTreeSet;

use crate::explain::answer::{Item, Plan, Session};
use crate::explain::claim::{Claim, Gain};
use crate::infer::Placed;
use crate::rules::kinds::CountedIn;
use crate::rules::vocab::{DayFilter, Selector};

use super::Standing;
use super::hold::Asked;

/// An item of a week with its session.
#[derive(Clone, Copy)]
pub(super) struct Line<'a> {
    pub(super) session: &'a Session,
    pub(super) item: &'a Item,
}

impl Line<'_> {
    pub(super) fn standing(&self) -> Standing {
        let item = self.item;
        Standing {
            day: self.session.day,
            part: item.part.clone(),
            role: item.role.clone(),
            exercise: item.exercise.clone(),
            name: item.name.clone(),
            sets: item.sets,
            reps: item.reps,
            percent: item.percent,
        }
    }
}

pub(super) fn standing(lines: &[Line<'_>]) -> Vec<Standing> {
    lines.iter().map(Line::standing).collect()
}

/// Every item of the days that a filter takes in, in the order of the week.
pub(super) fn lines<'a>(asked: &Asked<'a>, plan: &'a Plan, on: &DayFilter) -> Vec<Line<'a>> {
    let sessions = plan.sessions.iter().enumerate();
    sessions
        .filter(|(day, _)| asked.week.on(on, *day))
        .flat_map(|(_, session)| session.items.iter().map(move |item| Line { session, item }))
        .collect()
}

/// Those of some items that match.
pub(super) fn matching<'a>(
    asked: &Asked<'a>,
    what: &Selector,
    lines: &[Line<'a>],
) -> Vec<Line<'a>> {
    let matches = |line: &&Line<'a>| {
        let exercise = asked.setting.graph.ids.find(line.item.exercise.as_str());
        exercise.is_some_and(|exercise| {
            let placed = Placed {
                exercise,
                role: Some(&line.item.role),
                part: Some(&line.item.part),
                effort: Some(&line.session.effort),
                percent: line.item.percent.map(|(_, high)| high),
            };
            asked.setting.matches(what, &placed)
        })
    };
    lines.iter().filter(matches).copied().collect()
}

/// How many.
pub(super) fn counted(lines: &[Line<'_>], counted_in: CountedIn) -> i64 {
    let each = lines.iter().map(|line| line.item);
    match counted_in {
        CountedIn::Items => i64::try_from(lines.len()).unwrap_or(i64::MAX),
        CountedIn::Sets => each.map(|item| item.sets).sum(),
        CountedIn::Reps => each.map(|item| item.sets * item.reps).sum(),
        CountedIn::Days => {
            let days: BTreeSet<u8> = lines.iter().map(|line| line.session.day).collect();
            i64::try_from(days.len()).unwrap_or(i64::MAX)
        }
    }
}

/// Whether an item rests on a cause, a constraint or a rule with this id.
pub(super) struct Rests<'a> {
    claims: Vec<&'a Claim>,
}

impl<'a> Rests<'a> {
    pub(super) fn of(plan: &'a Plan, item: &Item) -> Self {
        let facts = plan.trail.closure(item.placed).into_iter();
        let claims = facts
            .filter_map(|id| plan.trail.get(id))
            .map(|fact| fact.claim());
        Self {
            claims: claims.collect(),
        }
    }

    pub(super) fn cause(&self, wanted: &str) -> bool {
        self.claims.iter().any(|claim| match claim {
            Claim::Helps {
                cause, half_points, ..
            } => *half_points > 0 && cause.as_str() == wanted,
            Claim::Gains {
                to: Gain::Cause { cause, .. },
                ..
            } => cause.as_str() == wanted,
            _ => false,
        })
    }

    pub(super) fn constraint(&self, wanted: &str) -> bool {
        self.claims.iter().any(|claim| match claim {
            Claim::Helps {
                by, half_points, ..
            } => *half_points > 0 && by.iter().any(|id| id.as_str() == wanted),
            Claim::Gains {
                to: Gain::Cause { by, .. },
                ..
            } => by.iter().any(|id| id.as_str() == wanted),
            _ => false,
        })
    }

    pub(super) fn rule(&self, wanted: &str) -> bool {
        self.claims.iter().any(|claim| match claim {
            Claim::Needed { ruling, .. } => ruling.is_rule(wanted),
            Claim::Dosed { rule, .. }
            | Claim::Capped(rule)
            | Claim::Trimmed(rule)
            | Claim::Stepped(rule)
            | Claim::StandsIn { rule, .. }
            | Claim::Gains {
                to: Gain::Preference(rule),
                ..
            } => rule.as_str() == wanted,
            _ => false,
        })
    }
}
