//! Causes behind the faults that are concluded, what speaks for and against each, and the look that would tell two apart.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use crate::base::{CauseId, FaultId, ObservationId};
use crate::infer::demand::{DEMAND_CAP, percent_of};
use crate::infer::often::weight;
use crate::rules::pack::Pack;
use crate::rules::vocab::Share;

use super::{FaultSeen, LookSeen, Verdict};

/// Something that speaks for a cause or against it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Speaks {
    /// A fault has it behind it, so many percent of it by itself.
    Fault(FaultId, u8),
    /// A look that is true raises its share of a fault by so many percent points.
    Raises(FaultId, ObservationId, u8),
    /// A look that is true rules it out behind a fault.
    RulesOut(FaultId, ObservationId),
    /// A look that would raise it is not true.
    NotSeen(FaultId, ObservationId, u8),
}

impl Speaks {
    /// Whether it speaks for the cause.
    pub(crate) const fn is_for(&self) -> bool {
        matches!(self, Self::Fault(..) | Self::Raises(..))
    }
}

/// A cause behind the faults that are concluded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct CauseSeen {
    pub(crate) cause: CauseId,
    /// As demand is worked out, 0 to 300; how often a fault was seen counts by the rules that ask nothing of a case.
    pub(crate) demand: i64,
    pub(crate) speaks: Vec<Speaks>,
}

/// The look that would tell two causes apart best.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Further {
    pub(crate) look: ObservationId,
    pub(crate) one: CauseId,
    pub(crate) other: CauseId,
    /// What both come to if the look turns out to be true.
    pub(crate) if_true: (i64, i64),
}

/// A fault with what was found of it.
struct Ground<'a> {
    id: &'a FaultId,
    causes: Vec<(&'a CauseId, &'a Share)>,
    severity: i64,
    /// Percent that it counts by how often it was seen.
    weight: i64,
    /// Looks that its onset makes true of it alone.
    also: BTreeSet<&'a ObservationId>,
}

struct Reckoning<'a> {
    grounds: Vec<Ground<'a>>,
    looks: &'a BTreeMap<ObservationId, LookSeen>,
}

impl Reckoning<'_> {
    fn known(&self, look: &ObservationId) -> Option<bool> {
        self.looks.get(look).and_then(|held| held.is_true)
    }

    /// What speaks for a cause, with one more look true.
    fn demand(&self, cause: &CauseId, more: Option<&ObservationId>) -> i64 {
        let of = |ground: &Ground<'_>| {
            let is_true = |look: &ObservationId| {
                more == Some(look) || ground.also.contains(look) || self.known(look) == Some(true)
            };
            let share = ground.causes.iter().find(|(id, _)| *id == cause);
            share.map_or(0, |(_, share)| {
                percent_of(share, is_true) * ground.severity * ground.weight / 100
            })
        };
        self.grounds.iter().map(of).sum::<i64>().min(DEMAND_CAP)
    }

    fn speaks(&self, cause: &CauseId) -> Vec<Speaks> {
        let mut all = Vec::new();
        for ground in &self.grounds {
            let Some((_, share)) = ground.causes.iter().find(|(id, _)| *id == cause) else {
                continue;
            };
            let fault = || ground.id.clone();
            let known = |look: &ObservationId| {
                if ground.also.contains(look) {
                    Some(true)
                } else {
                    self.known(look)
                }
            };
            all.push(Speaks::Fault(fault(), share.percent.value));
            for (look, points) in &share.raised_by {
                let look_id = look.value.clone();
                match known(&look.value) {
                    Some(true) => all.push(Speaks::Raises(fault(), look_id, points.value)),
                    Some(false) => all.push(Speaks::NotSeen(fault(), look_id, points.value)),
                    None => {}
                }
            }
            for look in &share.ruled_out_by {
                if known(&look.value) == Some(true) {
                    all.push(Speaks::RulesOut(fault(), look.value.clone()));
                }
            }
        }
        all
    }

    /// Looks of which nothing is known yet and that bear on one of two causes.
    fn open(&self, one: &CauseId, other: &CauseId) -> BTreeSet<ObservationId> {
        let mut all = BTreeSet::new();
        for ground in &self.grounds {
            let shares = ground.causes.iter();
            let shares = shares.filter(|(id, _)| *id == one || *id == other);
            for (_, share) in shares {
                let looks = share.raised_by.keys().chain(&share.ruled_out_by);
                let open = looks.filter(|look| {
                    self.known(&look.value).is_none() && !ground.also.contains(&look.value)
                });
                all.extend(open.map(|look| look.value.clone()));
            }
        }
        all
    }
}

