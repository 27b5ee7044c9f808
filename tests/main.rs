//! All tests that look at the crate from outside, as one binary.
#![allow(missing_docs)]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing
)]

mod audit;
mod block;
mod blocks_in_rules;
mod cancelled;
mod cli;
mod composed;
mod corpus;
mod coverage;
mod cycle;
mod every_rule;
mod flat;
mod house;
mod laws;
mod limited;
mod named_days;
mod names;
mod oracle;
mod platform;
mod published;
mod rest_of_week;
mod review;
mod rule_tests;
mod seeing;
mod spread;
mod tables;
mod tracks;
mod worked;
