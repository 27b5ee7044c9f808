//! The rule language: vocabulary, rule kinds, reading and checking.

mod by_kind;
pub(crate) mod case;
pub(crate) mod case_check;
mod case_days;
mod case_fields;
mod case_file;
mod case_gym;
pub(crate) mod case_names;
mod case_otherwise;
mod case_read;
mod case_seen;
mod case_sure;
pub(crate) mod check;
pub(crate) mod expect;
pub(crate) mod expect_track;
pub(crate) mod expect_watched;
#[cfg(feature = "builtin")]
pub(crate) mod formed;
mod inside;
pub(crate) mod kinds;
pub(crate) mod line;
pub(crate) mod load;
pub(crate) mod log;
mod log_csv;
pub(crate) mod log_read;
pub(crate) mod pack;
mod parsed;
pub(crate) mod read;
mod shape;
mod sole;
pub(crate) mod vocab;
pub(crate) mod watched;
pub(crate) mod watched_read;
pub(crate) mod week_file;

#[cfg(test)]
#[path = "../../tests/load/mod.rs"]
#[allow(clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]
mod load_tests;
