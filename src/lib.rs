//! x
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

pub use explain::{Answer, Plan};
pub use knowledge::{Case, CaseBuilder, Error, ErrorKind, KnowledgeBase, Work};
