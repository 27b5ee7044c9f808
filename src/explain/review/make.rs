//! A review in the words of a pack.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::base::{CauseId, ExerciseId, ReviewDecisionId};
use crate::explain::date::day_in_words;
use crate::explain::entries::Called;
use crate::explain::glossary::{Glossary, Named};
use crate::explain::ladder::ladder;
use crate::graph::Graph;
use crate::infer::{
    BestMade as Made, Counted, EstimateMade, FaultCounted, Pair, Reviewed, Row, Share, of_exercise,
};
use crate::rules::case_check::Case;
use crate::rules::log::{monday_of, week_of};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Came, Decides, ReviewWindow};

use super::next::{Next, becomes};
use super::{
    BestEstimate, BestMade, Counts, Decided, Decision, ExerciseReview, FaultReview, NextStep,
    Review, ShareSeen,
};

/// What a review is put into words with.
pub(crate) struct Reviewing<'a> {
    /// The rules, with what the log has beyond what they list.
    pub(crate) pack: &'a Pack,
    pub(crate) graph: &'a Graph,
    pub(crate) glossary: &'a Glossary,
    /// What rule files list.
    pub(crate) listed: &'a Graph,
    pub(crate) case: &'a Case,
    pub(crate) window: &'a ReviewWindow,
    pub(crate) rows: &'a [Row],
    /// In days since 1970-01-01.
    pub(crate) today: i64,
    /// The listed exercise that a text of the case names.
    pub(crate) named: &'a dyn Fn(&str) -> Option<ExerciseId>,
}

impl Reviewing<'_> {
    fn exercise(&self, at: usize) -> Option<Called<ExerciseId>> {
        let id = self.graph.ids.get(at)?;
        Some(Called::new(self.glossary, Named::Exercise, id))
    }

    /// Whether rule files list an exercise.
    pub(super) fn is_listed(&self, id: &ExerciseId) -> bool {
        self.listed.ids.find(id.as_str()).is_some()
    }

    fn decision(&self, id: &ReviewDecisionId) -> Option<Decision> {
        let (key, held) = self.pack.review_decisions.get_key_value(id)?;
        Some(Decision {
            decided: match held.decides {
                Decides::Keep => Decided::Keep,
                Decides::MoveAlong => Decided::MoveAlong,
                Decides::Swap => Decided::Swap,
                Decides::Withdraw => Decided::Withdraw,
                Decides::LookAgain => Decided::LookAgain,
            },
            by: id.clone(),
            place: key.place.clone(),
            says: held.say.clone(),
            because: held.because.clone(),
            came: held.came.map(Came::as_str),
        })
    }

    /// The cause of a fault against which an exercise does most, the largest share first among equals, then by id.
    fn worked_on(&self, counted: &FaultCounted, exercise: usize) -> Option<CauseId> {
        let skill = self.graph.skills.find(counted.skill.as_str())?;
        let held = self.graph.exercises.get(exercise)?;
        let causes = self.pack.faults.get(&counted.fault)?.causes.iter();
        let all = causes.filter_map(|(id, share)| {
            let pair = Pair {
                skill,
                cause: self.graph.causes.find(id.as_str())?,
                demand: 0,
                movement: true,
                sure: false,
            };
            let effect = of_exercise(self.pack, self.graph, &[], held, &pair);
            Some((-effect, -i64::from(share.percent.value), &id.value))
        });
        let (less, _, cause) = all.min()?;
        (less < 0).then(|| cause.clone())
    }

    /// The next step of a ladder.
    fn next_step(&self, counted: &FaultCounted, exercise: usize) -> Option<NextStep> {
        let cause = self.worked_on(counted, exercise);
        let (pack, graph) = (self.pack, self.graph);
        let rungs = ladder(pack, graph, self.glossary, exercise, cause.as_ref())?;
        let rung = rungs.into_iter().nth(1)?;
        let exercise = rung.exercise.filter(|id| self.is_listed(id));
        Some(NextStep {
            name: rung.name,
            with: if exercise.is_some() {
                Vec::new()
            } else {
                rung.constraints
            },
            exercise,
            freed: rung.freed?,
        })
    }

    fn fault(&self, counted: &FaultCounted) -> FaultReview {
        let forms = counted.forms.iter().filter_map(|form| {
            let exercise = self.exercise(form.exercise)?;
            let decision = form.decided.as_ref().and_then(|id| self.decision(id));
            let moves = decision
                .as_ref()
                .is_some_and(|held| held.decided == Decided::MoveAlong);
            Some(ExerciseReview {
                is_listed: self.is_listed(&exercise.id),
                exercise,
                shows: form.shows,
                counts: counts(&form.counted),
                decision,
                next: moves
                    .then(|| self.next_step(counted, form.exercise))
                    .flatten(),
            })
        });
        let mut exercises: Vec<ExerciseReview> = forms.collect();
        exercises.sort_by(|one, other| one.exercise.cmp(&other.exercise));
        let by_itself = counted.by_itself.as_ref();
        let decision = by_itself.and_then(|id| self.decision(id));
        // What needs an exercise to be decided is not too little seen.
        let decision = decision.filter(|held| held.decided != Decided::LookAgain);
        FaultReview {
            fault: Called::new(self.glossary, Named::Fault, &counted.fault),
            skill: counted.skill.clone(),
            full: counts(&counted.full),
            exercises,
            becomes: becomes(self, counted, decision.as_ref()),
            decision,
        }
    }

    fn best(&self, made: &Made) -> Option<BestMade> {
        Some(BestMade {
            best: Called::new(self.glossary, Named::Reference, &made.reference),
            load: made.load,
            on: day_in_words(made.date),
            exercise: self.exercise(made.exercise)?,
            before: made.before,
        })
    }

    fn estimate(&self, made: &EstimateMade) -> BestEstimate {
        let mut rules = self.pack.estimates.values();
        let rule = rules.find(|rule| {
            let mut all = rule.references.iter();
            all.any(|reference| reference.value == made.reference)
        });
        BestEstimate {
            best: Called::new(self.glossary, Named::Reference, &made.reference),
            formula: made.formula.as_str(),
            load: made.load,
            repetitions: made.repetitions,
            on: day_in_words(made.date),
            once: made.once,
            is_above: made.is_above,
            becomes_best: made.becomes_best,
            because: rule.map_or_else(String::new, |rule| rule.because.clone()),
        }
    }
}

