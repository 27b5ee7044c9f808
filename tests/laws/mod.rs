//! Laws: what must hold between the answers to two packs or cases that differ in one thing.
//!
//! Weeks are compared by units missed, level by level, then worth. Aside are set rules that are
//! defined by what exists: `fullest` everywhere, and what a test names.

mod cases;
mod changes;
mod conflicts;
pub mod pack;
pub mod same;
mod threads;
mod two_bases;
