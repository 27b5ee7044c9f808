//! A week that somebody wrote, held against the rules and against the best one.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::base::{Code, Diagnostic, ExerciseId, Place, Weekday};
use crate::explain::{Answer, Audit, AuditedLine, Auditing, BestWeek, Called, Named, audit};
use crate::graph::naming::{Meant, name_of};
use crate::plan::hand::{ByHand, Stood, places, stood};
use crate::plan::{Loads, Pool};
use crate::rules::expect::RuleTest;
use crate::rules::week_file::{WrittenLine, lines_of, read_week};

use super::solve::one_worth;
use super::{Case, Error, ErrorKind, KnowledgeBase, Work, text_of};

/// A week that somebody wrote, checked against the rules that it is held against.
#[derive(Clone, Debug)]
pub struct WrittenWeek {
    days: Vec<(Weekday, Vec<Line>)>,
    fingerprint: String,
}

/// A line with what it means.
#[derive(Clone, Debug)]
struct Line {
    written: WrittenLine,
    meant: Meant,
    /// Of a set in all.
    reps: i64,
}

impl KnowledgeBase {
    /// A week from the text of a file: under each day lines such as `snatch 5x2 75-80%`, with exercises as people write
    /// them. The name only serves to say where things are.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Week`] with every problem of the text.
    pub fn week_from_text(&self, name: &str, text: &str) -> Result<WrittenWeek, Error> {
        let name: Arc<str> = Arc::from(name);
        let found = |wrong: Vec<Diagnostic>| {
            let files = vec![(name.clone(), Arc::from(text))];
            Error::found(ErrorKind::Week, wrong, files)
        };
        let read = read_week(&name, text, &self.0.limits).map_err(&found)?;
        let mut wrong = Vec::new();
        let week = self.written(read, &mut wrong);
        if wrong.is_empty() {
            Ok(week)
        } else {
            wrong.sort();
            Err(found(wrong))
        }
    }

    /// A week of lines whose exercises are read; those that mean nothing are told and left out.
    fn written(
        &self,
        read: Vec<(Weekday, Vec<WrittenLine>)>,
        wrong: &mut Vec<Diagnostic>,
    ) -> WrittenWeek {
        let mut days = Vec::new();
        for (day, lines) in read {
            let mut of_day = Vec::new();
            for written in lines {
                match self.meant(&written) {
                    Ok((meant, reps)) => of_day.push(Line {
                        written,
                        meant,
                        reps,
                    }),
                    Err(problem) => wrong.push(Diagnostic {
                        place: written.text.place.clone(),
                        ..*problem
                    }),
                }
            }
            days.push((day, of_day));
        }
        WrittenWeek {
            days,
            fingerprint: self.fingerprint().to_owned(),
        }
    }

    /// The written week of a test; none where it has none.
    pub(super) fn week_of_test(
        &self,
        test: &RuleTest,
        wrong: &mut Vec<Diagnostic>,
    ) -> Option<WrittenWeek> {
        let has_one = !test.written.is_empty();
        has_one.then(|| {
            let read = lines_of(test.written.clone(), wrong);
            self.written(read, wrong)
        })
    }

    /// A week from the bytes of a file.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Week`] with every problem; bytes that are not UTF-8 are one.
    pub fn week_from_bytes(&self, name: &str, bytes: &[u8]) -> Result<WrittenWeek, Error> {
        self.week_from_text(name, text_of(name, bytes, ErrorKind::Week)?)
    }

