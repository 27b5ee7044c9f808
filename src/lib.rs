//! Rule-based exercise selection for weightlifting: from a stated fault to a training week.
//!
//! Rule files describe exercises by the constraints they impose and the rules of a method. A
//! [`KnowledgeBase`] reads them, [`KnowledgeBase::solve`] answers a case with the best week under
//! those rules, and [`report`] lays it out. Every week is held against the rules again, in exact
//! integers, by code that shares nothing with the search.
//!
//! Features: `builtin` (default) compiles the built-in method in; `files` reads folders; `render`
//! lays problems out with their source lines; `schema` gives JSON Schemas.
//!
//! Training can hurt people: what is answered is a proposal for a qualified coach.
pub mod base;
#[cfg(feature = "builtin")]
mod builtin;
pub mod explain;
pub(crate) mod graph;
pub(crate) mod infer;
pub mod knowledge;
pub(crate) mod plan;
pub mod report;
pub(crate) mod rules;
pub(crate) mod track;

pub use base::Cancel;
pub use explain::{Answer, Plan};
pub use knowledge::{
    Aim, Case, CaseBuilder, Error, ErrorKind, KnowledgeBase, OpenModel, Track, TrackSetup,
    TrainingLog, Watched, Work, WrittenWeek,
};

/// What README shows in Rust is compiled and run with the documentation tests.
#[cfg(all(doctest, feature = "builtin"))]
#[doc = include_str!("../README.md")]
struct Readme;
