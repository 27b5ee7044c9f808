//! The case that goes on from a log: what was seen, tried, done and made takes the place of what the case said of it, and all else
//! stays as it is said.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{At, ExerciseId, GradeId};
use crate::explain::date::day_in_words;
use crate::explain::entries::Called;
use crate::infer::{BestMade, EstimateMade, FaultCounted};
use crate::rules::case::{Best, CaseText, SeenFault, Tried};
use crate::rules::vocab::Came;

use super::make::Reviewing;
use super::{Becomes, Decided, Decision, FaultReview};

/// Most attempts that a case says.
const MOST: u32 = 1_000;

/// What becomes of a fault.
pub(super) fn becomes(
    reviewing: &Reviewing<'_>,
    counted: &FaultCounted,
    decision: Option<&Decision>,
) -> Becomes {
    let is_this = |fault: &&crate::rules::case_check::Seen| {
        fault.fault == counted.fault && fault.skill == counted.skill
    };
    let stated = reviewing.case.faults.iter().find(is_this);
    if decision.is_some_and(|held| held.decided == Decided::Withdraw) {
        return Becomes::LeftOut;
    }
    let last = counted.full.last;
    if last.seen == 0 {
        return if stated.is_some() {
            Becomes::AsBefore
        } else {
            Becomes::LeftOut
        };
    }
    let mildest = || {
        let held = reviewing.pack.faults.get(&counted.fault)?;
        held.grades.keys().next().map(|grade| grade.value.clone())
    };
    let said = stated.map(|fault| fault.grade.clone());
    let grade: Option<GradeId> = counted.grade.clone().or(said).or_else(mildest);
    let Some(grade) = grade else {
        return Becomes::AsBefore;
    };
    // More than a case can say is said in parts of as many as it can.
    let of = last.of.min(MOST);
    let seen = if last.of > MOST {
        (last.seen * MOST / last.of).max(1)
    } else {
        last.seen
    };
    let small = |number: u32| u16::try_from(number).unwrap_or(u16::MAX);
    Becomes::Stated {
        grade,
        seen: small(seen),
        of: small(of),
        is_new: stated.is_none(),
    }
}

/// What the next case follows from.
pub(super) struct Next<'a> {
    pub(super) reviewing: &'a Reviewing<'a>,
    pub(super) faults: &'a [FaultReview],
    pub(super) made: &'a [BestMade],
    pub(super) estimates: &'a [EstimateMade],
    /// In the last week.
    pub(super) did: &'a [Called<ExerciseId>],
    /// In the whole log.
    pub(super) done: &'a BTreeSet<Called<ExerciseId>>,
}

impl Next<'_> {
    /// The text of the case.
    pub(super) fn text(&self) -> CaseText {
        let said = &self.reviewing.case.text;
        let mut text = CaseText::clone(said);
        text.today = Some(At::nowhere(day_in_words(self.reviewing.today)));
        text.faults = self.next_faults(said);
        text.tried = self.tried(said);
        let did = self.did.iter();
        text.did_last_week = did
            .map(|called| At::nowhere(called.id.to_string()))
            .collect();
        // What the case says of a week before is of one that the log has gone beyond.
        text.week_before.clear();
        text.new.retain(|name| {
            let named = (self.reviewing.named)(name);
            !named.is_some_and(|id| self.done.iter().any(|done| done.id == id))
        });
        let mut best = |reference: &crate::base::ReferenceId, load, date| {
            let best = Best {
                weight: At::nowhere(load),
                on: Some(At::nowhere(day_in_words(date))),
            };
            text.bests
                .insert(At::nowhere(reference.clone()), At::nowhere(best));
        };
        for made in self.made {
            best(&made.reference, made.load, made.date);
        }
        for made in self.estimates.iter().filter(|made| made.becomes_best) {
            best(&made.reference, made.once, made.date);
        }
        text
    }

    fn next_faults(&self, said: &CaseText) -> Vec<At<SeenFault>> {
        let mut all = Vec::new();
        // What was read stands in the order in which it was said.
        let stated = said.faults.iter().zip(&self.reviewing.case.faults);
        for (text, read) in stated {
            let held = self
                .faults
                .iter()
                .find(|held| held.fault.id == read.fault && held.skill == read.skill);
            match held.map(|held| &held.becomes) {
                Some(Becomes::LeftOut) => {}
                Some(Becomes::Stated {
                    grade, seen, of, ..
                }) => all.push(At::nowhere(SeenFault {
                    grade: At::nowhere(grade.clone()),
                    seen: Some(At::nowhere(*seen)),
                    of: Some(At::nowhere(*of)),
                    ..text.value.clone()
                })),
                Some(Becomes::AsBefore) | None => all.push(text.clone()),
            }
        }
        for held in self.faults {
            if let Becomes::Stated {
                grade,
                seen,
                of,
                is_new: true,
            } = &held.becomes
            {
                all.push(At::nowhere(SeenFault {
                    fault: At::nowhere(held.fault.id.clone()),
                    skill: Some(At::nowhere(held.skill.clone())),
                    grade: At::nowhere(grade.clone()),
                    seen: Some(At::nowhere(*seen)),
                    of: Some(At::nowhere(*of)),
                    from_percent: None,
                }));
            }
        }
        all
    }

    /// What came of what was tried: of several decisions about one exercise what speaks best for it; what the case said of others
    /// stays.
    fn tried(&self, said: &CaseText) -> Vec<At<Tried>> {
        let mut came: BTreeMap<&ExerciseId, Came> = BTreeMap::new();
        let decided = self.faults.iter().flat_map(|held| &held.exercises);
        for held in decided.filter(|held| held.is_listed) {
            let word = held.decision.as_ref().and_then(|decision| decision.came);
            let Some(now) = Came::ALL
                .into_iter()
                .find(|came| Some(came.as_str()) == word)
            else {
                continue;
            };
            let best = came.entry(&held.exercise.id).or_insert(now);
            *best = now.min(*best);
        }
        let mut all: Vec<At<Tried>> = said
            .tried
            .iter()
            .filter(|tried| {
                let named = (self.reviewing.named)(&tried.exercise);
                named.is_none_or(|id| !came.contains_key(&id))
            })
            .cloned()
            .collect();
        all.extend(came.into_iter().map(|(id, came)| {
            At::nowhere(Tried {
                exercise: At::nowhere(id.to_string()),
                came,
            })
        }));
        all
    }
}
