//! From the entries of a log to how often each fault was seen, in which form, over which weeks, and what is decided from it.

mod bests;
mod decide;
mod estimate;
mod interval;

use std::collections::{BTreeMap, BTreeSet};

use crate::base::{Decimal, FaultId, GradeId, ReviewDecisionId, SkillId};
use crate::graph::{Bits, Exercise, Graph, Kind};
use crate::rules::log::week_of;
use crate::rules::pack::Pack;
use crate::rules::vocab::ReviewWindow;

use super::demand::Pair;
use super::effect::of_exercise;

pub(crate) use bests::{BestMade, EstimateMade, bests};

use decide::decide;
use interval::interval;

/// An entry with what it names found; exercises by index.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    /// In days since 1970-01-01.
    pub(crate) date: i64,
    pub(crate) exercise: usize,
    pub(crate) load: Option<Decimal>,
    pub(crate) sets: u16,
    pub(crate) made: u16,
    pub(crate) missed: u16,
    pub(crate) faults: Vec<RowFault>,
}

/// A fault that an entry names.
#[derive(Debug, Clone)]
pub(crate) struct RowFault {
    pub(crate) fault: FaultId,
    pub(crate) skill: SkillId,
    pub(crate) grade: Option<GradeId>,
    /// In how many of the repetitions.
    pub(crate) seen: u16,
    /// Whether that is said.
    pub(crate) is_said: bool,
}

/// In how many repetitions of how many, with the ends of its interval in per mille.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Share {
    pub(crate) seen: u32,
    pub(crate) of: u32,
    pub(crate) low: u16,
    pub(crate) high: u16,
    /// Calendar weeks that have such repetitions.
    pub(crate) weeks: u16,
}

/// How often a fault was seen in one form of the skill, or in several.
#[derive(Debug, Clone)]
pub(crate) struct Counted {
    /// By calendar week.
    pub(crate) by_week: Vec<(i64, Share)>,
    pub(crate) in_all: Share,
    /// In the last weeks.
    pub(crate) last: Share,
    /// In the first weeks, where the last ones are others.
    pub(crate) first: Option<Share>,
}

/// An exercise other than the full form, in which a fault may be seen.
#[derive(Debug, Clone)]
pub(crate) struct FormCounted {
    pub(crate) exercise: usize,
    pub(crate) counted: Counted,
    /// Whether the fault can be seen in it at all.
    pub(crate) shows: bool,
    /// What is decided about it, where it works against a cause of the fault and was done in the last weeks.
    pub(crate) decided: Option<ReviewDecisionId>,
}

/// What a log says of one fault of a skill.
#[derive(Debug, Clone)]
pub(crate) struct FaultCounted {
    pub(crate) fault: FaultId,
    pub(crate) skill: SkillId,
    pub(crate) full: Counted,
    pub(crate) forms: Vec<FormCounted>,
    /// What is decided where no exercise is asked about.
    pub(crate) by_itself: Option<ReviewDecisionId>,
    /// The grade that was seen most often in the full form in the last weeks, the severest of equals.
    pub(crate) grade: Option<GradeId>,
}

/// What a log says.
#[derive(Debug, Clone)]
pub(crate) struct Reviewed {
    /// The calendar weeks that have entries.
    pub(crate) weeks: BTreeSet<i64>,
    pub(crate) faults: Vec<FaultCounted>,
    /// How many entries name a fault and do not say in how many repetitions.
    pub(crate) unsaid: usize,
}

/// How often a fault was seen, by calendar week.
type Weeks = BTreeMap<i64, (u32, u32)>;

struct Counting<'a> {
    pack: &'a Pack,
    graph: &'a Graph,
    rows: &'a [Row],
    window: &'a ReviewWindow,
    first_to: i64,
    last_from: i64,
}

/// What entries say of these faults and of those that they name.
pub(crate) fn review(
    pack: &Pack,
    graph: &Graph,
    window: &ReviewWindow,
    of_case: &[(FaultId, SkillId)],
    rows: &[Row],
) -> Reviewed {
    let weeks: BTreeSet<i64> = rows.iter().map(|row| week_of(row.date)).collect();
    let (first, last) = (weeks.first(), weeks.last());
    let counting = Counting {
        pack,
        graph,
        rows,
        window,
        first_to: first.map_or(0, |first| first + i64::from(window.first_weeks.value) - 1),
        last_from: last.map_or(0, |last| last - i64::from(window.last_weeks.value) + 1),
    };
    let named = rows.iter().flat_map(|row| &row.faults);
    let named = named.map(|held| (held.fault.clone(), held.skill.clone()));
    let all: BTreeSet<(FaultId, SkillId)> = of_case.iter().cloned().chain(named).collect();
    let faults = all.into_iter();
    let faults = faults.map(|(fault, skill)| counting.fault(fault, skill));
    let is_unsaid = |row: &&Row| row.faults.iter().any(|held| !held.is_said);
    Reviewed {
        faults: faults.collect(),
        unsaid: rows.iter().filter(is_unsaid).count(),
        weeks,
    }
}

/// Whether an exercise is the full form of a skill: a root that has all of its stages, done alone.
pub(crate) fn is_full(graph: &Graph, exercise: &Exercise, skill: usize) -> bool {
    let stages = graph.skill_stages.get(skill);
    matches!(exercise.kind, Kind::Root { .. })
        && exercise.pieces.iter().all(|piece| {
            piece.body.skills.has(skill)
                && stages.is_some_and(|stages| stages.within(&piece.body.stages))
        })
}

