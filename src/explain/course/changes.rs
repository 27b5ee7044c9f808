//! What is otherwise than in the week before, and why: what came, by what led to it; what left or comes less often, by the
//! best week that has it on one day more; what is dosed otherwise, by the rules that dose it.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Cancel, EffortId, ExerciseId};
use crate::explain::answer::{Item, Plan, Session};
use crate::explain::check::{Handing, Placing, Says, dosing};
use crate::explain::claim::Ruling;
use crate::explain::entries::Called;
use crate::explain::glossary::Named;
use crate::explain::reason::{Held, beyond, ruling, worth_less};
use crate::infer::Setting;
use crate::plan::recheck::recheck;
use crate::plan::search::{Outcome, search};
use crate::plan::{Spot, place};

use super::{DoneInWeek, WeekChange, WhyChanged};

/// The most bounds that are named of a week that has something all the same.
const MOST_NAMED: usize = 3;

/// A week after another.
pub(crate) struct After<'a> {
    pub(crate) held: &'a Held<'a>,
    pub(crate) handing: &'a Handing<'a>,
    pub(crate) was: &'a Plan,
    pub(crate) is: &'a Plan,
    pub(crate) work: u64,
    pub(crate) cancel: &'a Cancel,
}

/// Items of an exercise with their sessions.
type Of<'p> = BTreeMap<&'p ExerciseId, Vec<(&'p Session, &'p Item)>>;

fn by_exercise(plan: &Plan) -> Of<'_> {
    let mut all: Of<'_> = BTreeMap::new();
    for session in &plan.sessions {
        for item in &session.items {
            all.entry(&item.exercise).or_default().push((session, item));
        }
    }
    all
}

/// Everything that is otherwise, by exercise.
pub(crate) fn changes(after: &After<'_>) -> Vec<WeekChange> {
    let (was, is) = (by_exercise(after.was), by_exercise(after.is));
    let all: BTreeSet<&ExerciseId> = was.keys().chain(is.keys()).copied().collect();
    let none = Vec::new();
    let changed = all.into_iter().filter_map(|exercise| {
        let was = was.get(exercise).unwrap_or(&none);
        let is = is.get(exercise).unwrap_or(&none);
        after.change(exercise, was, is)
    });
    changed.collect()
}

/// Sets, repetitions, percent and role of an item.
type Dose = (i64, i64, Option<(i64, i64)>, String);

/// How something is done, item by item.
fn doses(of: &[(&Session, &Item)]) -> Vec<Dose> {
    let doses = of.iter();
    let mut doses: Vec<_> = doses
        .map(|(_, item)| (item.sets, item.reps, item.percent, item.role.to_string()))
        .collect();
    doses.sort();
    doses
}

