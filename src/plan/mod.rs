//! From a case to a week: candidates with doses, sessions and rows, search,
//! re-check, order.

pub(crate) mod course;
mod dose;
pub(crate) mod flat;
pub(crate) mod hand;
mod item;
mod load;
pub(crate) mod model;
pub(crate) mod recheck;
pub(crate) mod search;
mod slots;

pub(crate) use dose::{Basis, Dosed, TwoDoses, ramp_step, warm_up};
pub(crate) use item::{Asked, Item, Pool, Refusal, Spot, place, refused, too_light};
pub(crate) use load::{Best, Ends, Loads};
pub(crate) use slots::{NoLayout, Week};

#[cfg(test)]
mod pointwise;