/// A review in words. There is an entry at least.
pub(crate) fn reviewed(
    reviewing: &Reviewing<'_>,
    found: &Reviewed,
    (made, estimates): (&[Made], &[EstimateMade]),
    fingerprint: &str,
) -> Review {
    let rows = reviewing.rows;
    let days = || rows.iter().map(|row| row.date);
    let faults: Vec<FaultReview> = found
        .faults
        .iter()
        .map(|counted| reviewing.fault(counted))
        .collect();
    let done = |wanted: &dyn Fn(&Row) -> bool| -> BTreeSet<Called<ExerciseId>> {
        let rows = rows.iter().filter(|row| wanted(row));
        rows.filter_map(|row| reviewing.exercise(row.exercise))
            .collect()
    };
    let newest = found.weeks.last().copied();
    let did = done(&|row| Some(week_of(row.date)) == newest).into_iter();
    let did: Vec<_> = did
        .filter(|called| reviewing.is_listed(&called.id))
        .collect();
    let all = done(&|_| true);
    let not_listed = all.iter().filter(|called| !reviewing.is_listed(&called.id));
    let not_listed: BTreeSet<String> = not_listed.map(|called| called.name.clone()).collect();
    let next = Next {
        reviewing,
        faults: &faults,
        made,
        estimates,
        did: &did,
        done: &all,
    };
    Review {
        lifter: reviewing.case.lifter.clone(),
        from: days().min().map(day_in_words).unwrap_or_default(),
        to: days().max().map(day_in_words).unwrap_or_default(),
        today: day_in_words(reviewing.today),
        entries: rows.len(),
        repetitions: rows
            .iter()
            .map(|row| u32::from(row.made) + u32::from(row.missed))
            .sum(),
        weeks: found.weeks.len(),
        interval_percent: reviewing.window.interval_percent.value,
        last_weeks: reviewing.window.last_weeks.value,
        first_weeks: reviewing.window.first_weeks.value,
        bests: made
            .iter()
            .filter_map(|made| reviewing.best(made))
            .collect(),
        estimates: estimates
            .iter()
            .map(|made| reviewing.estimate(made))
            .collect(),
        unsaid: found.unsaid,
        not_listed: not_listed.into_iter().collect(),
        fingerprint: fingerprint.to_owned(),
        next: Arc::new(next.text()),
        did_last_week: did,
        faults,
    }
}

fn share(share: &Share) -> ShareSeen {
    ShareSeen {
        seen: share.seen,
        of: share.of,
        low: share.low,
        high: share.high,
    }
}

fn counts(counted: &Counted) -> Counts {
    Counts {
        in_all: share(&counted.in_all),
        last: share(&counted.last),
        first: counted.first.as_ref().map(share),
        by_week: counted
            .by_week
            .iter()
            .map(|(week, held)| (day_in_words(monday_of(*week)), share(held)))
            .collect(),
    }
}
