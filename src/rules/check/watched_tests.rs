//! Tests of watched attempts: attempts that can be read, and expectations that could fail.

use crate::base::Code;
use crate::rules::expect_watched::MadeOfFault;
use crate::rules::watched_read::check_watched;

use super::Checks;

/// Checks all of them.
pub(super) fn check(checks: &mut Checks<'_, '_>) {
    let pack = checks.pack;
    for (id, test) in &pack.watched_tests {
        checks.is_only_test(id);
        let mut wrong = Vec::new();
        check_watched(&test.watched, pack, &id.place, &mut wrong);
        checks.out.append(&mut wrong);
        checks.expects_something(
            &id.place,
            test.expect.first().is_some(),
            "write what must be made of it under `expect`, such as `fault`",
        );
        for (id, held) in &test.expect.fault {
            let has_more = held.grade.is_some() || held.from_percent.is_some();
            if held.is == MadeOfFault::NotSeen && has_more {
                checks.problem(
                    Code::Contradiction,
                    id.place.clone(),
                    "what is not seen has no grade and no load from which on",
                    "take `grade` and `from-percent` out",
                );
            }
            checks.maybe(held.from_percent.as_ref(), "from-percent", 1, 120);
        }
    }
}
