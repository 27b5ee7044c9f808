//! Parts of a layout: too few items give way as the part says, too many never.

use crate::rules::vocab::Yields;

use super::exact::{Exact, less, many};
use super::found::Found;
use super::view::View;
use super::{Verdict, Whose, Wrong};

/// The word that stands for the layout's own bounds.
pub(super) const KIND: &str = "layouts";

/// Counts the items of each part of each day.
pub(super) fn hold(view: &View<'_>, verdict: &mut Verdict) {
    for (day, session) in view.sessions() {
        let parts = view
            .week
            .days
            .get(day)
            .map_or(&[][..], |held| held.layout.parts.as_slice());
        for (at, slot) in parts.iter().enumerate() {
            let mut found = Found::default();
            let mut counted = || -> Exact<()> {
                let there = many(session.iter().filter(|item| item.slot == at))?;
                found.lack(
                    slot.yields,
                    Some(day),
                    less(i64::from(slot.at_least), there)?,
                    1,
                )?;
                found.lack(
                    Yields::Never,
                    Some(day),
                    less(there, i64::from(slot.at_most.value))?,
                    1,
                )
            };
            match counted() {
                Ok(()) => verdict.take(
                    KIND,
                    &Whose::Slot(slot.part.value.clone()),
                    &slot.place,
                    found,
                ),
                Err(_) => verdict.wrong(Wrong::SumTooLarge),
            }
        }
    }
}