impl After<'_> {
    fn change(
        &self,
        exercise: &ExerciseId,
        was: &[(&Session, &Item)],
        is: &[(&Session, &Item)],
    ) -> Option<WeekChange> {
        let mut why = Vec::new();
        if is.len() < was.len() {
            why.push(self.why_not(exercise, is.len() + 1));
        }
        if is.len() > was.len() {
            // What came on a day of its own is told by that day's reason.
            let before: BTreeSet<u8> = was.iter().map(|(session, _)| session.day).collect();
            let new = is
                .iter()
                .find(|(session, _)| !before.contains(&session.day));
            why.extend(
                new.or(is.last())
                    .map(|(_, item)| WhyChanged::Placed(item.placed)),
            );
        }
        if !was.is_empty() && is.len() == was.len() && doses(was) != doses(is) {
            why.extend(self.why_dosed(was, is));
        }
        if why.is_empty() {
            return None;
        }
        let in_a_row = self.held.setting.case.weeks_in_a_row(exercise);
        Some(WeekChange {
            exercise: Called::new(self.handing.glossary, Named::Exercise, exercise),
            was: self.done(was),
            is: self.done(is),
            weeks: in_a_row + i64::from(!is.is_empty()),
            why,
        })
    }

    fn done(&self, of: &[(&Session, &Item)]) -> Option<DoneInWeek> {
        let roles: BTreeSet<_> = of.iter().map(|(_, item)| &item.role).collect();
        let called = |role| Called::new(self.handing.glossary, Named::Role, role);
        (!of.is_empty()).then(|| DoneInWeek {
            days: i64::try_from(of.len()).unwrap_or(i64::MAX),
            sets: of.iter().map(|(_, item)| item.sets).sum(),
            reps: of.iter().map(|(_, item)| item.sets * item.reps).sum(),
            top: of
                .iter()
                .filter_map(|(_, item)| Some(item.percent?.1))
                .max(),
            roles: roles.into_iter().map(called).collect(),
        })
    }

    /// Why a week does not have an exercise on so many days: what comes of the best week that has.
    fn why_not(&self, exercise: &ExerciseId, times: usize) -> WhyChanged {
        let held = self.held;
        let setting = held.setting;
        let at = setting.graph.ids.find(exercise.as_str());
        let candidate = |item: &crate::plan::Item| Some(item.exercise) == at;
        let days = held.pool.days.iter();
        let days = days.filter(|items| items.iter().any(candidate)).count();
        if days == 0 {
            let (what, says) = self.refused(exercise, at);
            return WhyChanged::Refused(what, says);
        }
        let mut case = setting.case.clone();
        let times = i64::try_from(times.min(days)).unwrap_or(1);
        case.wanted.insert(exercise.clone(), times);
        let wanting = Setting::new(setting.pack, setting.graph, &case);
        let find = |work| search(&wanting, held.week, held.pool, work, self.cancel);
        let found = match find(self.work) {
            // Once more with ten times the work, before nothing at all is said.
            Ok(Outcome::NotFound { .. }) => find(10 * self.work),
            found => found,
        };
        let solved = match found {
            Ok(Outcome::Found(solved)) => solved,
            Ok(Outcome::NoWeek) => return WhyChanged::NoRoom,
            Ok(Outcome::NotFound { .. }) | Err(_) => return WhyChanged::Unsettled,
        };
        let proven = solved.bound.is_none();
        let verdict = recheck(setting, held.week, held.loads, &solved.days);
        if verdict.missed > held.verdict.missed {
            let mut units: BTreeMap<(crate::rules::vocab::Yields, Ruling), i64> = BTreeMap::new();
            for (miss, more) in beyond(&verdict, held.verdict) {
                *units.entry((miss.yields, ruling(miss))).or_insert(0) += more;
            }
            // Those of the hardest level decide.
            let level = units.keys().next().map(|(yields, _)| *yields);
            let of_level = units
                .into_iter()
                .filter(|((yields, _), _)| Some(*yields) == level);
            let named = of_level.map(|((_, ruling), units)| (ruling, units));
            return WhyChanged::GivesWay {
                more: named.take(MOST_NAMED).collect(),
                proven,
            };
        }
        match held.verdict.worth - verdict.worth {
            less if less > 0 => WhyChanged::WorthLess {
                less,
                by: worth_less(&verdict, held.verdict)
                    .into_iter()
                    .take(MOST_NAMED)
                    .collect(),
                proven,
            },
            _ => WhyChanged::Tie,
        }
    }

    /// What is against an exercise that may stand nowhere: where least is against it.
    fn refused(&self, exercise: &ExerciseId, at: Option<usize>) -> (String, Vec<Says>) {
        let held = self.held;
        let listed = at.and_then(|at| Some((at, held.setting.graph.exercises.get(at)?)));
        let mut least: Option<(usize, (String, Vec<Says>))> = None;
        let Some((at, listed)) = listed else {
            return (String::from("the rules do not have it"), Vec::new());
        };
        for (day, laid) in held.week.days.iter().enumerate() {
            for (slot, part) in laid.layout.parts.iter().enumerate() {
                for role in &listed.roles {
                    let spot = Spot {
                        day,
                        slot,
                        exercise: at,
                        role,
                    };
                    let Ok(Err(against)) = place(held.setting, held.week, held.loads, spot) else {
                        continue;
                    };
                    if least
                        .as_ref()
                        .is_none_or(|(count, _)| against.len() < *count)
                    {
                        let placing =
                            Placing::new(part.part.as_str(), role.as_str(), exercise.as_str());
                        least = Some((against.len(), self.handing.refused(&against, &placing)));
                    }
                }
            }
        }
        least.map_or_else(Default::default, |(_, refused)| refused)
    }

    fn why_dosed(&self, was: &[(&Session, &Item)], is: &[(&Session, &Item)]) -> Vec<WhyChanged> {
        let rules = |of: &[(&Session, &Item)]| -> BTreeSet<(&'static str, String)> {
            let of = of.iter().flat_map(|(_, item)| {
                dosing((&item.dose_rule, &item.trims, &item.load_steps, &item.caps))
            });
            of.map(|(kind, id)| (kind, id.to_string())).collect()
        };
        let (before, now) = (rules(was), rules(is));
        let says = |of: BTreeSet<&(&'static str, String)>| -> Vec<Says> {
            let of = of.into_iter();
            of.map(|(kind, id)| self.handing.says_rule(kind, id))
                .collect()
        };
        let mut why = Vec::new();
        let came = says(now.difference(&before).collect());
        let went = says(before.difference(&now).collect());
        if !went.is_empty() {
            why.push(WhyChanged::NoLongerDosedBy(went));
        }
        if !came.is_empty() {
            why.push(WhyChanged::DosedBy(came));
        }
        let efforts = |of: &[(&Session, &Item)]| -> Vec<Called<EffortId>> {
            let mut efforts: Vec<&EffortId> =
                of.iter().map(|(session, _)| &session.effort).collect();
            efforts.sort();
            let called = |id| Called::new(self.handing.glossary, Named::Effort, id);
            efforts.into_iter().map(called).collect()
        };
        // What is only in the week for something else is told by what led to it.
        let role = is.last().map(|(_, item)| WhyChanged::Placed(item.placed));
        let (was, is) = (efforts(was), efforts(is));
        if was != is {
            why.push(WhyChanged::OtherDays { was, is });
        }
        why.extend(role.filter(|_| why.is_empty()));
        why
    }
}
