//! Attempts that were watched, and what they say.

use std::sync::Arc;

use crate::base::{At, RuleTestId};
use crate::explain::{Findings, Verdict, findings};
use crate::infer::conclude;
use crate::rules::expect_watched::WatchedTest;
use crate::rules::watched;
use crate::rules::watched_read::{check_watched, read_watched};

use super::{CaseBuilder, Error, ErrorKind, KnowledgeBase, text_of};

/// Attempts at one lift that were watched, checked against the rules that they are asked of.
#[derive(Clone, Debug)]
pub struct Watched {
    checked: watched::Watched,
    fingerprint: String,
}

impl KnowledgeBase {
    /// Watched attempts from the text of a file; the name only serves to say where things are.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Watched`] with every problem of the text.
    pub fn watched_from_text(&self, name: &str, text: &str) -> Result<Watched, Error> {
        let name: Arc<str> = Arc::from(name);
        match read_watched(&name, text, self.pack(), &self.0.limits) {
            Ok(checked) => Ok(Watched {
                checked,
                fingerprint: self.fingerprint().to_owned(),
            }),
            Err(wrong) => {
                let files = vec![(name, Arc::from(text))];
                Err(Error::found(ErrorKind::Watched, wrong, files))
            }
        }
    }

    /// Watched attempts from the bytes of a file.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Watched`] with every problem; bytes that are not UTF-8 are one.
    pub fn watched_from_bytes(&self, name: &str, bytes: &[u8]) -> Result<Watched, Error> {
        self.watched_from_text(name, text_of(name, bytes, ErrorKind::Watched)?)
    }

    /// What watched attempts say: which faults are there, which may be chance, what is likely behind them with what
    /// speaks for and against it, and which further look would tell two causes apart. From how much something is
    /// concluded is a matter of the rules (`judgements`); from too little nothing is.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for attempts that were read for other rules.
    ///
    /// # Examples
    ///
    /// ```
    /// # #[cfg(feature = "builtin")] {
    /// use drillwright::KnowledgeBase;
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let watched = rules.watched_from_text("monday.yaml", "
    /// format: 1
    /// watched:
    ///   skill: snatch
    ///   attempts:
    ///     - {percent: 75, times: 2, seen: {came-out: lift-made}}
    ///     - {percent: 85, times: 3, seen: {came-out: lift-saved, bar-came-down: bar-behind}}
    /// ")?;
    /// let findings = rules.see(&watched)?;
    /// assert_eq!(findings.faults[0].from_percent, Some(85));
    /// // A case goes on from there.
    /// let case = rules.case().seen(&findings).phase("general").field("days", "3").build()?;
    /// assert!(rules.solve(&case)?.into_week().is_some());
    /// # }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn see(&self, watched: &Watched) -> Result<Findings, Error> {
        if watched.fingerprint != self.fingerprint() {
            return Err(Error::new(
                ErrorKind::OtherRules,
                "the attempts were read for other rules; read them again with these",
            ));
        }
        Ok(self.found_in(&watched.checked))
    }

    fn found_in(&self, watched: &watched::Watched) -> Findings {
        let conclusion = conclude(self.pack(), watched);
        findings(
            self.pack(),
            self.glossary(),
            watched,
            &conclusion,
            self.fingerprint(),
        )
    }

    /// What is made of the attempts of a test, which were checked when the rules were read.
    pub(super) fn seen_of_test(
        &self,
        id: &At<RuleTestId>,
        test: &WatchedTest,
    ) -> Result<Findings, Error> {
        let mut wrong = Vec::new();
        match check_watched(&test.watched, self.pack(), &id.place, &mut wrong) {
            Some(checked) if wrong.is_empty() => Ok(self.found_in(&checked)),
            _ => Err(Error::found(ErrorKind::Internal, wrong, Vec::new())),
        }
    }
}

impl CaseBuilder {
    /// What watched attempts showed: each fault that is concluded, with how often it was seen and from which load on, the
    /// further looks that are true, and what was measured.
    pub fn seen(mut self, findings: &Findings) -> Self {
        let concluded = findings
            .faults
            .iter()
            .filter(|found| found.verdict == Verdict::Concluded);
        for found in concluded {
            self = self
                .fault_of(
                    found.fault.id.as_str(),
                    findings.skill.as_str(),
                    found.grade.as_str(),
                )
                .times(found.seen, found.of);
            if let Some(percent) = found.from_percent {
                self = self.from_percent(percent);
            }
        }
        for look in findings
            .looks
            .iter()
            .filter(|look| look.is_true == Some(true))
        {
            self = self.observed(look.look.id.as_str());
        }
        for (measure, value) in &findings.measured {
            self = self.measured(measure.as_str(), *value);
        }
        self
    }
}
