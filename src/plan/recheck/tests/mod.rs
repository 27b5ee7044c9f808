//! Truth tables: each rule kind alone, its units worked out by hand.

#![allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

mod days;
mod legal;
mod numbers;
mod order;
mod pack;
mod session;
mod sums;
mod worth;
