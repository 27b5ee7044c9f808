//! The weeks of a training block, laid out.

use crate::base::{CaseFieldId, PhaseId, ValueId};
use crate::rules::pack::Pack;
use crate::rules::vocab::{Span, TrainingBlock};

/// What a week of a block says beside the case.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Laid {
    pub(crate) phase: PhaseId,
    pub(crate) says: Option<(CaseFieldId, ValueId)>,
}

/// How many weeks each stretch has: the least that it may have, and then one after the other to that which lacks most of
/// its share, the earlier of equals.
fn lengths(pack: &Pack, block: &TrainingBlock, weeks: u16) -> Vec<u16> {
    let spans: Vec<Span> = block
        .stretches
        .iter()
        .map(|held| pack.weeks_of(held).unwrap_or(Span { from: 1, to: 1 }))
        .collect();
    let mut given: Vec<u16> = spans.iter().map(|span| span.from).collect();
    let wanted = |at: usize| {
        let percent = block
            .stretches
            .get(at)
            .map_or(0, |held| i64::from(held.percent.value));
        percent * i64::from(weeks)
    };
    while given.iter().sum::<u16>() < weeks {
        let open = given.iter().zip(&spans).enumerate();
        let open = open.filter(|(_, (given, span))| *given < &span.to);
        let most = open.max_by_key(|(at, (given, _))| {
            (
                wanted(*at) - 100 * i64::from(**given),
                std::cmp::Reverse(*at),
            )
        });
        let Some((at, _)) = most else { break };
        if let Some(held) = given.get_mut(at) {
            *held += 1;
        }
    }
    given
}

/// The weeks of a block that has so many.
pub(crate) fn laid(pack: &Pack, block: &TrainingBlock, weeks: u16) -> Vec<Laid> {
    let stretches = block.stretches.iter().zip(lengths(pack, block, weeks));
    let of_stretch = stretches.flat_map(|(stretch, length)| {
        (0..length).map(move |week| {
            let says = stretch.wave.as_ref().and_then(|wave| {
                let values = u16::try_from(wave.weeks.len())
                    .ok()
                    .filter(|len| *len > 0)?;
                // Whole waves up to the stretch's last week; what is left before them is as their first week.
                let at = week
                    .checked_sub(length % values)
                    .map_or(0, |week| week % values);
                let value = &wave.weeks.get(usize::from(at))?.is;
                Some((wave.field.value.clone(), value.value.clone()))
            });
            Laid {
                phase: stretch.phase.value.clone(),
                says,
            }
        })
    });
    of_stretch.collect()
}
