//! x
pub mod base;
pub(crate) mod graph;
pub(crate) mod infer;
pub(crate) mod plan;
pub(crate) mod rules;
