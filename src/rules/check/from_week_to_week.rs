//! Rules that look at the week before, and those that move loads from week to week.

use crate::base::{At, Code, RuleId};
use crate::rules::kinds::CountedIn;
use crate::rules::vocab::Yields;

use super::Checks;
use super::sections::Sort;

/// Checks all of them.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let rules = &checks.pack.rules;
    for (id, rule) in &rules.kept {
        checks.at(&rule.weeks, "weeks", 2, 12);
        gives_way(checks, "kept", id, rule.yields);
    }
    for (id, rule) in &rules.shift {
        let (up, down) = (&rule.up_at_most, &rule.down_at_most);
        checks.one_of(
            "shift",
            id,
            up.is_some() || down.is_some(),
            "`up-at-most` or `down-at-most`",
        );
        checks.maybe(up.as_ref(), "up-at-most", 0, 100);
        checks.maybe(down.as_ref(), "down-at-most", 0, 100);
        checks.unit(rule.unit.as_ref());
        gives_way(checks, "shift", id, rule.yields);
        if rule.counted_in == CountedIn::Days {
            checks.problem(
                Code::Contradiction,
                checks.key_place(Sort::Rule("shift"), id.as_str(), "counted-in"),
                "the week before does not tell on how many days something stood",
                "count in `items`, `sets` or `reps`",
            );
        }
    }
    for (_, rule) in &rules.load_step {
        checks.at(&rule.points, "points", -30, 30);
        if rule.points.value == 0 {
            checks.problem(
                Code::OutOfRange,
                rule.points.place.clone(),
                "a load step of 0 changes nothing",
                "write points above or below 0, or take the rule out",
            );
        }
    }
}

/// What looks at the week before must give way: then no week makes the one after it impossible.
fn gives_way(checks: &mut Checks<'_, '_>, kind: &'static str, id: &At<RuleId>, yields: Yields) {
    if yields == Yields::Never {
        checks.problem(
            Code::Contradiction,
            checks.key_place(Sort::Rule(kind), id.as_str(), "yields"),
            format!(
                "a `{kind}` rule that never gives way could leave the week after without any week"
            ),
            "write `yields: last`, `middle` or `first`",
        );
    }
}
