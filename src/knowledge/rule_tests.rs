//! The tests of a method, run.

use crate::base::RuleTestId;
use crate::explain::{Asked, TestResult, hold, hold_track};
use crate::rules::case_check::check_case;

use super::list::unknown;
use super::{Case, Error, ErrorKind, KnowledgeBase, Work};

impl KnowledgeBase {
    /// The tests that stand beside the rules, by id. The built-in method carries none: its tests
    /// stand in the folder `rules/tests` of this package.
    #[must_use]
    pub fn rule_tests(&self) -> Vec<RuleTestId> {
        let (weeks, tracks) = (self.pack().tests.keys(), self.pack().track_tests.keys());
        let all = weeks.chain(tracks).map(|id| id.value.clone());
        let mut all: Vec<RuleTestId> = all.collect();
        all.sort();
        all
    }

    /// Asks every variant of a test, and holds what it expects against the answers. `work` is the
    /// limit of each.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Unknown`] for a test that the rules do not have; else as
    /// [`KnowledgeBase::solve`].
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
        let found = self.pack().tests.iter().find(|(id, _)| id.as_str() == test);
        let Some((id, test)) = found else {
            let known = self.rule_tests();
            return Err(unknown("test", test, known.iter().map(RuleTestId::as_str)));
        };
        let mut cases = Vec::new();
        for (variant, text) in test.cases() {
            // Cases of tests are checked when the rules are read.
            let checked = check_case(text, self.pack(), &*self.0)
                .map_err(|wrong| Error::found(ErrorKind::Internal, wrong, Vec::new()))?;
            cases.push((variant, Case::new(checked, self.fingerprint())));
        }
        let mut settings = Vec::new();
        for (variant, case) in &cases {
            let answer = self.solve_within(case, work)?;
            settings.push((*variant, self.setting(case)?, answer));
        }
        let log = self.log_of(id, test);
        let mut reviews = Vec::new();
        for (_, case) in &cases {
            let review = log.as_ref().map(|log| self.review(case, log));
            reviews.push(review.transpose()?);
        }
        let mut weeks = Vec::new();
        for (_, setting, _) in &settings {
            weeks.push(self.week(setting)?);
        }
        let asked: Vec<Asked<'_>> = settings
            .iter()
            .zip(&weeks)
            .zip(&reviews)
            .map(|(((variant, setting, answer), week), review)| Asked {
                review: review.as_ref(),
                variant: variant.map(|variant| &variant.value),
                setting,
                week,
                answer,
            })
            .collect();
        Ok(hold(id, test, &asked))
    }
}
