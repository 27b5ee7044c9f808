//! From a case to an answer.

use crate::base::Cancel;
use crate::explain::{
    Answer, Bound, Found, Handing, Held, NotFound, Placing, Plan, Recheck, any_week, conflict,
    disagreement, items_of,
};
use crate::infer::Setting;
use crate::plan::recheck::{Verdict, recheck};
use crate::plan::search::{Outcome, Solved, USUAL_WORK, search};
use crate::plan::{Loads, NoLayout, Pool, TwoDoses, Week};

use super::{Case, Error, ErrorKind, KnowledgeBase};

/// Where causes are worked on, exactly one rule says what that is worth.
pub(super) fn one_worth(setting: &Setting<'_>) -> Result<(), Error> {
    let speak: Vec<String> = setting
        .speaking(&setting.rules().help_worth)
        .map(|(id, _)| format!("`{id}` ({})", id.place))
        .collect();
    match speak.as_slice() {
        [] if !setting.focus.is_empty() => Err(Error::new(
            ErrorKind::Open,
            "no `help-worth` rule speaks in this case, so that nothing says what it is worth to work on a cause",
        )),
        [_, _, ..] => Err(Error::new(
            ErrorKind::Open,
            format!(
                "several rules say what help is worth: {}; let one of them speak",
                speak.join(", ")
            ),
        )),
        _ => Ok(()),
    }
}

/// The most nodes that each search of a conflict takes: it asks only whether there is a week.
const CONFLICT_NODES: u64 = 4_000_000;

/// How much a search may do, counted in nodes and never in time, so that the same question has the
/// same answer on every machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Work {
    /// The most nodes of the search tree.
    pub nodes: u64,
}

impl Work {
    /// A limit of this many nodes.
    #[must_use]
    pub const fn nodes(nodes: u64) -> Self {
        Self { nodes }
    }
}

impl Default for Work {
    /// Enough for most weeks of six days to be proven best: 60 000 000 nodes.
    fn default() -> Self {
        Self { nodes: USUAL_WORK }
    }
}

impl KnowledgeBase {
    /// The best week for a case within the default limit of work.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a case of other rules, [`ErrorKind::Open`] where the rules
    /// leave open what they must decide, [`ErrorKind::Internal`] if a week fails its re-check.
    pub fn solve(&self, case: &Case) -> Result<Answer, Error> {
        self.solve_within(case, Work::default())
    }

    /// The best week for a case within a limit of work.
    ///
    /// # Errors
    ///
    /// As [`KnowledgeBase::solve`].
    pub fn solve_within(&self, case: &Case, work: Work) -> Result<Answer, Error> {
        self.solve_until(case, work, &Cancel::new())
    }

