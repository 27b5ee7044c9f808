//! For tests: what the search makes of a week that it did not choose.

use crate::base::Cancel;
use crate::graph::Bits;
use crate::infer::Setting;
use crate::plan::model::Model;
use crate::plan::{Pool, Week};

pub(crate) use super::pools::Reductions;
use super::rows::{RowValues, reach};
use super::session::{DaySearch, Fixed, Session, Wanted};
use super::stage::{POINT, Part, Scale, Stage};
use super::whole::whole;
use super::{Outcome, search_leaving_out};

/// A week as the search weighs it, nothing held and nothing minimised.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Weighed {
    pub(crate) misses: [i64; 3],
    pub(crate) worth: i64,
    pub(crate) tie: i64,
}

/// The search with only some of what it leaves out.
pub(crate) fn leaving_out(
    setting: &Setting<'_>,
    week: &Week<'_>,
    pool: &Pool,
    work: u64,
    reductions: Reductions,
) -> Outcome {
    search_leaving_out(setting, week, pool, (work, &Cancel::new()), reductions)
        .unwrap_or(Outcome::NotFound { nodes: 0 })
}

/// A model ready to weigh weeks.
pub(crate) struct Probe<'m> {
    model: &'m Model,
    stage: Stage,
    ends: Vec<(i64, i64)>,
    rows: Vec<RowValues>,
    days: Vec<DaySearch<'m>>,
}

/// The sessions that one day's set of items can be, one for each outcome of its orders.
pub(crate) struct Sessions(Vec<Session>);

impl Sessions {
    /// How many there are; none where the day's hard rules keep the set from being a session.
    pub(crate) fn len(&self) -> usize {
        self.0.len()
    }

    /// The items of one in the order in which they stand.
    pub(crate) fn items(&self, at: usize) -> &[usize] {
        self.0.get(at).map_or(&[], |session| &session.items)
    }
}

impl<'m> Probe<'m> {
    pub(crate) fn of(model: &'m Model) -> Self {
        let stage = Stage {
            levels: [Part::Free; 3],
            scale: Scale::of(0),
        };
        let ends = reach(model);
        let rows = model
            .rows
            .iter()
            .zip(&ends)
            .map(|(row, (low, high))| RowValues::of(row, &stage, *low, *high))
            .collect();
        let days = model
            .days
            .iter()
            .enumerate()
            .map(|(day, held)| DaySearch::new(model, day, held, stage))
            .collect();
        Self {
            model,
            stage,
            ends,
            rows,
            days,
        }
    }

    /// What the walk over a day's sessions makes of a set that it is told to take, and nothing else.
    pub(crate) fn sessions(&self, day: usize, set: &[usize]) -> Sessions {
        let none = Sessions(Vec::new());
        let (Some(search), Some(held)) = (self.days.get(day), self.model.days.get(day)) else {
            return none;
        };
        // A walk is only told to take what an earlier one took: candidates that keep the hard
        // bounds of single items, and no more of them than a part holds.
        let crowded = held.slots.iter().any(|slot| {
            let in_slot = set.iter().filter(|at| slot.candidates.contains(at));
            in_slot.count() > slot.at_most
        });
        let out = held
            .sums
            .iter()
            .filter(|sums| sums.level.is_none())
            .any(|sums| {
                set.iter()
                    .any(|at| sums.extra.get(*at).is_some_and(|n| *n > 0))
            });
        if crowded || out {
            return none;
        }
        let fixed = Fixed {
            has: set.to_vec(),
            lacks: (0..held.candidates.len())
                .filter(|at| !set.contains(at))
                .collect::<Bits>(),
        };
        let wanted = Wanted {
            least: i64::MIN / 8,
            dearer: &[],
            best_only: false,
            near: 0,
            work: 1_000_000,
            most: 1_000_000,
            cancel: &Cancel::new(),
        };
        let nothing = vec![0; self.model.rows.len()];
        let found = search.walk(&nothing, &mut Vec::new(), &fixed, wanted);
        Sessions(found.sessions.into_iter().map(|(_, held)| held).collect())
    }

    /// What a week comes to, one session a day; none where a hard rule is broken.
    pub(crate) fn weigh(&self, days: &[Sessions], chosen: &[usize]) -> Option<Weighed> {
        let sessions: Vec<Option<&Session>> = days
            .iter()
            .zip(chosen)
            .map(|(sessions, at)| sessions.0.get(*at))
            .collect();
        let found = whole(
            self.model,
            &self.stage,
            self.model.rows.len(),
            &self.rows,
            &self.ends,
            &sessions,
        )?;
        let items = found.sessions.iter().zip(&self.model.days);
        let tie: i64 = items
            .flat_map(|(session, day)| {
                let held = session.items.iter();
                held.filter_map(|at| day.candidates.get(*at))
            })
            .map(|candidate| candidate.tie)
            .sum();
        Some(Weighed {
            misses: found.misses,
            worth: (found.score + tie).div_euclid(POINT),
            tie,
        })
    }
}
