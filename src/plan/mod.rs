//! From a case to a week: candidates with doses, sessions and rows, search,
//! re-check, order.

mod dose;
mod item;
mod load;
pub(crate) mod model;
pub(crate) mod search;
mod slots;

pub(crate) use dose::{Basis, Dosed, TwoDoses};
pub(crate) use item::{Item, Pool};
pub(crate) use load::{Load, Loads};
pub(crate) use slots::{Day, Week};

#[cfg(test)]
mod trial;
