//! A training log, and what it says.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::base::{At, Code, Diagnostic, Place, RuleTestId, SkillId};
use crate::explain::{Review, Reviewing, reviewed};
use crate::graph::Bits;
use crate::graph::naming::{Meant, name_of};
use crate::infer::{Row, RowFault, bests, review};
use crate::rules::case_names::Exercises;
use crate::rules::check::date::days_of;
use crate::rules::expect::RuleTest;
use crate::rules::log::{Entry, EntryFault};
use crate::rules::log_read::{check_entries, read_log};

use super::{Case, Error, ErrorKind, Inner, KnowledgeBase, text_of};

/// After so many problems names are not looked at any more.
const MOST_PROBLEMS: usize = 200;

/// An entry with the exercise that it means and the skill of each of its faults.
type Logged = (Entry, Meant, Vec<SkillId>);

/// A training log, checked against the rules that it is asked of.
#[derive(Clone, Debug)]
pub struct TrainingLog {
    entries: Vec<Logged>,
    fingerprint: String,
}

impl KnowledgeBase {
    /// A training log from the text of a file: an entry a set with its day, the exercise as it is written, the load, the
    /// repetitions made and missed, and the fault that was seen. A name that ends in `.csv` says that it is a table of values with
    /// a header line, any other that it is YAML; else the name only serves to say where things are.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Log`] with every problem of the text.
    pub fn log_from_text(&self, name: &str, text: &str) -> Result<TrainingLog, Error> {
        let name: Arc<str> = Arc::from(name);
        let (read, mut wrong) = read_log(&name, text, self.pack(), &self.0.limits);
        let entries = self.0.logged(read, &mut wrong);
        if wrong.is_empty() {
            Ok(TrainingLog {
                entries,
                fingerprint: self.fingerprint().to_owned(),
            })
        } else {
            wrong.sort();
            wrong.dedup();
            let files = vec![(name, Arc::from(text))];
            Err(Error::found(ErrorKind::Log, wrong, files))
        }
    }

    /// A training log from the bytes of a file.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Log`] with every problem; bytes that are not UTF-8 are one.
    pub fn log_from_bytes(&self, name: &str, bytes: &[u8]) -> Result<TrainingLog, Error> {
        self.log_from_text(name, text_of(name, bytes, ErrorKind::Log)?)
    }

