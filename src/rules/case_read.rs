//! From what a case says to a case that fits its pack, with every problem at once.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use indexmap::IndexMap;

use crate::base::{
    At, CauseId, Code, Diagnostic, FaultId, GradeId, ObservationId, PhaseId, Place, TrackMeasureId,
};

use super::case::{CaseText, SeenFault};
use super::case_check::{Case, Seen, SoFar};
use super::case_fields::{fields, fields_by_skill};
use super::case_names::{Exercises, Later};
use super::check::date::days_of;
use super::check::declared::{dangling, list, meant};
use super::check::sections::Sort;
use super::pack::{Items, Pack};
use super::sole::finish;
use super::vocab::{Fault, Grade};

/// Checks a case that was put together without a file.
///
/// # Errors
///
/// Every problem that was found; those of the case as a whole have no place.
pub(crate) fn check_case(
    text: CaseText,
    pack: &Pack,
    names: &dyn Exercises,
) -> Result<Case, Vec<Diagnostic>> {
    let mut out = Vec::new();
    let case = check_at(text, pack, names, &Place::unknown(), Sure::ALL, &mut out);
    finish(case, out)
}

/// Checks the cases of a pack's tests, but for the names of exercises.
pub(super) fn check_tests(pack: &Pack, out: &mut Vec<Diagnostic>) {
    check_tests_with(pack, &Later, out);
}

/// Checks the cases of a pack's tests.
pub(crate) fn check_tests_with(pack: &Pack, names: &dyn Exercises, out: &mut Vec<Diagnostic>) {
    for (id, test) in &pack.tests {
        for (variant, text) in test.cases() {
            let place = variant.map_or(&id.place, |variant| &variant.place);
            check_at(text, pack, names, place, Sure::ALL, out);
        }
    }
}

/// What a case is checked with.
pub(super) struct Checking<'a> {
    pub(super) pack: &'a Pack,
    pub(super) names: &'a dyn Exercises,
    pub(super) out: &'a mut Vec<Diagnostic>,
}

/// What of a case was read whole, so that it can be held against other things.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sure {
    /// What it says of the bar.
    pub(super) bar: bool,
    /// Which days it names.
    pub(super) days: bool,
}

impl Sure {
    /// All of it.
    pub(super) const ALL: Self = Self {
        bar: true,
        days: true,
    };
}

/// Checks what a case says; `whole` is its own place.
pub(super) fn check_at(
    text: CaseText,
    pack: &Pack,
    names: &dyn Exercises,
    whole: &Place,
    sure: Sure,
    out: &mut Vec<Diagnostic>,
) -> Option<Case> {
    let mut checking = Checking { pack, names, out };
    let today = text
        .today
        .as_ref()
        .and_then(|today| checking.date(today.as_str(), &today.place));
    let phase = checking.phase(&text, whole);
    let layout = text
        .layout
        .as_ref()
        .and_then(|id| checking.item(Sort::Layout, &pack.layouts, id));
    let faults = checking.faults(&text.faults);
    let ruled_out = checking.ruled_out(&text);
    let sure_of = checking.sure_of(&text, &faults);
    let measured = checking.measured(&text.measured);
    let observed = checking.observed(&text, &measured);
    let bests = checking.bests(&text);
    let best_days = checking.best_days(&text, today);
    let bar = checking.bar(&text.gym, whole);
    let other_bars = bar
        .as_ref()
        .map(|bar| checking.other_bars(&text.gym, bar))
        .unwrap_or_default();
    if let Some(bar) = bar.as_ref().filter(|_| sure.bar) {
        checking.bests_on_bars(&text, bar, &other_bars);
    }
    let pieces = bar
        .as_ref()
        .map(|bar| checking.pieces(&text.gym, bar))
        .unwrap_or_default();
    let new = checking.exercises(&text.new);
    let disliked = checking.exercises(&text.disliked);
    let tried = checking.tried(&text.tried);
    let did_last_week = checking.exercises(&text.did_last_week);
    let week_before = checking.week_before(&text.week_before);
    let (mut said, mut stated) = fields(&mut checking, &text.fields);
    let days = checking.training_days(&text);
    if sure.days {
        checking.count_of_days(&text, &mut said, &mut stated);
        checking.days_of_layout(&text, layout.as_ref());
    }
    let by_skill = fields_by_skill(&mut checking, &text.by_skill);
    Some(Case {
        lifter: text.lifter.clone().unwrap_or_default(),
        today,
        phase: phase?,
        layout,
        days,
        faults,
        observed,
        measured,
        ruled_out,
        sure_of,
        bests,
        best_days,
        bar: bar?,
        other_bars,
        collars: text.gym.collars.unwrap_or(true),
        pieces,
        new,
        disliked,
        tried,
        did_last_week,
        week_before,
        fields: said,
        by_skill,
        stated,
        so_far: SoFar::default(),
        wanted: BTreeMap::new(),
        text: Arc::new(text),
    })
}

