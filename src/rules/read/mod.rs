//! Reading rule files: texts become located trees, and trees become items, with every problem
//! reported together with its place.

mod beyond;
mod builder;
mod de;
#[cfg(feature = "files")]
mod folder;
#[cfg(feature = "builtin")]
mod form;
#[cfg(all(test, feature = "builtin"))]
mod form_of;
mod item;
mod limits;
mod marked;
mod parts;
mod problem;
mod rest;
mod scalar;
mod second;
mod seen;
mod stand_in;
#[cfg(test)]
mod tests;
mod tree;

pub use beyond::{Beyond, settle};
#[cfg(feature = "files")]
pub use folder::read_folder;
#[cfg(feature = "builtin")]
pub(crate) use form::{Form, Stream};
#[cfg(all(test, feature = "builtin"))]
pub(crate) use form_of::form_of;
pub use item::{Fit, Reached, fit, read_as_far, read_item, read_key};
pub use limits::{Limits, Lost, check_texts, not_utf8};
pub use scalar::id_meant;
#[cfg(test)]
pub use tree::Style;
#[cfg(feature = "builtin")]
pub use tree::parse_known;
pub use tree::{Key, Kind, Node, Standing, parse};