    /// What a training log says: how often each fault was seen, in the full form and in each other exercise of its skill, week by
    /// week, with exact intervals; what is decided of each exercise that works against it, by the rules (`reviews`); and the
    /// case that goes on from there, with bests that were made. The next case counts from the day of the last entry, or
    /// from that of the case where it is later. No clock is read: the same log and case give the same review.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a case or log of other rules, [`ErrorKind::Open`] where the rules do not say how much of a log
    /// is looked at.
    ///
    /// # Examples
    ///
    /// ```
    /// # #[cfg(feature = "builtin")] {
    /// use drillwright::KnowledgeBase;
    /// use drillwright::explain::Decided;
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let case = rules.case().phase("general").fault("saved-backward", "one-step").build()?;
    /// let log = rules.log_from_text("log.csv", "\
    /// date,exercise,load,made,missed,fault,seen
    /// 2026-05-04,no contact snatch,60,3,0,,
    /// 2026-05-04,snatch,80,2,1,saved-backward,1
    /// ")?;
    /// let review = rules.review(&case, &log)?;
    /// let fault = &review.faults[0];
    /// assert_eq!((fault.full.in_all.seen, fault.full.in_all.of), (1, 3));
    /// let decision = fault.exercises[0].decision.as_ref();
    /// assert_eq!(decision.map(|held| held.decided), Some(Decided::LookAgain));
    /// # }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn review(&self, case: &Case, log: &TrainingLog) -> Result<Review, Error> {
        self.review_on(case, log, None)
    }

    /// The same, with the day from which the next case counts, as YYYY-MM-DD; none as above.
    ///
    /// # Errors
    ///
    /// As for [`KnowledgeBase::review`], and [`ErrorKind::Log`] for what is no day, and for entries
    /// and bests after it.
    pub fn review_on(
        &self,
        case: &Case,
        log: &TrainingLog,
        today: Option<&str>,
    ) -> Result<Review, Error> {
        if log.fingerprint != self.fingerprint() || case.fingerprint != self.fingerprint() {
            return Err(Error::new(
                ErrorKind::OtherRules,
                "the case or the log was read for other rules; read it again with these",
            ));
        }
        let Some(window) = self.pack().review_windows.values().next() else {
            return Err(Error::new(
                ErrorKind::Open,
                "the rules do not say how much of a log is looked at; add an entry to `reviews: windows`",
            ));
        };
        let last = log.entries.iter().map(|(entry, _, _)| entry.date).max();
        let last = last.unwrap_or_default();
        let today = match today {
            None => case.checked.today.map_or(last, |today| today.max(last)),
            Some(text) => self.day_of_review(text, case, log)?,
        };
        let meant = log.entries.iter().map(|(_, meant, _)| meant);
        let (base, grown, ids) = self.with_unlisted(case, "logged", meant)?;
        let graph = base.graph();
        let mut rows = Vec::new();
        for ((entry, _, skills), id) in log.entries.iter().zip(&ids) {
            let Some(exercise) = graph.ids.find(id.as_str()) else {
                continue;
            };
            rows.push(row(entry, skills, exercise));
        }
        // Nothing depends on the order of the entries.
        rows.sort_by_key(|row| (row.date, row.exercise, row.load, row.made, row.missed));
        let checked = &grown.checked;
        let faults = checked.faults.iter();
        let of_case: Vec<_> = faults
            .map(|held| (held.fault.clone(), held.skill.clone()))
            .collect();
        let found = review(base.pack(), graph, window, &of_case, &rows);
        let (made, estimates) = bests(base.pack(), graph, &checked.bests, &rows);
        let inner = &*self.0;
        let named = |text: &str| inner.exercise(text).ok().flatten();
        let reviewing = Reviewing {
            pack: base.pack(),
            graph,
            glossary: base.glossary(),
            listed: self.graph(),
            case: checked,
            window,
            rows: &rows,
            today,
            named: &named,
        };
        let review = reviewed(&reviewing, &found, (&made, &estimates), self.fingerprint());
        Ok(review)
    }

    fn day_of_review(&self, text: &str, case: &Case, log: &TrainingLog) -> Result<i64, Error> {
        let found = |place: Place, what: String, help: &str| {
            let problem = Diagnostic::new(Code::BadValue, place, what, help);
            Error::found(ErrorKind::Log, vec![problem], Vec::new())
        };
        let Some(today) = days_of(text) else {
            return Err(found(
                Place::unknown(),
                format!("`{text}` is no day of the calendar"),
                "write a date as YYYY-MM-DD, such as 2026-02-28",
            ));
        };
        let mut bests = case.checked.best_days.iter();
        if let Some((best, _)) = bests.find(|(_, day)| **day > today) {
            return Err(found(
                Place::unknown(),
                format!("the case has `{best}` of a day after {text}"),
                "mend the case, or let the review count from a later day",
            ));
        }
        let mut entries = log.entries.iter();
        match entries.find(|(entry, _, _)| entry.date > today) {
            None => Ok(today),
            Some((entry, _, _)) => Err(found(
                entry.exercise.place.clone(),
                format!("this entry is of a day after {text}"),
                "mend its date, or let the review count from a later day",
            )),
        }
    }
}

impl Inner {
    /// What entries name; what means nothing is told.
    fn logged(&self, read: Vec<Entry>, wrong: &mut Vec<Diagnostic>) -> Vec<Logged> {
        // One exercise is written in many entries.
        let mut known: BTreeMap<String, Result<Meant, Box<Diagnostic>>> = BTreeMap::new();
        let mut entries = Vec::new();
        for entry in read {
            let text = &entry.exercise;
            if wrong.len() > MOST_PROBLEMS {
                wrong.push(Diagnostic::new(
                    Code::TooManyProblems,
                    text.place.clone(),
                    format!("there are more than {MOST_PROBLEMS} problems; names from here on were not read"),
                    "mend the others first",
                ));
                break;
            }
            if text.value.is_empty() {
                continue;
            }
            let meant = known
                .entry(text.value.clone())
                .or_insert_with(|| Ok(self.read_exercise(text)?.meant));
            match meant {
                Err(problem) => wrong.push(Diagnostic {
                    place: text.place.clone(),
                    ..Diagnostic::clone(problem)
                }),
                Ok(meant) => {
                    let skills = entry.faults.iter();
                    let skills: Vec<Option<SkillId>> = skills
                        .map(|fault| self.skill_of(fault, meant, wrong))
                        .collect();
                    let skills = skills.into_iter().flatten().collect();
                    entries.push((entry, meant.clone(), skills));
                }
            }
        }
        entries
    }

