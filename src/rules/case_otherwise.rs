//! A case with some of it said otherwise.

use indexmap::IndexMap;

use super::case::{CaseText, Gym};

impl CaseText {
    /// This case with what `other` says in place of what it says: lists and days whole, maps key by key.
    pub(super) fn said_otherwise(&self, other: &Self) -> Self {
        fn one<T: Clone>(mine: &Option<T>, other: &Option<T>) -> Option<T> {
            other.as_ref().or(mine.as_ref()).cloned()
        }
        fn list<T: Clone>(mine: &[T], other: &[T]) -> Vec<T> {
            if other.is_empty() { mine } else { other }.to_vec()
        }
        fn map<K: Clone + Eq + std::hash::Hash, V: Clone>(
            mine: &IndexMap<K, V>,
            other: &IndexMap<K, V>,
        ) -> IndexMap<K, V> {
            let mut all = mine.clone();
            all.extend(
                other
                    .iter()
                    .map(|(key, value)| (key.clone(), value.clone())),
            );
            all
        }
        // Every field by name: a new one must say here how it is replaced.
        let Self {
            lifter,
            today,
            phase,
            layout,
            faults,
            observed,
            measured,
            ruled_out,
            sure_of,
            bests,
            gym,
            new,
            disliked,
            tried,
            did_last_week,
            week_before,
            training_days,
            fields,
            by_skill,
        } = self;
        let mut skills = by_skill.clone();
        for (skill, said) in &other.by_skill {
            let held = skills.entry(skill.clone()).or_default();
            *held = map(held, said);
        }
        Self {
            lifter: one(lifter, &other.lifter),
            today: one(today, &other.today),
            phase: one(phase, &other.phase),
            layout: one(layout, &other.layout),
            faults: list(faults, &other.faults),
            observed: list(observed, &other.observed),
            measured: map(measured, &other.measured),
            ruled_out: list(ruled_out, &other.ruled_out),
            sure_of: list(sure_of, &other.sure_of),
            bests: map(bests, &other.bests),
            gym: Gym {
                bar: one(&gym.bar, &other.gym.bar),
                other_bars: list(&gym.other_bars, &other.gym.other_bars),
                collars: other.gym.collars.or(gym.collars),
                pairs: list(&gym.pairs, &other.gym.pairs),
            },
            new: list(new, &other.new),
            disliked: list(disliked, &other.disliked),
            tried: list(tried, &other.tried),
            did_last_week: list(did_last_week, &other.did_last_week),
            week_before: list(week_before, &other.week_before),
            // The days of a week belong together, so they are said otherwise as a whole.
            training_days: if other.training_days.is_empty() {
                training_days
            } else {
                &other.training_days
            }
            .clone(),
            fields: map(fields, &other.fields),
            by_skill: skills,
        }
    }
}