impl Counting<'_> {
    fn fault(&self, fault: FaultId, skill: SkillId) -> FaultCounted {
        let at = self.graph.skills.find(skill.as_str());
        let of_skill = |exercise: &Exercise| at.is_some_and(|at| exercise.skills.has(at));
        let (mut full, mut forms) = (Weeks::new(), BTreeMap::<usize, Weeks>::new());
        for row in self.rows {
            let Some(exercise) = self.graph.exercises.get(row.exercise) else {
                continue;
            };
            if !of_skill(exercise) {
                continue;
            }
            let named = row
                .faults
                .iter()
                .find(|held| held.fault == fault && held.skill == skill);
            let is_full = at.is_some_and(|at| is_full(self.graph, exercise, at));
            let weeks = if is_full {
                &mut full
            } else {
                forms.entry(row.exercise).or_default()
            };
            let held = weeks.entry(week_of(row.date)).or_default();
            // Where it cannot be seen, that nobody saw it says nothing.
            if named.is_some() || self.shows(exercise, &fault, at) {
                held.0 += named.map_or(0, |named| u32::from(named.seen));
                held.1 += u32::from(row.made) + u32::from(row.missed);
            }
        }
        let full = self.counted(&full);
        let by_itself = decide(self.pack, &full, None);
        let against = self.against(&fault, at);
        let forms = forms.into_iter().filter_map(|(at_form, weeks)| {
            let exercise = self.graph.exercises.get(at_form)?;
            let counted = self.counted(&weeks);
            let is_now = weeks.keys().any(|week| *week >= self.last_from);
            let helps = against
                .iter()
                .any(|pair| of_exercise(self.pack, self.graph, &[], exercise, pair) > 0);
            let decided = (is_now && helps)
                .then(|| decide(self.pack, &full, Some(&counted)))
                .flatten();
            Some(FormCounted {
                exercise: at_form,
                shows: self.shows(exercise, &fault, at),
                counted,
                decided,
            })
        });
        FaultCounted {
            forms: forms.collect(),
            grade: self.grade(&fault, &skill, at),
            by_itself,
            full,
            fault,
            skill,
        }
    }

    /// Whether a fault can be seen in an exercise: a movement of the skill has the stages in which it shows.
    fn shows(&self, exercise: &Exercise, fault: &FaultId, skill: Option<usize>) -> bool {
        let mut all = self.pack.seen_where.values();
        let found = all.find(|held| held.faults.iter().any(|of| of.value == *fault));
        let (Some(held), Some(skill)) = (found, skill) else {
            return true;
        };
        let of_skill = self.graph.skill_stages.get(skill);
        let stages = held.stages.iter();
        let stages = stages.filter_map(|stage| self.graph.stages.find(stage.as_str()));
        let wanted: Bits = stages
            .filter(|stage| of_skill.is_some_and(|of| of.has(*stage)))
            .collect();
        exercise
            .pieces
            .iter()
            .any(|piece| piece.body.skills.has(skill) && wanted.within(&piece.body.stages))
    }

    /// The causes of a fault in the movement, each with its skill.
    fn against(&self, fault: &FaultId, skill: Option<usize>) -> Vec<Pair> {
        let (Some(skill), Some(held)) = (skill, self.pack.faults.get(fault)) else {
            return Vec::new();
        };
        let causes = held.causes.iter();
        let causes = causes.filter(|(cause, share)| {
            share.percent.value > 0 && self.pack.movement_causes.contains_key(&cause.value)
        });
        let pair = |cause| Pair {
            skill,
            cause,
            demand: 0,
            movement: true,
            sure: false,
        };
        causes
            .filter_map(|(cause, _)| self.graph.causes.find(cause.as_str()).map(pair))
            .collect()
    }

    fn counted(&self, weeks: &Weeks) -> Counted {
        let between = |from: i64, to: i64| {
            let held = weeks.range(from..=to.max(from));
            let held = held.filter(|(_, (_, of))| *of > 0);
            let (mut seen, mut of, mut weeks) = (0, 0, 0_u16);
            for (_, week) in held {
                seen += week.0;
                of += week.1;
                weeks = weeks.saturating_add(1);
            }
            self.share(seen, of, weeks)
        };
        let by_week = weeks.iter().filter(|(_, (_, of))| *of > 0);
        Counted {
            by_week: by_week
                .map(|(week, (seen, of))| (*week, self.share(*seen, *of, 1)))
                .collect(),
            in_all: between(i64::MIN, i64::MAX),
            last: between(self.last_from, i64::MAX),
            first: (self.first_to < self.last_from).then(|| between(i64::MIN, self.first_to)),
        }
    }

    fn share(&self, seen: u32, of: u32, weeks: u16) -> Share {
        let (low, high) = interval(seen, of, self.window.interval_percent.value);
        Share {
            seen,
            of,
            low,
            high,
            weeks,
        }
    }

    fn grade(&self, fault: &FaultId, skill: &SkillId, at: Option<usize>) -> Option<GradeId> {
        let of = self.pack.faults.get(fault)?;
        let mut seen: BTreeMap<usize, u32> = BTreeMap::new();
        let now = self
            .rows
            .iter()
            .filter(|row| week_of(row.date) >= self.last_from);
        for row in now {
            let exercise = self.graph.exercises.get(row.exercise)?;
            if !at.is_some_and(|at| is_full(self.graph, exercise, at)) {
                continue;
            }
            let named = row.faults.iter();
            for held in named.filter(|held| held.fault == *fault && held.skill == *skill) {
                let grade = held.grade.as_ref();
                let place =
                    grade.and_then(|grade| of.grades.keys().position(|id| id.value == *grade));
                if let Some(place) = place {
                    *seen.entry(place).or_default() += u32::from(held.seen);
                }
            }
        }
        let most = seen.iter().max_by_key(|(place, times)| (**times, **place));
        let (place, _) = most?;
        of.grades.get_index(*place).map(|(id, _)| id.value.clone())
    }
}
