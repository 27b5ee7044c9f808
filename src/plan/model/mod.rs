//! Rules and case compiled to sessions and rows.
//!
//! A rule becomes one of three things, by its scope: something about the items
//! of one session ([`Sums`], [`Couple`], [`Order`], [`Follow`]), a row over the week
//! ([`Row`]), or something about two days ([`TwoDays`], [`Follow`]). Nothing else
//! decides, and the search knows only these.

mod adjacent;
mod alike;
mod apart;
mod before;
mod bounds;
mod build;
mod count;
mod differ;
mod exclude;
mod floor;
mod followed;
mod help_worth;
mod kept;
mod lighter;
mod minutes;
mod needs;
mod position;
mod precedence;
mod prefer;
mod proportion;
mod quality_worth;
mod repeat;
mod shape;
mod shift;
mod slots;
mod stress;
mod volume;
mod wanted;

pub(crate) use build::build;
pub(crate) use precedence::Precedence;
pub(crate) use shape::{
    Bound, CoupleKind, DayModel, Follow, Group, Level, Model, Need, Order, OrderKind, Row, Sums,
    TwoDaysKind, units,
};
#[cfg(test)]
pub(crate) use shape::{Candidate, SlotModel, TwoDays};
