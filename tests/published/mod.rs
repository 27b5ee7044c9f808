//! The built-in method against what is published: figures that stand in print, looked for in weeks that came out.
//!
//! Beside each figure stands where it is printed and how that was read: (A) abstract or opening
//! page, (S) a secondary copy only, (M) from memory, (C) worked out from figures that were read.
//! None of these figures is taken from the rule files.

mod loads;
mod path;
mod pieces;
mod probe;
mod session;
mod volume;
mod whole_lift;