    /// The skill of a fault that was seen in an exercise: the one that is said, else the only one that both have.
    fn skill_of(
        &self,
        fault: &EntryFault,
        meant: &Meant,
        wrong: &mut Vec<Diagnostic>,
    ) -> Option<SkillId> {
        let graph = &self.graph;
        let skills = |at: usize| graph.exercises.get(at).map(|held| &held.skills);
        let of_exercise: Bits = match meant {
            Meant::Listed(at) => skills(*at).cloned().unwrap_or_default(),
            Meant::Made(movement) => skills(movement.root).cloned().unwrap_or_default(),
            Meant::Round(all) => {
                let all = all.iter();
                all.filter_map(|(movement, _)| skills(movement.root))
                    .flat_map(Bits::iter)
                    .collect()
            }
        };
        let of_exercise: Vec<&SkillId> = of_exercise
            .iter()
            .filter_map(|at| graph.skills.get(at))
            .collect();
        let of_fault = self.pack.faults.get(&fault.fault);
        let of_fault = of_fault.map_or(&[][..], |held| &held.skills);
        let both: Vec<&SkillId> = of_exercise
            .into_iter()
            .filter(|skill| of_fault.iter().any(|of| of.value == **skill))
            .filter(|skill| fault.skill.as_ref().is_none_or(|said| said == *skill))
            .collect();
        let name = || name_of(&self.pack, graph, meant);
        let (what, help) = match both.as_slice() {
            [only] => return Some((*only).clone()),
            [] => (
                format!("`{}` is not seen in “{}”", fault.fault, name()),
                String::from("name another fault or another exercise"),
            ),
            [first, ..] => (
                format!(
                    "`{}` may be one of several skills of “{}”",
                    fault.fault,
                    name()
                ),
                format!("say which as `skill`, such as `{first}`"),
            ),
        };
        wrong.push(Diagnostic::new(
            Code::Contradiction,
            fault.place.clone(),
            what,
            help,
        ));
        None
    }

    /// Checks the logs of the pack's tests.
    pub(super) fn check_logs(&self, wrong: &mut Vec<Diagnostic>) {
        for (id, test) in &self.pack.tests {
            self.log_of_test(id, test, wrong);
        }
    }

    /// The log of a test.
    fn log_of_test(
        &self,
        id: &At<RuleTestId>,
        test: &RuleTest,
        wrong: &mut Vec<Diagnostic>,
    ) -> Vec<Logged> {
        if test.log.is_empty() {
            return Vec::new();
        }
        let mut read = Vec::new();
        check_entries(&test.log, &id.place, &self.pack, &mut read, wrong);
        self.logged(read, wrong)
    }
}

impl KnowledgeBase {
    /// The log of a test; none where it has none. It was checked when the rules were read.
    pub(super) fn log_of(&self, id: &At<RuleTestId>, test: &RuleTest) -> Option<TrainingLog> {
        let entries = self.0.log_of_test(id, test, &mut Vec::new());
        (!entries.is_empty()).then(|| TrainingLog {
            entries,
            fingerprint: self.fingerprint().to_owned(),
        })
    }
}

fn row(entry: &Entry, skills: &[SkillId], exercise: usize) -> Row {
    let faults = entry.faults.iter().zip(skills);
    Row {
        date: entry.date,
        exercise,
        load: entry.load,
        sets: entry.sets,
        made: entry.made,
        missed: entry.missed,
        faults: faults
            .map(|(held, skill)| RowFault {
                fault: held.fault.clone(),
                skill: skill.clone(),
                grade: held.grade.clone(),
                seen: held.seen,
                is_said: held.is_said,
            })
            .collect(),
    }
}
