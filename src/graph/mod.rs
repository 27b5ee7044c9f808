//! The graph of exercises: variation -> parent, with every number computed along its edges.

mod bits;
mod body;
mod index;
pub(crate) mod naming;
mod resolve;

pub(crate) use bits::Bits;
pub(crate) use body::{Body, Exercise, Kind};
pub(crate) use index::Index;
pub(crate) use resolve::{Graph, build};
