//! Rules with variations that nobody listed.

use std::sync::Arc;

use crate::graph::build;
use crate::infer::{Setting, composable, worth_having};
use crate::rules::case_check;
use crate::rules::pack::Pack;

use super::{Case, Error, ErrorKind, Inner, KnowledgeBase, fingerprint};

impl KnowledgeBase {
    /// The same rules with variations beside the listed exercises that nobody listed, put together
    /// for one case as the `compose` rules let them be: a listed exercise with one constraint more,
    /// where nothing listed serves a cause in focus as much with as little departure. Their numbers
    /// are worked out as the listed ones' are; to the lifter they are new.
    ///
    /// The case comes back as one of these rules. Where nothing is worth putting together both are
    /// as they were. [`Plan::composed`](crate::explain::Plan::composed) names what of it a week has.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::OtherRules`] for a case of other rules, [`ErrorKind::Internal`] if what was put
    /// together does not fit the rules, which would be a mistake in this library.
    ///
    /// # Examples
    ///
    /// ```
    /// # #[cfg(feature = "builtin")] {
    /// use drillwright::KnowledgeBase;
    ///
    /// let rules = KnowledgeBase::builtin()?;
    /// let case = rules
    ///     .case()
    ///     .phase("general")
    ///     .fault_of("saved-backward", "snatch", "two-steps")
    ///     .field("days", "3")
    ///     .build()?;
    /// let (rules, case) = rules.composed(&case)?;
    /// let week = rules.solve(&case)?.into_week().expect("a plain case has a week");
    /// for made in &week.composed {
    ///     println!("{}: {} with {:?}", made.name, made.from, made.with);
    /// }
    /// # }
    /// # Ok::<(), drillwright::Error>(())
    /// ```
    pub fn composed(&self, case: &Case) -> Result<(Self, Case), Error> {
        let setting = self.setting(case)?;
        let mut all = composable(&setting, &self.0.naming());
        let with = |all: &[_]| {
            let mut pack: Pack = self.pack().clone();
            pack.variations.extend(all.iter().cloned());
            pack.composed
                .extend(all.iter().map(|(id, _)| id.value.clone()));
            pack
        };
        let grown = with(&all);
        let graph = build(&grown).map_err(|wrong| broken(&wrong))?;
        let kept = worth_having(&Setting::new(&grown, &graph, &case.checked), &all);
        if kept.is_empty() {
            return Ok((self.clone(), case.clone()));
        }
        all.retain(|(id, _)| kept.contains(&id.value));
        let names: Vec<&str> = kept.iter().map(|id| id.as_str()).collect();
        let why = ("composed", &*names.join(" "));
        let mut checked = case.checked.clone();
        checked.new.extend(kept);
        self.grown(with(&all), why, checked)
    }

    /// The base of a pack that grew from these rules, by what was put into it, and a case as one of it.
    ///
    /// # Errors
    ///
    /// [`ErrorKind::Internal`] if the pack has problems, which would be a mistake in this library.
    pub(super) fn grown(
        &self,
        pack: Pack,
        (why, names): (&str, &str),
        checked: case_check::Case,
    ) -> Result<(Self, Case), Error> {
        let texts = [(self.fingerprint(), ""), (why, names)];
        let fingerprint = fingerprint::of(texts.into_iter());
        let case = Case::new(checked, &fingerprint);
        let inner = Inner::of(pack, fingerprint, self.0.limits);
        let inner = inner.map_err(|wrong| broken(&wrong))?;
        Ok((Self(Arc::new(inner)), case))
    }
}

/// What was put together does not fit the rules.
fn broken(what: &dyn std::fmt::Debug) -> Error {
    let what = format!("a mistake in this library: what was put together: {what:?}");
    Error::new(ErrorKind::Internal, what)
}
