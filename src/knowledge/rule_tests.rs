//! The tests of a method, run.

use crate::base::{At, Cancel, RuleTestId};
use crate::explain::{Asked, Came, TestResult, hold, hold_track, hold_watched};
use crate::rules::case_check::check_case;
use crate::rules::expect::RuleTest;

use super::list::unknown;
use super::{Case, Error, ErrorKind, KnowledgeBase, Work};

impl KnowledgeBase {
    /// The tests that stand beside the rules, by id. The built-in method carries none: its tests
    /// stand in the folder `rules/tests` of this package.
    #[must_use]
    pub fn rule_tests(&self) -> Vec<RuleTestId> {
        let mut all: Vec<RuleTestId> = self.pack().test_ids().map(|id| id.value.clone()).collect();
        all.sort();
        all
    }

    /// Asks every variant of a test, or makes the block that it asks for, and holds what it expects against the answers.
    /// `work` is the limit of each answer.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Unknown`] for a test that the rules do not have; else as
    /// [`KnowledgeBase::solve`] and [`KnowledgeBase::block`].
    ///
    /// # Examples
    ///
    /// ```no_run
    /// use drillwright::{KnowledgeBase, Work};
    ///
    /// let rules = KnowledgeBase::from_folder("rules")?;
    /// for test in rules.rule_tests() {
    ///     let result = rules.run_rule_test(test.as_str(), Work::default())?;
    ///     assert!(result.failed.is_empty() && result.unanswered.is_empty());
    /// }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn run_rule_test(&self, test: &str, work: Work) -> Result<TestResult, Error> {
        let of_track = self.pack().track_tests.iter();
        let of_track = of_track.into_iter().find(|(id, _)| id.as_str() == test);
        if let Some((id, test)) = of_track {
            return Ok(hold_track(id, test, &self.track_of_test(test)?));
        }
        let of_attempts = self.pack().watched_tests.iter();
        let of_attempts = of_attempts.into_iter().find(|(id, _)| id.as_str() == test);
        if let Some((id, test)) = of_attempts {
            return Ok(hold_watched(id, test, &self.seen_of_test(id, test)?));
        }
        let found = self.pack().tests.iter().find(|(id, _)| id.as_str() == test);
        let Some((id, test)) = found else {
            let known = self.rule_tests();
            return Err(unknown("test", test, known.iter().map(RuleTestId::as_str)));
        };
        // What the rules leave open is told with the test that asks it.
        self.ask(id, test, work)
            .map_err(|error| match error.kind() {
                ErrorKind::Open => {
                    let what = format!("the test `{id}` ({}) cannot be asked: {error}", id.place);
                    Error::new(ErrorKind::Open, what)
                }
                _ => error,
            })
    }

    fn ask(&self, id: &At<RuleTestId>, test: &RuleTest, work: Work) -> Result<TestResult, Error> {
        // Cases of tests are checked when the rules are read.
        let read = |text| {
            check_case(text, self.pack(), &*self.0)
                .map(|checked| Case::new(checked, self.fingerprint()))
                .map_err(|wrong| Error::found(ErrorKind::Internal, wrong, Vec::new()))
        };
        if let Some(weeks) = &test.weeks {
            let case = read(test.case.clone())?;
            return self.hold_block((id, test), &case, weeks.value, work);
        }
        let log = self.log_of(id, test);
        let written = self.week_of_test(test, &mut Vec::new());
        let mut ran = Vec::new();
        for (variant, text) in test.cases() {
            let case = read(text)?;
            let answer = self.solve_within(&case, work)?;
            let review = log.as_ref().map(|log| self.review(&case, log));
            let audit = written.as_ref().map(|week| self.audit(&case, week, work));
            let (review, audit) = (review.transpose()?, audit.transpose()?);
            ran.push((variant, case, answer, review, audit));
        }
        let settings = ran.iter().map(|(_, case, ..)| self.setting(case));
        let settings = settings.collect::<Result<Vec<_>, Error>>()?;
        let weeks = settings.iter().map(|setting| self.week(setting));
        let weeks = weeks.collect::<Result<Vec<_>, Error>>()?;
        let mut asked = Vec::new();
        for ((variant, _, answer, review, audit), (setting, week)) in
            ran.iter().zip(settings.iter().zip(&weeks))
        {
            asked.push(Asked {
                variant: variant.map(|id| &id.value),
                setting,
                week,
                came: Came::from(answer),
                of_block: None,
                audit: audit.as_ref(),
                review: review.as_ref(),
            });
        }
        Ok(hold(id, test, &asked))
    }

    /// Makes a block and asks each of its weeks. Of a block that could not be gone on with, every week that is missing is
    /// what there is instead of the first of them.
    fn hold_block(
        &self,
        (id, test): (&At<RuleTestId>, &RuleTest),
        case: &Case,
        weeks: u16,
        work: Work,
    ) -> Result<TestResult, Error> {
        let (block, cases) = self.block_of_cases(case, Some(weeks), work, &Cancel::new())?;
        let settings = cases.iter().map(|case| self.setting(case));
        let settings = settings.collect::<Result<Vec<_>, Error>>()?;
        let layouts = settings.iter().map(|setting| self.week(setting));
        let layouts = layouts.collect::<Result<Vec<_>, Error>>()?;
        let names = test.block_weeks();
        let asked = names.iter().enumerate().filter_map(|(number, name)| {
            let made = block.weeks.get(number);
            let last = settings.len().checked_sub(1)?;
            Some(Asked {
                variant: Some(name),
                setting: settings.get(number.min(last))?,
                week: layouts.get(number.min(last))?,
                came: match made {
                    Some(week) => Came::Week(&week.plan),
                    None => Came::from(&**block.stopped.as_ref()?),
                },
                of_block: made.map(|week| (&block, week)),
                audit: None,
                review: None,
            })
        });
        Ok(hold(id, test, &asked.collect::<Vec<_>>()))
    }
}
