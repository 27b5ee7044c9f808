//! Texts of rule files to trees, on as many threads as there are processors.

use std::num::NonZero;
use std::sync::Arc;
use std::thread::{self, Builder, ScopedJoinHandle};

use crate::base::Diagnostic;

use super::read::{Limits, Node};

/// What makes a tree of a text: with a second reader beside, or without.
pub(super) type Parse = fn(&str, &Arc<str>, &Limits, &mut Vec<Diagnostic>) -> Option<Node>;

/// A tree, where there is one, and its problems.
pub(super) type Parsed = (Option<Node>, Vec<Diagnostic>);

/// What is made of each text, in their order. Texts are parsed on as many threads as there are processors: that is half
/// of the work of reading a pack, and no text needs another.
pub(super) fn parse_all(
    parse: Parse,
    files: &[(Arc<str>, Arc<str>)],
    limits: &Limits,
) -> Vec<Parsed> {
    let one = |(name, text): &(Arc<str>, Arc<str>)| {
        let mut found = Vec::new();
        (parse(text, name, limits, &mut found), found)
    };
    let threads = if cfg!(target_family = "wasm") {
        1
    } else {
        thread::available_parallelism().map_or(1, NonZero::get)
    };
    if threads == 1 || files.len() < 2 {
        return files.iter().map(one).collect();
    }
    let threads = threads.min(files.len());
    // Every so-manieth text, so that long and short ones are shared out.
    let work = |first: usize| {
        let own = files.iter().enumerate().skip(first).step_by(threads);
        own.map(|(at, file)| (at, one(file))).collect::<Vec<_>>()
    };
    let mut all: Vec<(usize, Parsed)> = thread::scope(|scope| {
        let work = &work;
        let others: Vec<_> = (1..threads)
            .map(|first| {
                (
                    first,
                    Builder::new().spawn_scoped(scope, move || work(first)),
                )
            })
            .collect();
        let mut all = work(0);
        for (first, other) in others {
            match other.map(ScopedJoinHandle::join) {
                Ok(Ok(parsed)) => all.extend(parsed),
                Ok(Err(panic)) => std::panic::resume_unwind(panic),
                // There is no further thread to be had.
                Err(_) => all.extend(work(first)),
            }
        }
        all
    });
    all.sort_by_key(|(at, _)| *at);
    all.into_iter().map(|(_, parsed)| parsed).collect()
}
