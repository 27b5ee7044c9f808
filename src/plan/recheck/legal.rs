//! Whether each item may stand where it stands, as it stands.

use std::collections::BTreeSet;

use crate::plan::item::{Spot, place};
use crate::plan::load::Loads;

use super::view::View;
use super::{Illegal, Verdict, Wrong};

/// Makes each item again from what it is and where it stands, and compares.
pub(super) fn hold(view: &View<'_>, loads: &Loads, verdict: &mut Verdict) {
    for (day, session) in view.days.iter().enumerate() {
        let slots = view
            .week
            .days
            .get(day)
            .map_or(0, |held| held.layout.parts.len());
        let (mut seen, mut reached) = (BTreeSet::new(), 0);
        for (at, item) in session.iter().enumerate() {
            let mut wrong = |why| {
                verdict.illegal.push(Illegal {
                    day: Some(day),
                    at: Some(at),
                    why,
                })
            };
            if !seen.insert(item.exercise) {
                wrong(Wrong::Twice);
            }
            if item.slot < reached {
                wrong(Wrong::Order);
            }
            reached = reached.max(item.slot);
            if item.slot >= slots {
                wrong(Wrong::NoSlot);
                continue;
            }
            let spot = Spot {
                day,
                slot: item.slot,
                exercise: item.exercise,
                role: &item.role,
            };
            match place(view.setting, view.week, loads, spot) {
                Ok(Ok(made)) if made == *item => {}
                Ok(Ok(made)) => wrong(Wrong::Otherwise(Box::new(made))),
                Ok(Err(against)) => wrong(Wrong::NoCandidate(against)),
                Err(two) => wrong(Wrong::TwoDoses(Box::new(two))),
            }
        }
    }
}