impl Checking<'_> {
    pub(super) fn problem(
        &mut self,
        code: Code,
        place: &Place,
        what: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.out
            .push(Diagnostic::new(code, place.clone(), what, help));
    }

    /// Two things that a case says and that cannot both be so.
    pub(super) fn contradiction(
        &mut self,
        what: String,
        help: impl Into<String>,
        at: &Place,
        also: (&Place, &str),
    ) {
        let problem = Diagnostic::new(Code::Contradiction, at.clone(), what, help);
        self.out.push(problem.with_also(also.0.clone(), also.1));
    }

    /// An id of the pack, if it is one.
    pub(super) fn item<I: Ord + Clone + AsRef<str>, T>(
        &mut self,
        sort: Sort,
        items: &Items<I, T>,
        id: &At<I>,
    ) -> Option<I> {
        if items.contains_key(&id.value) {
            return Some(id.value.clone());
        }
        let known: Vec<&str> = items.keys().map(|id| id.value.as_ref()).collect();
        self.out
            .push(dangling(sort, id.value.as_ref(), &id.place, &known));
        None
    }

    /// Says that something stands twice.
    pub(super) fn twice(&mut self, what: &str, place: &Place, first: &Place) {
        self.out.push(
            Diagnostic::new(
                Code::DuplicateId,
                place.clone(),
                format!("{what} stands twice"),
                "take one out",
            )
            .with_also(first.clone(), "it stands here first"),
        );
    }

    pub(super) fn date(&mut self, text: &str, place: &Place) -> Option<i64> {
        let days = days_of(text);
        if days.is_none() {
            let what = format!("`{text}` is no day of the calendar");
            self.problem(
                Code::BadValue,
                place,
                what,
                "write a date as YYYY-MM-DD, such as 2026-02-28",
            );
        }
        days
    }

    fn phase(&mut self, text: &CaseText, whole: &Place) -> Option<PhaseId> {
        let pack = self.pack;
        if let Some(id) = &text.phase {
            return self.item(Sort::Phase, &pack.phases, id);
        }
        let mut phases = pack.phases.keys();
        if let (Some(only), None) = (phases.next(), phases.next()) {
            return Some(only.value.clone());
        }
        let all: Vec<&str> = pack.phases.keys().map(|id| id.as_str()).collect();
        let help = if all.is_empty() {
            String::from("the rules have no phase; add one under `phases`")
        } else {
            format!(
                "say which: one of {}; in a case file as `phase:`",
                list(&all)
            )
        };
        self.problem(Code::MissingKey, whole, "the case says no phase", help);
        None
    }

    fn faults(&mut self, seen: &[At<SeenFault>]) -> Vec<Seen> {
        let mut all = Vec::new();
        let mut places: BTreeMap<(String, String), Place> = BTreeMap::new();
        for one in seen {
            let Some(found) = self.fault(one) else {
                continue;
            };
            let key = (found.fault.to_string(), found.skill.to_string());
            if let Some(first) = places.get(&key) {
                let first = first.clone();
                self.twice(
                    &format!("`{}` for `{}`", found.fault, found.skill),
                    &one.fault.place,
                    &first,
                );
            } else {
                places.insert(key, one.fault.place.clone());
                all.push(found);
            }
        }
        all
    }

    fn fault(&mut self, seen: &SeenFault) -> Option<Seen> {
        let pack = self.pack;
        let id = self.item(Sort::Fault, &pack.faults, &seen.fault)?;
        let fault = pack.faults.get(&id)?;
        let grade = self.grade((&id, fault), &seen.grade);
        let known: Vec<&str> = fault.skills.iter().map(|id| id.as_str()).collect();
        let skill = match (&seen.skill, fault.skills.as_slice()) {
            (Some(skill), skills) if skills.contains(skill) => Some(skill.value.clone()),
            (Some(skill), _) if pack.skills.contains_key(&skill.value) => {
                self.problem(
                    Code::Contradiction,
                    &skill.place,
                    format!("`{id}` is not seen in `{skill}`"),
                    format!("write one of {}, or another fault", list(&known)),
                );
                None
            }
            (Some(skill), _) => {
                self.out
                    .push(dangling(Sort::Skill, skill.as_str(), &skill.place, &known));
                None
            }
            (None, [only]) => Some(only.value.clone()),
            (None, _) => {
                self.problem(
                    Code::MissingKey,
                    &seen.fault.place,
                    format!("`{id}` is seen in several skills, and the case does not say in which"),
                    format!("add `skill:` with one of {}", list(&known)),
                );
                None
            }
        };
        let times = self.times(seen);
        let from_percent = self.starts_at(seen);
        let also = from_percent.map(|percent| fault.true_from(percent.into()));
        Some(Seen {
            also: also.into_iter().flatten().cloned().collect(),
            fault: id,
            skill: skill?,
            grade: seen.grade.value.clone(),
            severity: grade?.severity.value,
            times,
            from_percent,
        })
    }

    /// A grade of a fault, if it is one.
    pub(super) fn grade<'f>(
        &mut self,
        (id, fault): (&FaultId, &'f Fault),
        grade: &At<GradeId>,
    ) -> Option<&'f Grade> {
        let found = fault.grades.get(grade);
        if found.is_none() {
            let known: Vec<&str> = fault.grades.keys().map(|id| id.as_str()).collect();
            let listed = format!("listed in `faults.{id}`");
            self.problem(
                Code::DanglingId,
                &grade.place,
                format!("`{grade}` is no grade of `{id}`"),
                meant(grade.as_str(), &known, "grades", &listed),
            );
        }
        found
    }

    fn ruled_out(&mut self, text: &CaseText) -> BTreeSet<CauseId> {
        let mut all = BTreeSet::new();
        for id in &text.ruled_out {
            all.extend(self.cause(id));
        }
        all
    }

    /// A cause of the pack, if it is one.
    pub(super) fn cause(&mut self, id: &At<CauseId>) -> Option<CauseId> {
        let pack = self.pack;
        if pack.capacity_causes.contains_key(&id.value)
            || pack.movement_causes.contains_key(&id.value)
        {
            return Some(id.value.clone());
        }
        let known: Vec<&str> = pack
            .movement_causes
            .keys()
            .chain(pack.capacity_causes.keys())
            .map(|id| id.as_str())
            .collect();
        self.out
            .push(dangling(Sort::Cause, id.as_str(), &id.place, &known));
        None
    }

    pub(super) fn measured(
        &mut self,
        said: &IndexMap<At<TrackMeasureId>, i64>,
    ) -> BTreeMap<TrackMeasureId, i64> {
        let pack = self.pack;
        let said = said.iter();
        said.filter_map(|(id, value)| {
            Some((
                self.item(Sort::TrackMeasure, &pack.track_measures, id)?,
                *value,
            ))
        })
        .collect()
    }

    fn observed(
        &mut self,
        text: &CaseText,
        measured: &BTreeMap<TrackMeasureId, i64>,
    ) -> BTreeSet<ObservationId> {
        let pack = self.pack;
        let said = text.observed.iter();
        let mut all: BTreeSet<_> = said
            .filter_map(|id| self.item(Sort::Observation, &pack.observations, id))
            .collect();
        for (id, observation) in &pack.observations {
            if observation.is_measured_true(measured) == Some(true) {
                all.insert(id.value.clone());
            }
        }
        all
    }
}
