//! Further looks: what attempts, measured values and the coach's own word say of each.

use std::collections::BTreeMap;

use crate::base::ObservationId;
use crate::rules::pack::Pack;
use crate::rules::vocab::{Sign, is_of};
use crate::rules::watched::Watched;

use super::{FaultSeen, Least, Shown, shown};

/// What is known of a further look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct LookSeen {
    /// Whether it is true; none where too little was seen of it.
    pub(crate) is_true: Option<bool>,
    /// In how many attempts it was true, of those in which it was looked at; none where it was said or measured as a whole.
    pub(crate) times: Option<(u16, u16)>,
}

/// All that something is known of: what was said of the whole first, then what was measured, then what attempts show.
pub(super) fn all(
    pack: &Pack,
    watched: &Watched,
    least: &Least,
    faults: &[FaultSeen],
) -> BTreeMap<ObservationId, LookSeen> {
    let mut all = BTreeMap::new();
    for (id, observation) in &pack.observations {
        let said = watched.looks.get(&id.value).copied();
        let measured = observation.is_measured_true(&watched.measured);
        let held = match said.or(measured) {
            Some(is_true) => Some(LookSeen {
                is_true: Some(is_true),
                times: None,
            }),
            None => in_attempts(pack, watched, least, faults, &id.value),
        };
        if let Some(held) = held {
            all.insert(id.value.clone(), held);
        }
    }
    all
}

/// What attempts show of a look; none where none says anything of it.
fn in_attempts(
    pack: &Pack,
    watched: &Watched,
    least: &Least,
    faults: &[FaultSeen],
    look: &ObservationId,
) -> Option<LookSeen> {
    let of_it = |sign: &&Sign| {
        let is_it = sign.look.as_ref().is_some_and(|of| of.value == *look);
        is_it && is_of(&sign.skills, &watched.skill)
    };
    let signs: Vec<&Sign> = pack.signs.values().filter(of_it).collect();
    let (mut seen, mut of) = (0u16, 0u16);
    // Faults of which the look bears on a share.
    let bears = |seen: &&FaultSeen| {
        let fault = pack.faults.get(&seen.fault);
        let mut shares = fault.into_iter().flat_map(|fault| fault.causes.values());
        shares.any(|share| {
            let mut looks = share.raised_by.keys().chain(&share.ruled_out_by);
            looks.any(|held| held.value == *look)
        })
    };
    let of_look: Vec<&FaultSeen> = faults.iter().filter(bears).collect();
    for (at, attempt) in watched.attempts.iter().enumerate() {
        let mut shown_in = of_look.iter().map(|seen| seen.by_attempt.get(at).copied());
        let faulty = shown_in.any(|shown| shown == Some(Some(true)));
        let asked = signs.iter().filter(|sign| faulty || sign.sound_ones_too);
        let all: Vec<Shown> = asked.map(|sign| shown(sign, attempt)).collect();
        if all.iter().any(|shown| matches!(shown, Shown::Yes { .. })) {
            (seen, of) = (seen + attempt.times, of + attempt.times);
        } else if !all.is_empty() && all.iter().all(|shown| *shown == Shown::No) {
            of += attempt.times;
        }
    }
    let asked = signs
        .iter()
        .filter_map(|sign| sign.in_percent_at_least.as_ref());
    let percent = asked
        .map(|asked| asked.value)
        .max()
        .unwrap_or(least.look_percent);
    let reached = u32::from(seen) * 100 >= u32::from(percent) * u32::from(of);
    let is_true = if of < least.look_seen {
        None
    } else if reached && seen >= least.look_seen {
        Some(true)
    } else if reached {
        None
    } else {
        Some(false)
    };
    (of > 0).then_some(LookSeen {
        is_true,
        times: Some((seen, of)),
    })
}
