//! Problems that belong together and are told as one.

use std::collections::BTreeMap;

use crate::base::{Code, Diagnostic};

/// So many places that name one thing that is not there are told each by itself.
const FEW: usize = 2;

/// Puts one problem in place of many that say of as many places that they name the same thing, which
/// is not there: then it is that thing that is lost or misspelt. The problems end up sorted, each once.
pub(crate) fn tell_together(out: &mut Vec<Diagnostic>) {
    out.sort();
    out.dedup();
    let mut places: BTreeMap<String, Vec<_>> = BTreeMap::new();
    for problem in out.iter().filter(|problem| names_nothing(problem)) {
        let all = places.entry(problem.what.clone()).or_default();
        all.push(problem.place.clone());
    }
    places.retain(|_, all| all.len() > FEW);
    if places.is_empty() {
        return;
    }
    out.retain_mut(|problem| {
        if !names_nothing(problem) {
            return true;
        }
        let Some(all) = places.get_mut(&problem.what) else {
            return true;
        };
        // Told by the first of them.
        if let [_, second, .., last] = all.as_slice() {
            problem.what = format!("{}, and {} places name it", problem.what, all.len());
            problem.also.push((second.clone(), "here again".into()));
            problem.also.push((last.clone(), "and here last".into()));
            all.clear();
            return true;
        }
        false
    });
}

fn names_nothing(problem: &Diagnostic) -> bool {
    problem.code == Code::DanglingId && !problem.place.is_unknown()
}
