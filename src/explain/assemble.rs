//! Puts a solved week together with its reasons.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::base::{BarId, CaseFieldId, ConstraintId, Decimal, ExerciseId, TrailError};
use crate::infer::Setting;
use crate::plan::recheck::Verdict;
use crate::plan::{Basis, Best, Ends, Item as Placed, Week, warm_up};
use crate::rules::case_check::Value;

use super::answer::{
    Bar, Bound, Composed, Item, Load, Missing, Plan, Proof, Said, Session, StandIn,
};
use super::beside::{Beside, done_before, lighter_sets, notes, watch};
use super::causes::{waiting, worked};
use super::date::day_in_words;
use super::glossary::{Glossary, rule_path};
use super::reason::Held;
use super::shortfall::shortfalls;
use super::stated::{bests, stated};
use super::trace::Trace;

/// What is known of the whole beside the days themselves.
pub(crate) struct Found {
    pub(crate) fingerprint: String,
    pub(crate) bound: Option<Bound>,
    /// Whether the search was cancelled; where there is no bound, it was proven before that.
    pub(crate) cancelled: bool,
    pub(crate) nodes: u64,
}

/// The value of a case field in words.
pub(crate) fn value_in_words(glossary: &Glossary, field: &CaseFieldId, value: &Value) -> String {
    let named = |id: &crate::base::ValueId| glossary.value(field.as_str(), id.as_str()).to_owned();
    match value {
        Value::Word(id) => named(id),
        Value::Words(ids) if ids.is_empty() => String::from("none"),
        Value::Words(ids) => ids.iter().map(named).collect::<Vec<_>>().join(", "),
        Value::Number(number) => number.to_string(),
        Value::Date(day) => day_in_words(*day),
    }
}

/// A number of thousandths as a load; nought where it is none.
pub(crate) fn decimal(thousandths: i64) -> Decimal {
    Decimal::from_thousandths(thousandths).unwrap_or_default()
}

/// Pieces of one side, in thousandths, as decimals.
pub(crate) fn pieces(side: &[i64]) -> Vec<Decimal> {
    side.iter().map(|piece| decimal(*piece)).collect()
}