/// Causes by what speaks for them, and the look that tells two of them apart.
pub(super) fn behind(
    pack: &Pack,
    faults: &[FaultSeen],
    looks: &BTreeMap<ObservationId, LookSeen>,
) -> (Vec<CauseSeen>, Option<Further>) {
    let ground = |seen: &'_ FaultSeen| {
        let (id, fault) = pack.faults.get_key_value(&seen.fault)?;
        let also = seen.from_percent.map(|percent| fault.true_from(percent));
        // What a case would say is not known here.
        let how_often = pack.rules.how_often.iter();
        let speaking = how_often.filter(|(_, rule)| rule.when.is_none());
        Some(Ground {
            id: &id.value,
            causes: fault
                .causes
                .iter()
                .map(|(id, share)| (&id.value, share))
                .collect(),
            severity: i64::from(seen.severity),
            weight: weight(
                speaking.map(|(id, rule)| (id, rule)),
                &seen.fault,
                (seen.seen, seen.of),
            )
            .percent,
            also: also.into_iter().flatten().collect(),
        })
    };
    let concluded = faults
        .iter()
        .filter(|seen| seen.verdict == Verdict::Concluded);
    let reckoning = Reckoning {
        grounds: concluded.filter_map(ground).collect(),
        looks,
    };
    let ids: BTreeSet<&CauseId> = reckoning
        .grounds
        .iter()
        .flat_map(|ground| ground.causes.iter().map(|(id, _)| *id))
        .collect();
    let mut causes: Vec<CauseSeen> = ids
        .into_iter()
        .map(|id| CauseSeen {
            cause: id.clone(),
            demand: reckoning.demand(id, None),
            speaks: reckoning.speaks(id),
        })
        .collect();
    causes.sort_by_key(|held| (Reverse(held.demand), held.cause.clone()));
    let further = further(pack, &reckoning, &causes);
    (causes, further)
}

/// The look that tells the likeliest cause from another best: one that would turn their order, of the likeliest other cause
/// that any look turns; where none does, the one that moves the first two furthest apart. What must be measured comes last.
fn further(pack: &Pack, reckoning: &Reckoning<'_>, causes: &[CauseSeen]) -> Option<Further> {
    let mut likely = causes.iter().filter(|held| held.demand > 0);
    let one = likely.next()?;
    let others: Vec<&CauseSeen> = likely.collect();
    let best = |other: &CauseSeen, must_turn: bool| {
        let looks = reckoning.open(&one.cause, &other.cause).into_iter();
        let ranked = looks.map(|look| {
            let if_true = (
                reckoning.demand(&one.cause, Some(&look)),
                reckoning.demand(&other.cause, Some(&look)),
            );
            let moved = (if_true.0 - if_true.1) - (one.demand - other.demand);
            let named = tells_apart(pack, &one.cause, &other.cause, &look);
            let by_eye = pack
                .observations
                .get(&look)
                .is_some_and(|held| held.measured.is_none());
            (by_eye, named, moved.abs(), Reverse(look), if_true)
        });
        let telling = ranked.filter(|(_, _, moved, _, if_true)| {
            *moved > 0 && (!must_turn || if_true.0 < if_true.1)
        });
        let (_, _, _, Reverse(look), if_true) = telling.max()?;
        Some(Further {
            look,
            one: one.cause.clone(),
            other: other.cause.clone(),
            if_true,
        })
    };
    let turning = others.iter().find_map(|other| best(other, true));
    turning.or_else(|| best(others.first()?, false))
}

/// Whether one of two causes that oppose each other names a look that tells them apart.
fn tells_apart(pack: &Pack, one: &CauseId, other: &CauseId, look: &ObservationId) -> bool {
    let names = |a: &CauseId, b: &CauseId| {
        pack.movement_causes.get(a).is_some_and(|cause| {
            cause.opposes.iter().any(|id| id.value == *b)
                && cause
                    .told_apart_by
                    .as_ref()
                    .is_some_and(|id| id.value == *look)
        })
    };
    names(one, other) || names(other, one)
}
