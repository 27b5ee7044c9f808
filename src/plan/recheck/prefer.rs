//! `prefer`: what each item that fits is worth.

use crate::rules::kinds::{Each, Prefer};

use super::Held;
use super::exact::{Exact, times};
use super::found::Found;
use super::view::View;

impl Held for Prefer {
    fn hold(&self, view: &View<'_>, found: &mut Found) -> Exact<()> {
        for (_, session) in view.on(&self.on) {
            for item in view.of(&self.what, session) {
                let times_over = match self.each {
                    Each::Item => 1,
                    Each::Set => item.dosed.sets,
                    Each::Departure => view.exercise(item).map_or(0, |exercise| exercise.departure),
                };
                found.points(times(self.weight.value, times_over)?)?;
            }
        }
        Ok(())
    }
}