impl Held<'_> {
    /// The week as it is handed out.
    ///
    /// # Errors
    ///
    /// Where the trail is full.
    pub(crate) fn plan(&self, glossary: &Arc<Glossary>, found: Found) -> Result<Plan, TrailError> {
        let setting = self.setting;
        let mut trace = Trace::of(setting, glossary)?;
        let mut missing: BTreeSet<Missing> = BTreeSet::new();
        let mut sessions = Vec::new();
        for day in 0..self.week.days.len() {
            sessions.extend(self.session(&mut trace, day, &mut missing)?);
        }
        missing.extend(setting.missing().into_iter().map(Missing::Field));
        Ok(Plan {
            fingerprint: found.fingerprint,
            lifter: setting.case.lifter.clone(),
            phase: setting.case.phase.clone(),
            layout: self.week.id.value.clone(),
            bar: bar(setting, &setting.case.bar, self.loads.unit()),
            stated: stated(setting.pack, glossary, setting.case),
            bests: bests(setting.case),
            seen: trace.seen_faults(),
            focus: worked(self, &trace),
            waiting: waiting(&trace),
            proof: match found.bound {
                Some(_) if found.cancelled => Proof::Cancelled,
                Some(_) => Proof::Limited,
                None => Proof::Claimed,
            },
            missed: self.verdict.missed.into(),
            worth: self.verdict.worth,
            tie: self.verdict.tie,
            bound: found.bound,
            nodes: found.nodes,
            shortfalls: shortfalls(self),
            stand_ins: stand_ins(setting, glossary),
            missed_days: setting.case.so_far.missed.iter().copied().collect(),
            composed: self.composed(&sessions),
            lifts: sessions.iter().map(|session| session.lifts).sum(),
            sessions,
            cautions: cautions(setting, glossary, Some((self.week, self.days))),
            missing: missing.into_iter().collect(),
            trail: trace.trail,
            glossary: Arc::clone(glossary),
        })
    }

    fn composed(&self, sessions: &[Session]) -> Vec<Composed> {
        let pack = self.setting.pack;
        let items = sessions.iter().flat_map(|session| &session.items);
        let made = items.filter(|item| pack.composed.contains(&item.exercise));
        let names: BTreeMap<&ExerciseId, &str> = made
            .map(|item| (&item.exercise, item.name.as_str()))
            .collect();
        let of = names.into_iter().filter_map(|(id, name)| {
            let held = pack.variations.get(id)?;
            Some(Composed {
                exercise: id.clone(),
                name: name.to_owned(),
                from: held.from.value.clone(),
                with: held.with.iter().map(|id| id.value.clone()).collect(),
            })
        });
        of.collect()
    }

    fn session(
        &self,
        trace: &mut Trace<'_>,
        day: usize,
        missing: &mut BTreeSet<Missing>,
    ) -> Result<Option<Session>, TrailError> {
        let (Some(held), Some(placed)) = (self.week.days.get(day), self.days.get(day)) else {
            return Ok(None);
        };
        let mut items = Vec::new();
        let mut before: Vec<(&Placed, i64)> = Vec::new();
        for (at, item) in placed.iter().enumerate() {
            let load = self.load(item, missing);
            let done = done_before(self.setting, item, &before);
            before.extend(load.as_ref().map(|load| (item, load.high.thousandths())));
            let beside = Beside {
                lighter_sets: lighter_sets(self, item, load.as_ref(), done),
                watch: watch(self.setting, self.week, item),
                notes: notes(self, item),
                load,
            };
            items.extend(self.item(trace, day, at, item, beside)?);
        }
        Ok(Some(Session {
            day: held.layout.day.value,
            weekday: held.named,
            effort: held.layout.effort.value.clone(),
            done: self
                .setting
                .case
                .so_far
                .done
                .contains_key(&held.layout.day.value),
            seconds: seconds(self.setting, self.week, day, placed),
            lifts: placed.iter().map(Placed::lifts).sum(),
            items,
        }))
    }

    fn item(
        &self,
        trace: &mut Trace<'_>,
        day: usize,
        at: usize,
        item: &Placed,
        beside: Beside,
    ) -> Result<Option<Item>, TrailError> {
        let Some(exercise) = self.setting.graph.exercises.get(item.exercise) else {
            return Ok(None);
        };
        let Some(reason) = self.reason(trace, day, at)? else {
            return Ok(None);
        };
        let dosed = &item.dosed;
        let constraints: BTreeSet<ConstraintId> = exercise
            .pieces
            .iter()
            .flat_map(|piece| piece.body.departing.iter().collect::<Vec<_>>())
            .filter_map(|at| self.setting.graph.constraints.get(at).cloned())
            .collect();
        Ok(Some(Item {
            part: item.part.clone(),
            slot: item.slot,
            role: item.role.clone(),
            exercise: exercise.id.clone(),
            name: exercise.name.clone(),
            in_place_of: self.in_place_of(item),
            sets: dosed.sets,
            reps: dosed.reps,
            round: match exercise.pieces.as_slice() {
                [_] => vec![dosed.reps],
                pieces => pieces.iter().map(|piece| piece.reps).collect(),
            },
            percent: dosed.percent,
            lighter_sets: beside.lighter_sets,
            watch: beside.watch,
            notes: beside.notes,
            load: beside.load,
            feel: trace.glossary.feel(dosed.dose.as_str()).to_owned(),
            constraints: constraints.into_iter().collect(),
            dose: dosed.dose.clone(),
            dose_rule: dosed.rule.clone(),
            caps: dosed.caps.clone(),
            trims: dosed.trims.clone(),
            load_steps: dosed.steps.clone(),
            rest_seconds: dosed.rest_seconds,
            seconds: dosed.seconds,
            placed: reason.placed,
            reason: reason.reason,
        }))
    }

    /// The full form whose place an item takes.
    fn in_place_of(&self, item: &Placed) -> Option<ExerciseId> {
        let role = self.setting.pack.roles.get(&item.role)?;
        let mut forms = self.setting.full_forms().iter();
        let (root, _) = forms.find(|(root, full)| {
            role.gate.full_form && **full == Some(item.exercise) && **root != item.exercise
        })?;
        self.setting.graph.ids.get(*root).cloned()
    }

    fn load(&self, item: &Placed, missing: &mut BTreeSet<Missing>) -> Option<Load> {
        let exercise = self.setting.graph.exercises.get(item.exercise)?;
        let percent = item.dosed.percent?;
        let asked = item.dosed.asked?;
        let reference = Basis::of(self.setting, exercise).reference?;
        let best = Best::of(self.setting, &reference);
        let estimated_from = best.as_ref().and_then(|best| best.estimated_from.clone());
        if best.is_none() || estimated_from.is_some() {
            missing.insert(Missing::Best {
                reference: reference.clone(),
                estimated_from: estimated_from.clone(),
            });
        }
        let best = best?;
        let Ends { on, low, high } = self.loads.ends(&best, asked);
        Some(Load {
            bar: bar(self.setting, on.bar(), self.loads.unit()),
            low: decimal(low.thousandths),
            high: decimal(high.thousandths),
            unit: self.loads.unit().to_owned(),
            percent,
            asked: (asked != percent).then_some(asked),
            of: reference,
            low_pieces: pieces(&low.side),
            high_pieces: pieces(&high.side),
            estimated_from,
        })
    }
}

