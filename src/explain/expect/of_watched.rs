//! Holds what a test of watched attempts expects against what is made of them.

use crate::base::{At, RuleTestId};
use crate::explain::findings::Findings;
use crate::rules::expect_watched::{BehindIs, FaultIs, MadeOfFault, WatchedTest};

use super::{Instead, Tally, TestResult};

/// What came of a test of watched attempts.
pub(crate) fn hold_watched(
    id: &At<RuleTestId>,
    test: &WatchedTest,
    found: &Findings,
) -> TestResult {
    let mut tally = Tally::default();
    let expect = &test.expect;
    for (id, wanted) in &expect.fault {
        tally.take("fault", id, None, fault(wanted, found));
    }
    for (id, wanted) in &expect.behind {
        tally.take("behind", id, None, behind(wanted, found));
    }
    for (id, wanted) in &expect.looked {
        let mut all = found.looks.iter();
        let of_it = all.find(|held| held.look.id == wanted.look.value);
        let is = of_it.and_then(|held| held.is_true);
        let holds = is == Some(wanted.is);
        tally.take("looked", id, None, (!holds).then_some(Instead::IsTrue(is)));
    }
    for (id, wanted) in &expect.further {
        let look = found.further.as_ref().map(|further| &further.look.id);
        let holds = look == Some(&wanted.look.value);
        let instead = || Instead::Further(look.cloned());
        tally.take("further", id, None, (!holds).then(instead));
    }
    tally.done(id, &test.because, Vec::new())
}

fn fault(wanted: &FaultIs, found: &Findings) -> Option<Instead> {
    let mut all = found.faults.iter();
    let Some(held) = all.find(|held| held.fault.id == wanted.fault.value) else {
        let holds = wanted.is == MadeOfFault::NotSeen;
        return (!holds).then_some(Instead::Fault(None));
    };
    let grade = wanted.grade.as_ref();
    let from = wanted.from_percent.as_ref();
    let holds = held.verdict.as_str() == wanted.is.as_str()
        && grade.is_none_or(|grade| grade.value == held.grade)
        && from.is_none_or(|from| Some(from.value) == held.from_percent);
    (!holds).then(|| {
        let made = held.verdict.as_str();
        Instead::Fault(Some((made, held.grade.clone(), held.from_percent)))
    })
}

fn behind(wanted: &BehindIs, found: &Findings) -> Option<Instead> {
    let demand = |cause: &str| {
        let mut all = found.causes.iter();
        let held = all.find(|held| held.cause.id.as_str() == cause);
        held.map_or(0, |held| held.demand)
    };
    let its = demand(wanted.cause.as_str());
    let others = found.causes.iter().map(|held| held.cause.id.as_str());
    let others: Vec<&str> = if wanted.more_than.is_empty() {
        others
            .filter(|other| *other != wanted.cause.as_str())
            .collect()
    } else {
        wanted.more_than.iter().map(|id| id.as_str()).collect()
    };
    let holds = its > 0 && others.into_iter().all(|other| its > demand(other));
    (!holds).then(|| {
        let all = found.causes.iter();
        Instead::Behind(
            all.map(|held| (held.cause.id.clone(), held.demand))
                .collect(),
        )
    })
}
