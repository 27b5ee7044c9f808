//! `followed`: an item of `what` that nothing freer follows is one unit; one that
//! is followed in its own complex or session is worth `closer-by`.

use crate::graph::Body;
use crate::plan::item::Item;
use crate::rules::kinds::{Followed, Within};

use super::Held;
use super::exact::{Exact, plus, times};
use super::found::Found;
use super::view::View;

impl Held for Followed {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        let mut closer = 0;
        for (day, session) in view.sessions() {
            let mut lack = 0;
            for (at, item) in session.iter().enumerate() {
                let leads = self.leads(view, item);
                if leads.is_empty() {
                    continue;
                }
                let near = leads
                    .iter()
                    .any(|(piece, lead)| self.frees(view, lead, item, piece + 1))
                    || session
                        .iter()
                        .skip(at + 1)
                        .any(|later| self.led_by(view, &leads, later));
                let far = self.within == Within::Week
                    && view.sessions().any(|(next, session)| {
                        next > day && session.iter().any(|later| self.led_by(view, &leads, later))
                    });
                closer = plus(closer, i64::from(near))?;
                lack = plus(lack, i64::from(!near && !far))?;
            }
            found.lack(self.yields, Some(day), lack, 1)?;
        }
        found.points(times(closer, self.closer_by)?)
    }
}

impl Followed {
    /// The components of an item that must be followed, with their places.
    fn leads<'b>(&self, view: &'b View<'_>, item: &Item) -> Vec<(usize, &'b Body)> {
        let Some(exercise) = view.exercise(item) else {
            return Vec::new();
        };
        let placed = item.placed(view.week);
        let pieces = exercise
            .pieces
            .iter()
            .enumerate()
            .map(|(at, piece)| (at, &piece.body));
        pieces
            .filter(|(_, body)| {
                view.setting
                    .matches_piece(&self.what, &placed, exercise, body)
            })
            .collect()
    }

    /// Whether an item has a component that follows one of the leads.
    fn led_by(&self, view: &View<'_>, leads: &[(usize, &Body)], later: &Item) -> bool {
        leads
            .iter()
            .any(|(_, lead)| self.frees(view, lead, later, 0))
    }

    /// Whether a component of `later`, from the place `from` on, follows a lead.
    fn frees(&self, view: &View<'_>, lead: &Body, later: &Item, from: usize) -> bool {
        let Some(exercise) = view.exercise(later) else {
            return false;
        };
        let placed = later.placed(view.week);
        let freer = |body: &Body| {
            body.departing.strictly_within(&lead.departing)
                && body.departing.shared(&body.strong).is_empty()
        };
        exercise
            .pieces
            .iter()
            .skip(from)
            .map(|piece| &piece.body)
            .any(|body| {
                body.skills.meets(&lead.skills)
                    && (self.freer == Some(false) || freer(body))
                    && view
                        .setting
                        .matches_piece(&self.by, &placed, exercise, body)
            })
    }
}
