//! Reading packs and cases: what is refused, where, and with what help.

mod any_edit;
mod api;
#[cfg(feature = "builtin")]
mod beforehand;
mod broken_exercises;
mod broken_files;
mod broken_rules;
mod broken_tests;
mod broken_values;
mod builtin;
mod by_kind;
mod cases;
mod hostile;
mod limits;
mod lost;
mod marked;
mod numbers;
mod several;
mod small;
mod words;
