//! The rest of a week that has begun.

use std::collections::BTreeSet;

use crate::explain::{Plan, Session};
use crate::plan::{Loads, Pool};
use crate::rules::case_check::{DoneItem, SoFar};

use super::{Case, Error, ErrorKind, KnowledgeBase};

impl KnowledgeBase {
    /// The case of a week that has begun: of `week`, the days in `done` were trained as they stand there, and
    /// nothing was done on those in `missed` (days of the week, 1 to 7). Solved, it keeps what was done,
    /// leaves the missed days out, and makes the days that are left as good as they can be. With
    /// nothing missed that is the same week again. Of a week that was itself made so, what lay behind it still does.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a case or week of other rules, [`ErrorKind::Unknown`] for a day that the week
    /// does not have or that is named twice, [`ErrorKind::Open`] where no day is left, or where what was done
    /// may not stand in this case.
    ///
    /// # Examples
    ///
    /// ```
    /// # #[cfg(feature = "builtin")] {
    /// use drillwright::KnowledgeBase;
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let case = rules.case().phase("general").field("days", "3").build()?;
    /// let week = rules.solve(&case)?.into_week().expect("a plain case has a week");
    /// // Monday was trained, Wednesday was not.
    /// let rest = rules.rest_of_week(&case, &week, &[1], &[3])?;
    /// let rest = rules.solve(&rest)?.into_week().expect("the rest of it too");
    /// assert!(rest.sessions[0].done && rest.sessions[0].items.len() == week.sessions[0].items.len());
    /// assert_eq!(rest.sessions.len(), 2);
    /// # }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn rest_of_week(
        &self,
        case: &Case,
        week: &Plan,
        done: &[u8],
        missed: &[u8],
    ) -> Result<Case, Error> {
        self.is_of_these_rules(week)?;
        let mut named = BTreeSet::new();
        for day in done.iter().chain(missed) {
            if !week.sessions.iter().any(|session| session.day == *day) {
                let days = week.sessions.iter().map(|session| session.day.to_string());
                let days: Vec<String> = days.collect();
                return Err(Error::new(
                    ErrorKind::Unknown,
                    format!(
                        "the week has no training on day {day}; its days are {}",
                        days.join(", ")
                    ),
                ));
            }
            if !named.insert(*day) {
                return Err(Error::new(
                    ErrorKind::Unknown,
                    format!("day {day} is named twice; it was done, or it was missed"),
                ));
            }
        }
        // A week that is itself the rest of one carries what lies behind it.
        let is_done = |session: &Session| session.done || done.contains(&session.day);
        let is_behind = |session: &Session| is_done(session) || missed.contains(&session.day);
        if week.sessions.iter().all(is_behind) {
            return Err(Error::new(
                ErrorKind::Open,
                "every day of the week is done or missed, so nothing is left to be made",
            ));
        }
        let of = |session: &Session| -> Vec<DoneItem> {
            let items = session.items.iter().map(|item| DoneItem {
                slot: item.slot,
                role: item.role.clone(),
                exercise: item.exercise.clone(),
            });
            items.collect()
        };
        let mut rest = case.clone();
        rest.checked.so_far = SoFar {
            done: week
                .sessions
                .iter()
                .filter(|session| is_done(session) && !missed.contains(&session.day))
                .map(|session| (session.day, of(session)))
                .collect(),
            missed: week.missed_days.iter().chain(missed).copied().collect(),
        };
        let setting = self.setting(&rest)?;
        let days = self.week(&setting)?;
        let pool = Pool::of(&setting, &days, &Loads::of(&setting));
        let pool = pool.map_err(|two| self.two_doses(&two))?;
        for (day, held) in days.days.iter().enumerate() {
            let wanted = setting.case.so_far.done.get(&held.layout.day.value);
            let allowed = pool.days.get(day).map_or(0, Vec::len);
            if wanted.is_some_and(|done| done.len() != allowed) {
                return Err(Error::new(
                    ErrorKind::Open,
                    format!(
                        "what was done on day {} may not stand there in this case; give the case as it was when that day was trained",
                        held.layout.day.value
                    ),
                ));
            }
        }
        Ok(rest)
    }
}
