//! The week as a model that other solvers read.

use crate::explain::{Level, Missed};
use crate::plan::flat::{Hold, OpenModel, flat};
use crate::plan::model::build;
use crate::plan::{Loads, Pool};

use super::solve::one_worth;
use super::{Case, Error, ErrorKind, KnowledgeBase};

/// What an open model asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Aim {
    /// The most worth with as many units missed as these at most, level by level. With none, the
    /// best week in which nothing gives way.
    Worth(Missed),
    /// The fewest units missed on one level, with as many as these at most on those that give way
    /// after it; what gives way before it is left out.
    Fewest(Level, Missed),
}

impl KnowledgeBase {
    /// The whole week of a case as a linear model in whole numbers, so that any solver of such
    /// models can look for a better one. Nothing is searched for here.
    ///
    /// A week in which nothing gives way is best where it is the best for
    /// `Aim::Worth(Missed::default())`. Else a best week misses the fewest units for
    /// `Aim::Fewest` on `last`, then `middle`, then `first`, each with those before it held, and
    /// is the best for `Aim::Worth` with what it misses.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] and [`ErrorKind::Open`] as [`KnowledgeBase::solve`];
    /// [`ErrorKind::Unknown`] for [`Level::Never`], on which nothing is missed;
    /// [`ErrorKind::Internal`] where totals are too large to be written exactly.
    ///
    /// # Examples
    ///
    /// ```
    /// # #[cfg(feature = "builtin")] {
    /// use drillwright::explain::Missed;
    /// use drillwright::{Aim, KnowledgeBase};
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let case = rules
    ///     .case()
    ///     .phase("last-week")
    ///     .best("best-snatch", "90")
    ///     .field("days", "2")
    ///     .build()?;
    /// let model = rules.open_model(&case, Aim::Worth(Missed::default()))?;
    /// assert!(model.seeks_worth());
    /// assert!(model.mps().ends_with("ENDATA\n"));
    /// # }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn open_model(&self, case: &Case, aim: Aim) -> Result<OpenModel, Error> {
        let setting = self.setting(case)?;
        one_worth(&setting)?;
        let week = self.week(&setting)?;
        let loads = Loads::of(&setting);
        let pool = Pool::of(&setting, &week, &loads).map_err(|two| self.two_doses(&two))?;
        let model = build(&setting, &week, &pool);
        let (holds, sought) = match aim {
            Aim::Worth(missed) => {
                let holds = [missed.last, missed.middle, missed.first].map(Hold::AtMost);
                (holds, "the most worth".to_owned())
            }
            Aim::Fewest(level, missed) => {
                let sought = format!("the fewest units missed that give way {}", level.as_str());
                let holds = match level {
                    Level::Last => [Hold::Fewest, Hold::Free, Hold::Free],
                    Level::Middle => [Hold::AtMost(missed.last), Hold::Fewest, Hold::Free],
                    Level::First => [
                        Hold::AtMost(missed.last),
                        Hold::AtMost(missed.middle),
                        Hold::Fewest,
                    ],
                    Level::Never => {
                        return Err(Error::new(
                            ErrorKind::Unknown,
                            "nothing is missed on the level `never`",
                        ));
                    }
                };
                (holds, sought)
            }
        };
        let held: Vec<String> = [Level::Last, Level::Middle, Level::First]
            .iter()
            .zip(holds)
            .filter_map(|(level, hold)| match hold {
                Hold::AtMost(most) => Some(format!("{most} {}", level.as_str())),
                Hold::Fewest | Hold::Free => None,
            })
            .collect();
        let mut about = vec![
            format!("rules {}", self.fingerprint()),
            format!("sought: {sought}"),
        ];
        if !held.is_empty() {
            about.push(format!("units missed at most: {}", held.join(", ")));
        }
        flat(&model, &pool, self.graph(), holds, about).map_err(|rule| {
            Error::new(
                ErrorKind::Internal,
                format!("the totals of `{rule}` are too large to be written exactly"),
            )
        })
    }
}
