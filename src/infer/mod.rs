//! What follows from a case before anything is placed: conditions, demand,
//! focus, effects, what is allowed and what stands in.

mod asks;
mod compose;
mod condition;
mod demand;
mod effect;
mod often;
mod reviewing;
mod seeing;
mod select;
mod setting;
mod worth;

pub(crate) use asks::Asks;
pub(crate) use compose::{composable, worth_having};
pub(crate) use demand::{Pair, Wait};
pub(crate) use effect::of_exercise;
pub(crate) use often::Weight;
pub(crate) use reviewing::{
    BestMade, Counted, EstimateMade, FaultCounted, Reviewed, Row, RowFault, Share, bests, review,
};
pub(crate) use seeing::{Conclusion, FaultSeen, LookSeen, Speaks, Verdict, conclude};
pub(crate) use select::Placed;
pub(crate) use setting::Setting;
pub(crate) use worth::{scaled, table_value};
