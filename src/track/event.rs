//! Events: moments of a path, each found by its rule from those that it names.

use std::collections::BTreeMap;

use crate::base::{At, SkillId, TrackEventId};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Channel, Find, TrackEvent, is_of};

use super::{Open, Path};

/// Events by id: the step at which each is, or why it was not found.
pub(super) type Found = BTreeMap<TrackEventId, Result<usize, Open>>;

/// All events of a skill.
pub(super) fn all(pack: &Pack, skill: &SkillId, path: &Path) -> Found {
    let mut found = Found::new();
    let of_skill = pack.track_events.iter();
    let of_skill: Vec<(&TrackEventId, &TrackEvent)> = of_skill
        .filter(|(_, event)| is_of(&event.skills, skill))
        .map(|(id, event)| (&id.value, event))
        .collect();
    // Events follow from one another in no circle, so that each round finds one at least.
    for _ in 0..of_skill.len() {
        for (id, event) in &of_skill {
            if !found.contains_key(*id) {
                let named = [&event.against, &event.after, &event.before];
                let ready = named.into_iter().flatten();
                if ready
                    .into_iter()
                    .all(|named| found.contains_key(&named.value))
                {
                    let at = one(event, path, &found);
                    found.insert((*id).clone(), at);
                }
            }
        }
    }
    found
}

/// The step of a named event.
pub(super) fn step(named: &At<TrackEventId>, found: &Found) -> Result<usize, Open> {
    match found.get(&named.value) {
        Some(Ok(step)) => Ok(*step),
        _ => Err(Open::Lacks(named.value.clone())),
    }
}

fn one(event: &TrackEvent, path: &Path, found: &Found) -> Result<usize, Open> {
    let maybe = |named: &Option<At<TrackEventId>>| {
        named.as_ref().map(|named| step(named, found)).transpose()
    };
    let from = maybe(&event.after)?.unwrap_or(0);
    let to = maybe(&event.before)?.unwrap_or(path.micros.len().saturating_sub(1));
    let zero_at = maybe(&event.against)?.unwrap_or(0);
    if from > to {
        return Err(Open::NoRoom);
    }
    let channel = event.channel.value;
    let than = event.than.as_ref().map_or(0, |than| than.value);
    let zero = if channel.is_speed() {
        0
    } else {
        path.at(channel, zero_at)
    };
    let bound = zero.saturating_add(than.saturating_mul(1000));
    let above = |step: &usize| path.at(channel, *step) > bound;
    let below = |step: &usize| path.at(channel, *step) < bound;
    let never_above = Open::NeverAbove(channel, than);
    let never_below = Open::NeverBelow(channel, than);
    match event.find.value {
        Find::FirstAbove => sought(from..=to, path, above, never_above),
        Find::FirstBelow => sought(from..=to, path, below, never_below),
        Find::LastAbove => sought((from..=to).rev(), path, above, never_above),
        Find::LastBelow => sought((from..=to).rev(), path, below, never_below),
        Find::Greatest => extreme(path, channel, (from, to), 1),
        Find::Least => extreme(path, channel, (from, to), -1),
    }
}

/// The first of some steps at which something holds. A gap on the way may hide one.
fn sought(
    steps: impl Iterator<Item = usize>,
    path: &Path,
    holds: impl Fn(&usize) -> bool,
    never: Open,
) -> Result<usize, Open> {
    for step in steps {
        clear(path, (step, step))?;
        if holds(&step) {
            return Ok(step);
        }
    }
    Err(never)
}

/// Whether no gap lies between two steps.
pub(super) fn clear(path: &Path, (from, to): (usize, usize)) -> Result<(), Open> {
    let here = path.in_gap.get(from..=to).unwrap_or_default();
    match here.iter().flatten().next() {
        Some((from, to)) => Err(Open::Gap(*from, *to)),
        None => Ok(()),
    }
}

/// The first step at which a channel, times a sign, is greatest.
pub(super) fn extreme(
    path: &Path,
    channel: Channel,
    (from, to): (usize, usize),
    sign: i64,
) -> Result<usize, Open> {
    clear(path, (from, to))?;
    let steps = (from..=to).map(|step| (path.at(channel, step) * sign, std::cmp::Reverse(step)));
    let found = steps.max().ok_or(Open::NoRoom)?;
    Ok(found.1.0)
}
