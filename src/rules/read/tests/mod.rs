//! Tests of reading texts and items.

#![allow(clippy::unwrap_used)]

mod any_input;
mod items;
mod texts;

use std::sync::Arc;

use super::{Limits, Node, parse};
use crate::base::Diagnostic;

fn file() -> Arc<str> {
    Arc::from("a.yaml")
}

/// The tree of a text that has nothing wrong with it.
fn tree(text: &str) -> Node {
    let mut out = Vec::new();
    let node = parse(text, &file(), &Limits::default(), &mut out);
    assert!(out.is_empty(), "{out:?}");
    node.unwrap()
}

/// Code, line and column of each diagnostic; every one must say what it is and what to do.
fn brief(found: &[Diagnostic]) -> Vec<(&'static str, u32, u32)> {
    for one in found {
        assert!(!one.what.is_empty() && !one.help.is_empty(), "{one:?}");
        assert_eq!(&*one.place.file, "a.yaml");
    }
    found
        .iter()
        .map(|d| (d.code.as_str(), d.place.line, d.place.column))
        .collect()
}
