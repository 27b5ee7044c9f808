//! Measures: what is taken between events, in whole units.

use crate::base::{At, TrackEventId, TrackMeasureId};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Channel, Take, TrackTake, TrackUnit};

use super::event::{Found, clear, extreme, step};
use super::number::nearest;
use super::{Open, Path, Told};

/// What a measure comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Value {
    /// In the measure's unit.
    pub(crate) value: i64,
    /// Somebody said it; it was not taken from the track.
    pub(crate) said: bool,
    /// The ground was taken from where the bar stood at the start, in mm; nobody said where it is.
    pub(crate) stood: Option<i64>,
}

/// All measures of a track, by id: those that its rules take of the skill, and those that were said.
pub(super) fn all(
    pack: &Pack,
    told: &Told,
    path: &Path,
    found: &Found,
) -> Vec<(TrackMeasureId, Result<Value, Open>)> {
    let mut all = Vec::new();
    for (id, measure) in &pack.track_measures {
        if let Some(value) = told.measured.get(&id.value) {
            let said = Value {
                value: *value,
                said: true,
                stood: None,
            };
            all.push((id.value.clone(), Ok(said)));
            continue;
        }
        let of_skill = |take: &&TrackTake| take.skills.iter().any(|of| of.value == told.skill);
        if let Some(take) = measure.of.iter().find(of_skill) {
            all.push((id.value.clone(), taken(take, told, path, found)));
        } else if measure.of.is_empty() && is_asked(pack, &id.value, told) {
            all.push((id.value.clone(), Err(Open::OnlySaid)));
        }
    }
    all
}

/// Whether a look at what was seen in the skill asks for a measure: then it is told that nobody said it.
fn is_asked(pack: &Pack, measure: &TrackMeasureId, told: &Told) -> bool {
    let by = |look: &crate::base::ObservationId| {
        let look = pack.observations.get(look);
        let by = look.and_then(|look| look.measured.as_ref());
        by.is_some_and(|by| by.by.value == *measure)
    };
    let of_skill = pack
        .faults
        .values()
        .filter(|fault| fault.skills.iter().any(|skill| skill.value == told.skill));
    let mut shares = of_skill.flat_map(|fault| fault.causes.values());
    shares.any(|share| {
        let mut looks = share.raised_by.keys().chain(&share.ruled_out_by);
        looks.any(|look| by(&look.value))
    })
}

fn taken(take: &TrackTake, told: &Told, path: &Path, found: &Found) -> Result<Value, Open> {
    let at = |named: &Option<At<TrackEventId>>| match named {
        Some(named) => step(named, found).map(Some),
        None => Ok(None),
    };
    let (from, to, against) = (at(&take.from)?, at(&take.to)?, at(&take.against)?);
    // The rules are checked: what a kind needs is there.
    let (first, last) = (from.unwrap_or(0), to.unwrap_or(0));
    let channel = take
        .channel
        .as_ref()
        .map_or(Channel::Vertical, |channel| channel.value);
    let zero = against.map_or(0, |step| path.at(channel, step));
    let within = |sign: i64| {
        if first > last {
            return Err(Open::NoRoom);
        }
        let step = extreme(path, channel, (first, last), sign)?;
        Ok(path.at(channel, step) - zero)
    };
    let mut stood = None;
    let raw = match take.take.value {
        Take::Change => path.at(channel, last) - path.at(channel, first),
        Take::Greatest => within(1)?,
        Take::Least => within(-1)?,
        Take::Time => path.time(last) - path.time(first),
        Take::Crossings => {
            if first > last {
                return Err(Open::NoRoom);
            }
            clear(path, (first, last))?;
            let band = take.band.as_ref().map_or(0, |band| band.value) * 1000;
            crossings(
                path.of(channel).get(first..=last).unwrap_or_default(),
                zero,
                band,
            )
        }
        Take::AboveGround => {
            let high = path.at(Channel::Vertical, last);
            match (path.ground, from, &take.stood) {
                (Some(ground), ..) => high - ground,
                (None, Some(from), Some(mm)) => {
                    stood = Some(mm.value);
                    high - path.at(Channel::Vertical, from) + mm.value * 1000
                }
                _ => return Err(Open::NoGround),
            }
        }
    };
    let raw = if take.turned { -raw } else { raw };
    let of = |by: i64| nearest(i128::from(raw), i128::from(by));
    let value = match take.unit.value {
        TrackUnit::Mm | TrackUnit::MmASecond | TrackUnit::Ms => of(1_000),
        TrackUnit::Cm | TrackUnit::CmASecond => of(10_000),
        TrackUnit::Times => raw,
        TrackUnit::PercentOfHeight => {
            let body = told.body_mm.ok_or(Open::NoBodyHeight)?;
            nearest(i128::from(raw) * 100, i128::from(body) * 1000)
        }
    };
    Ok(Value {
        value,
        said: false,
        stood,
    })
}

/// How often places go from beyond the band on one side of a line to beyond it on the other.
fn crossings(places: &[i64], line: i64, band: i64) -> i64 {
    let (mut side, mut count) = (0, 0);
    for place in places {
        let off = place - line;
        if off.abs() > band && off.signum() != side {
            count += i64::from(side != 0);
            side = off.signum();
        }
    }
    count
}

#[cfg(test)]
mod unit {
    use super::crossings;

    #[test]
    fn small_ways_over_the_line_are_none() {
        assert_eq!(
            crossings(&[0, -5, -20, -5, 5, 20, 3, -3, 20, -11], 0, 10),
            2
        );
        assert_eq!(crossings(&[0, 5, -5, 5], 0, 10), 0);
        assert_eq!(crossings(&[7, 8, 6], 7, 0), 1);
    }
}
