//! `exclude`: units missed by placing a candidate; hard ones are no candidates at all.

use crate::rules::kinds::Exclude;

use super::build::Builder;

pub(super) fn add(builder: &mut Builder<'_, '_>, rule: &Exclude) {
    let Some(level) = rule.yields.level() else {
        return;
    };
    let what = builder.matching_on(&rule.what, &rule.on);
    for (held, what) in builder.model.days.iter_mut().zip(&what) {
        for at in what.iter() {
            if let Some(slot) = held
                .candidates
                .get_mut(at)
                .and_then(|held| held.misses.get_mut(level))
            {
                *slot += 1;
            }
        }
    }
}