/// A bar, and its collars where they are on.
fn bar(setting: &Setting<'_>, id: &BarId, unit: &str) -> Bar {
    let case = setting.case;
    let held = setting.pack.bars.get(id);
    Bar {
        bar: id.clone(),
        weight: held.map_or(Decimal::ZERO, |bar| bar.weight),
        collar: held
            .filter(|_| case.collars)
            .map_or(Decimal::ZERO, |bar| bar.collar),
        unit: unit.to_owned(),
    }
}

/// All the time of a session; none where it has no item.
pub(crate) fn seconds(setting: &Setting<'_>, week: &Week<'_>, day: usize, items: &[Placed]) -> i64 {
    if items.is_empty() {
        return 0;
    }
    warm_up(setting, week, day) + items.iter().map(|item| item.dosed.seconds).sum::<i64>()
}

/// What stands in for each full form that the case rules out, each said by the first rule that speaks.
fn stand_ins(setting: &Setting<'_>, glossary: &Glossary) -> Vec<StandIn> {
    let mut all: Vec<StandIn> = Vec::new();
    for (id, rule) in setting.speaking(&setting.rules().fullest) {
        let root = setting.graph.ids.find(rule.of.as_str());
        let found = root.and_then(|root| setting.full_forms().get(&root).copied().flatten());
        if root == found || all.iter().any(|held| held.of == rule.of.value) {
            continue;
        }
        all.push(StandIn {
            of: rule.of.value.clone(),
            exercise: found.and_then(|at| setting.graph.ids.get(at).cloned()),
            said: Said {
                rule: id.value.clone(),
                place: id.place.clone(),
                words: glossary.says(&rule_path("fullest", id.as_str())).to_owned(),
            },
        });
    }
    all
}

/// What must be said with a case, and with its week where there is one.
pub(crate) fn cautions(
    setting: &Setting<'_>,
    glossary: &Glossary,
    week: Option<(&Week<'_>, &[Vec<Placed>])>,
) -> Vec<Said> {
    setting
        .speaking(&setting.rules().caution)
        .filter(|(_, rule)| match (&rule.what, week) {
            (None, _) => true,
            (Some(what), Some((week, days))) => days
                .iter()
                .flatten()
                .any(|item| setting.matches(what, &item.placed(week))),
            (Some(_), None) => false,
        })
        .map(|(id, _)| Said {
            rule: id.value.clone(),
            place: id.place.clone(),
            words: glossary.says(&rule_path("caution", id.as_str())).to_owned(),
        })
        .collect()
}

/// The verdict of the search held against that of the re-check: what differs, in words.
pub(crate) fn disagreement(
    verdict: &Verdict,
    missed: [i64; 3],
    worth: i64,
    tie: i64,
) -> Option<String> {
    if !verdict.stands() {
        let broken = verdict
            .broken
            .iter()
            .map(|miss| super::reason::ruling(miss).to_string());
        let illegal = verdict.illegal.iter().map(|illegal| format!("{illegal:?}"));
        let all: Vec<String> = broken.chain(illegal).collect();
        return Some(format!("the week that was found breaks {}", all.join(", ")));
    }
    if verdict.missed != missed {
        return Some(format!(
            "the search counts {missed:?} units missed, the re-check {:?}",
            verdict.missed
        ));
    }
    if verdict.worth != worth {
        return Some(format!(
            "the search counts a worth of {worth}, the re-check {}",
            verdict.worth
        ));
    }
    if verdict.tie != tie {
        return Some(format!(
            "the search counts a tie measure of {tie}, the re-check {}",
            verdict.tie
        ));
    }
    None
}