    /// The best week for a case within a limit of work, or the best found until it was cancelled, which says so
    /// ([`Proof::Cancelled`](crate::explain::Proof)). The search ends within milliseconds; the week's check and its reasons,
    /// which are those of any week, follow. Where it was seen by then that there is no week, the clash is named as far as it
    /// was taken apart ([`NoWeek::irreducible`](crate::explain::NoWeek::irreducible) is then false).
    ///
    /// # Errors
    ///
    /// As [`KnowledgeBase::solve`].
    ///
    /// # Examples
    ///
    /// ```
    /// # #[cfg(feature = "builtin")] {
    /// use std::{thread, time::Duration};
    ///
    /// use drillwright::{Answer, Cancel, KnowledgeBase, Work};
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let case = rules.case().phase("general").field("days", "3").build()?;
    /// let cancel = Cancel::new();
    /// let clock = cancel.clone();
    /// thread::spawn(move || {
    ///     thread::sleep(Duration::from_secs(2));
    ///     clock.cancel();
    /// });
    /// match rules.solve_until(&case, Work::default(), &cancel)? {
    ///     Answer::Week(week) => println!("{} points, {}", week.worth, week.proof.as_str()),
    ///     Answer::NotFound(none) => println!("nothing yet: cancelled {}", none.cancelled),
    ///     _ => println!("no week"),
    /// }
    /// # }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn solve_until(&self, case: &Case, work: Work, cancel: &Cancel) -> Result<Answer, Error> {
        let (answer, _) = self.solve_then(case, (work, cancel), |_, _| ())?;
        Ok(answer)
    }

    /// The same, with what `then` makes of the week while all that it was made from is at hand; none where there is no week.
    pub(super) fn solve_then<R>(
        &self,
        case: &Case,
        (work, cancel): (Work, &Cancel),
        then: impl FnOnce(&Held<'_>, &Plan) -> R,
    ) -> Result<(Answer, Option<R>), Error> {
        let setting = self.setting(case)?;
        one_worth(&setting)?;
        if cancel.is_cancelled() {
            return Ok((self.not_found(0, cancel), None));
        }
        let week = self.week(&setting)?;
        let loads = Loads::of(&setting);
        let pool = Pool::of(&setting, &week, &loads).map_err(|two| self.two_doses(&two))?;
        if cancel.is_cancelled() {
            return Ok((self.not_found(0, cancel), None));
        }
        let outcome = search(&setting, &week, &pool, work.nodes, cancel).map_err(|error| {
            Error::new(ErrorKind::Internal, format!("the search failed: {error:?}"))
        })?;
        match outcome {
            Outcome::Found(solved) => {
                let verdict = Self::confirmed(&setting, &week, &loads, &solved)?;
                let held = Held {
                    setting: &setting,
                    week: &week,
                    loads: &loads,
                    pool: &pool,
                    days: &solved.days,
                    verdict: &verdict,
                };
                let plan = self.found(&held, &solved, cancel)?;
                let made = then(&held, &plan);
                Ok((Answer::Week(Box::new(plan)), Some(made)))
            }
            Outcome::NoWeek => Ok((self.no_week(&setting, &week, cancel), None)),
            // Whether there is a week at all is asked once more without what only gives way: where
            // there is none, that says more than a limit that was reached.
            Outcome::NotFound { nodes } => {
                if !cancel.is_cancelled()
                    && any_week(&setting, CONFLICT_NODES, cancel) == Some(false)
                {
                    return Ok((self.no_week(&setting, &week, cancel), None));
                }
                Ok((self.not_found(nodes, cancel), None))
            }
        }
    }

    /// Refuses a week of other rules.
    pub(super) fn is_of_these_rules(&self, week: &Plan) -> Result<(), Error> {
        if week.fingerprint == self.fingerprint() {
            return Ok(());
        }
        Err(Error::new(
            ErrorKind::OtherRules,
            "the week was made with other rules",
        ))
    }

    /// Holds a week against the rules, item by item and rule by rule, without the search: whatever
    /// was changed in it since it was handed out is found.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a case or week of other rules, [`ErrorKind::Unknown`] for an
    /// exercise that the rules do not have, [`ErrorKind::Open`] as for [`KnowledgeBase::solve`].
    pub fn recheck(&self, case: &Case, plan: &Plan) -> Result<Recheck, Error> {
        self.is_of_these_rules(plan)?;
        let setting = self.setting(case)?;
        let week = self.week(&setting)?;
        let loads = Loads::of(&setting);
        let days = items_of(plan, |id| self.graph().ids.find(id)).map_err(|id| {
            Error::new(
                ErrorKind::Unknown,
                format!("the rules have no exercise `{id}`"),
            )
        })?;
        let handing = self.handing(&setting, &week, &loads);
        Ok(handing.out(&recheck(&setting, &week, &loads, &days)))
    }

    /// Holds a week that anybody put together against the rules: for each training day of the
    /// layout, what stands in it, in order. Doses and loads are those that the rules give.
    ///
    /// What may not stand where it stands is named under [`Recheck::wrong`] with what in the rules
    /// says so, and counts for nothing else; so are exercises, roles and parts that are not known.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a case of other rules, [`ErrorKind::Open`] as for
    /// [`KnowledgeBase::solve`].
    ///
    /// # Examples
    ///
    /// ```
    /// # #[cfg(feature = "builtin")] {
    /// use drillwright::KnowledgeBase;
    /// use drillwright::explain::Placing;
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let case = rules
    ///     .case()
    ///     .phase("last-week")
    ///     .best("best-snatch", "90")
    ///     .field("days", "2")
    ///     .build()?;
    /// let plan = rules.solve(&case)?.into_week().ok_or("no week")?;
    /// let mut week: Vec<Vec<Placing>> = plan
    ///     .sessions
    ///     .iter()
    ///     .map(|session| session.items.iter().map(Placing::from).collect())
    ///     .collect();
    /// assert!(rules.recheck_placed(&case, &week)?.confirms(&plan));
    ///
    /// // The same with its first session left out is another week.
    /// week[0].clear();
    /// let found = rules.recheck_placed(&case, &week)?;
    /// assert!(!found.confirms(&plan));
    /// for lack in found.broken.iter().chain(&found.lacks) {
    ///     println!("{} ({}): {} units, {}", lack.ruling, lack.place, lack.units, lack.because);
    /// }
    /// # }
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn recheck_placed(&self, case: &Case, week: &[Vec<Placing>]) -> Result<Recheck, Error> {
        let setting = self.setting(case)?;
        one_worth(&setting)?;
        let layout = self.week(&setting)?;
        let loads = Loads::of(&setting);
        let handing = self.handing(&setting, &layout, &loads);
        handing.placed(week).map_err(|two| self.two_doses(&two))
    }

    pub(super) fn handing<'a>(
        &'a self,
        setting: &'a Setting<'a>,
        week: &'a Week<'a>,
        loads: &'a Loads,
    ) -> Handing<'a> {
        Handing {
            setting,
            week,
            loads,
            glossary: self.glossary(),
        }
    }

    fn not_found(&self, nodes: u64, cancel: &Cancel) -> Answer {
        Answer::NotFound(NotFound {
            fingerprint: self.fingerprint().to_owned(),
            nodes,
            cancelled: cancel.is_cancelled(),
        })
    }

    fn no_week(&self, setting: &Setting<'_>, week: &Week<'_>, cancel: &Cancel) -> Answer {
        let none = conflict(
            setting,
            week,
            self.glossary(),
            self.fingerprint(),
            (CONFLICT_NODES, cancel),
        );
        Answer::NoWeek(Box::new(none))
    }

    /// What the re-check makes of a week that the search found, which must be what the search says.
    fn confirmed(
        setting: &Setting<'_>,
        week: &Week<'_>,
        loads: &Loads,
        solved: &Solved,
    ) -> Result<Verdict, Error> {
        let verdict = recheck(setting, week, loads, &solved.days);
        match disagreement(&verdict, solved.missed, solved.worth, solved.tie) {
            None => Ok(verdict),
            Some(what) => Err(Error::new(
                ErrorKind::Internal,
                format!("a mistake in this library: {what}"),
            )),
        }
    }

    fn found(&self, held: &Held<'_>, solved: &Solved, cancel: &Cancel) -> Result<Plan, Error> {
        let bound = solved.bound.as_ref().map(|bound| Bound {
            missed: bound.missed.into(),
            worth: bound.worth,
        });
        let found = Found {
            fingerprint: self.fingerprint().to_owned(),
            cancelled: cancel.is_cancelled(),
            bound,
            nodes: solved.nodes,
        };
        held.plan(self.glossary(), found).map_err(|error| {
            Error::new(
                ErrorKind::Internal,
                format!("the facts could not be kept: {error}"),
            )
        })
    }

    /// Refuses a case of other rules.
    pub(super) fn is_case_of_these_rules(&self, case: &Case) -> Result<(), Error> {
        if case.fingerprint == self.fingerprint() {
            return Ok(());
        }
        Err(Error::new(
            ErrorKind::OtherRules,
            "the case was read for other rules",
        ))
    }

    pub(super) fn setting<'a>(&'a self, case: &'a Case) -> Result<Setting<'a>, Error> {
        self.is_case_of_these_rules(case)?;
        Ok(Setting::new(self.pack(), self.graph(), &case.checked))
    }

    pub(super) fn week<'a>(&self, setting: &Setting<'a>) -> Result<Week<'a>, Error> {
        Week::of(setting).map_err(|none| match none {
            NoLayout::None => {
                let all: Vec<String> = self
                    .pack()
                    .layouts
                    .keys()
                    .map(|id| format!("`{id}` ({})", id.place))
                    .collect();
                Error::new(
                    ErrorKind::Open,
                    format!(
                        "no layout of the rules fits the case; change what the case says of its days, or add a layout whose `when` fits beside {}",
                        all.join(", ")
                    ),
                )
            }
            NoLayout::OtherDays {
                id,
                place,
                has,
                named,
            } => Error::new(
                ErrorKind::Open,
                format!(
                    "the layout `{id}` ({place}) fits the case and has {has} days, and the case names {named}; name as many days, or let the `when` of layouts ask how many they are"
                ),
            ),
            NoLayout::Several(all) => {
                let all: Vec<String> = all
                    .iter()
                    .map(|(id, place)| format!("`{id}` ({place})"))
                    .collect();
                Error::new(
                    ErrorKind::Open,
                    format!(
                        "several layouts fit the case: {}; let their `when` keep them apart",
                        all.join(", ")
                    ),
                )
            }
        })
    }

    pub(super) fn two_doses(&self, two: &TwoDoses) -> Error {
        let exercise = self
            .graph()
            .ids
            .get(two.exercise)
            .map_or("", |id| id.as_str());
        let (one, other) = (&two.one, &two.other);
        Error::new(
            ErrorKind::Open,
            format!(
                "two rules dose `{exercise}`: `{one}` ({}) and `{other}` ({}); let one stand `instead-of` the other",
                one.place, other.place
            ),
        )
    }
}