    /// What a line means, and how many repetitions a set has in all. A round's repetitions are part of its name; those of
    /// a movement that is several skills in one may be written for each of them.
    fn meant(&self, written: &WrittenLine) -> Result<(Meant, i64), Box<Diagnostic>> {
        let line = &written.line;
        if let [reps] = line.reps.as_slice() {
            let meant = self.0.read_exercise(&line.name)?.meant;
            return match self.parts(&meant) {
                1 => Ok((meant, *reps)),
                parts => Err(self.says_no_reps(&meant, line.sets, parts)),
            };
        }
        let reps: Vec<String> = line.reps.iter().map(ToString::to_string).collect();
        let name = format!("{} {}", line.name, reps.join("+"));
        let round = self.0.read_exercise(&name);
        if let Ok(read) = &round
            && self.parts(&read.meant) == line.reps.len()
        {
            return Ok((read.meant.clone(), line.reps.iter().sum()));
        }
        let alone = self.0.read_exercise(&line.name)?.meant;
        let in_one = match &alone {
            Meant::Listed(at) => {
                let held = self.graph().exercises.get(*at);
                held.filter(|held| !held.is_complex())
                    .map_or(0, |held| held.skills.len())
            }
            _ => 0,
        };
        match (line.reps.first(), round) {
            (Some(first), _)
                if in_one == line.reps.len() && line.reps.iter().all(|reps| reps == first) =>
            {
                Ok((alone, *first))
            }
            (_, Err(wrong)) if self.parts(&alone) > 1 => Err(wrong),
            _ => Err(Box::new(Diagnostic::new(
                Code::BadValue,
                Place::unknown(),
                format!("“{}” is not {} movements", line.name, line.reps.len()),
                format!(
                    "write one number of repetitions, such as `{}x{}`",
                    line.sets,
                    line.reps.iter().max().unwrap_or(&1)
                ),
            ))),
        }
    }

    fn parts(&self, meant: &Meant) -> usize {
        match meant {
            Meant::Listed(at) => {
                let held = self.graph().exercises.get(*at);
                held.map_or(1, |held| held.pieces.len())
            }
            Meant::Made(_) => 1,
            Meant::Round(all) => all.len(),
        }
    }

    fn says_no_reps(&self, meant: &Meant, sets: i64, parts: usize) -> Box<Diagnostic> {
        let ones = vec!["1"; parts].join("+");
        Box::new(Diagnostic::new(
            Code::BadValue,
            Place::unknown(),
            format!(
                "“{}” has {parts} movements, and the line does not say how often each",
                name_of(self.pack(), self.graph(), meant)
            ),
            format!("write repetitions of each movement, such as `{sets}x({ones})`"),
        ))
    }

