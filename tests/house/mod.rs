//! How the crate is built: what no compiler checks.

mod layers;
mod sizes;
mod source;
mod surface;
mod words;
