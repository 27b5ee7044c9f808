//! Ids that stand twice because one file is a copy of another: told once for the two files.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::base::{Code, Diagnostic};

/// So many ids that two files share are told each by itself.
const FEW: usize = 3;

/// Puts one problem in place of many that say of two files that an id of one stands in the other.
pub(crate) fn tell_copies(out: &mut Vec<Diagnostic>) {
    let files = |problem: &Diagnostic| match problem.also.as_slice() {
        [(first, _)] if problem.code == Code::DuplicateId && first.file != problem.place.file => {
            Some((Arc::clone(&problem.place.file), Arc::clone(&first.file)))
        }
        _ => None,
    };
    let mut shared: BTreeMap<(Arc<str>, Arc<str>), usize> = BTreeMap::new();
    for both in out.iter().filter_map(files) {
        *shared.entry(both).or_default() += 1;
    }
    shared.retain(|_, ids| *ids > FEW);
    out.sort();
    out.retain_mut(|problem| {
        let Some(both) = files(problem) else {
            return true;
        };
        match shared.get_mut(&both) {
            None => true,
            // Told by the first of them.
            Some(0) => false,
            Some(ids) => {
                let rest = *ids - 1;
                *ids = 0;
                problem.what = format!("{}, and so are {rest} more of `{}`", problem.what, both.1);
                problem.help = String::from(
                    "if one of the two files is a copy of the other, take it out of the folder; \
                     else give the things in it other ids",
                );
                true
            }
        }
    });
}