    /// What a week that somebody wrote comes to in a case: what it does for each cause, what it lacks, what clashes with
    /// which rule, its worth beside that of the best week, and the change of one line that helps most, found by
    /// trying all. Lines stand in the part and role with which the week comes to most. What is not
    /// listed is judged by what it is made of.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a case or week of other rules, [`ErrorKind::Open`] where the case has another number
    /// of training days than the week, and as for [`KnowledgeBase::solve`].
    ///
    /// # Examples
    ///
    /// ```
    /// # #[cfg(feature = "builtin")] {
    /// use drillwright::{KnowledgeBase, Work};
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let case = rules.case().phase("last-week").field("days", "2").build()?;
    /// let week = rules.week_from_text("mine.yaml", "
    /// format: 1
    /// week:
    ///   monday: [snatch 4x1 80%, clean and jerk 3x(1+1) 80%]
    ///   thursday: [power snatch 3x2 60%]
    /// ")?;
    /// let audit = rules.audit(&case, &week, Work::default())?;
    /// assert!(audit.best.is_some_and(|best| best.worth >= audit.worth || best.missed != audit.missed));
    /// # }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn audit(&self, case: &Case, written: &WrittenWeek, work: Work) -> Result<Audit, Error> {
        if written.fingerprint != self.fingerprint() {
            return Err(Error::new(
                ErrorKind::OtherRules,
                "the week was read for other rules; read it again with these",
            ));
        }
        let case = self.on_these_days(case, written)?;
        let best = match self.solve_within(&case, work)? {
            Answer::Week(plan) => Some(plan),
            _ => None,
        };
        let (base, case, ids) = self.with_lines(&case, written)?;
        let setting = base.setting(&case)?;
        one_worth(&setting)?;
        let week = base.week(&setting)?;
        let loads = Loads::of(&setting);
        let pool = Pool::of(&setting, &week, &loads).map_err(|two| base.two_doses(&two))?;
        let mut options: Vec<Vec<Vec<Stood>>> = Vec::new();
        for (day, (lines, ids)) in written
            .days
            .iter()
            .map(|(_, lines)| lines)
            .zip(&ids)
            .enumerate()
        {
            let of_line = |(line, id): (&Line, &ExerciseId)| {
                let exercise = base.graph().ids.find(id.as_str());
                exercise.map_or_else(Vec::new, |exercise| {
                    let written = ByHand {
                        exercise,
                        sets: line.written.line.sets,
                        reps: line.reps,
                        percent: line.written.line.percent,
                    };
                    places(&setting, &week, &loads, day, written)
                })
            };
            options.push(lines.iter().zip(ids).map(of_line).collect());
        }
        let taken = stood(&setting, &week, &options);
        let called = |id: &ExerciseId| Called::new(base.glossary(), Named::Exercise, id);
        let lines: Vec<Vec<AuditedLine>> = written
            .days
            .iter()
            .zip(&ids)
            .map(|((_, lines), ids)| {
                let lines = lines.iter().zip(ids);
                let of = |(line, id): (&Line, &ExerciseId)| {
                    let held = &line.written.line;
                    AuditedLine::read(
                        line.written.text.value.clone(),
                        called(id),
                        (held.sets, line.reps),
                        held.percent,
                    )
                };
                lines.map(of).collect()
            })
            .collect();
        let best_week = best.as_ref().map(|plan| BestWeek {
            missed: plan.missed,
            worth: plan.worth,
            proof: plan.proof,
        });
        let auditing = Auditing {
            setting: &setting,
            week: &week,
            loads: &loads,
            pool: &pool,
            glossary: base.glossary(),
            options: &options,
            taken: &taken,
            best: best.as_deref(),
        };
        Ok(audit(&auditing, lines, best_week, self.fingerprint()))
    }

    /// The case with the days of the week as its training days, where it names none.
    fn on_these_days(&self, case: &Case, written: &WrittenWeek) -> Result<Case, Error> {
        let setting = self.setting(case)?;
        let layout = self.week(&setting)?;
        let (has, wants) = (written.days.len(), layout.days.len());
        if has != wants {
            return Err(Error::new(
                ErrorKind::Open,
                format!(
                    "the week has {has} days, and the case trains on {wants}; let both have as many"
                ),
            ));
        }
        let own: Vec<u8> = layout.days.iter().map(|day| day.layout.day.value).collect();
        let named: Vec<u8> = written.days.iter().map(|(day, _)| day.number()).collect();
        if own == named {
            return Ok(case.clone());
        }
        if !case.checked.days.is_empty() {
            return Err(Error::new(
                ErrorKind::Open,
                "the case names other days than the week; let both name the same",
            ));
        }
        let mut other = case.clone();
        let days = written.days.iter();
        other.checked.days = days.map(|(day, _)| (*day, BTreeMap::new())).collect();
        Ok(other)
    }

    /// The rules with what the lines name that is not listed, the case as one of them, and the exercise of each line.
    fn with_lines(
        &self,
        case: &Case,
        written: &WrittenWeek,
    ) -> Result<(Self, Case, Vec<Vec<ExerciseId>>), Error> {
        let lines = || written.days.iter().flat_map(|(_, lines)| lines);
        let meant = lines().map(|line| &line.meant);
        let (base, case, ids) = self.with_unlisted(case, "written", meant)?;
        let mut ids = ids.into_iter();
        let by_day = written.days.iter();
        let by_day = by_day.map(|(_, lines)| ids.by_ref().take(lines.len()).collect());
        let by_day = by_day.collect();
        Ok((base, case, by_day))
    }
}
