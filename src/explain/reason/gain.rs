//! What an item adds to the worth of a week: on causes, qualities and preferences.

use crate::base::{FactId, TrailError};
use crate::explain::claim::{Claim, Gain};
use crate::explain::glossary::rule_path;
use crate::explain::trace::Trace;
use crate::infer::table_value;
use crate::plan::Item;
use crate::plan::recheck::Verdict;
use crate::rules::kinds::Each;

use super::Held;

impl Held<'_> {
    /// What the week would lose most without an item, where it would lose anything.
    pub(super) fn gain(
        &self,
        trace: &mut Trace<'_>,
        item: &Item,
        without: &Verdict,
    ) -> Result<Option<FactId>, TrailError> {
        if without.worth >= self.verdict.worth {
            return Ok(None);
        }
        let mut all = self.cause_gains(trace, item);
        all.extend(self.quality_gains(item));
        all.extend(self.preference_gains(item));
        // Of equals the first: causes before qualities before preferences.
        let Some((worth, to, paths, from)) = all
            .into_iter()
            .rev()
            .max_by_key(|(worth, ..)| *worth)
            .filter(|g| g.0 > 0)
        else {
            return Ok(None);
        };
        trace
            .push(Claim::Gains { to, worth }, from, &paths)
            .map(Some)
    }

    fn cause_gains(
        &self,
        trace: &Trace<'_>,
        item: &Item,
    ) -> Vec<(i64, Gain, Vec<String>, Vec<FactId>)> {
        let (setting, graph) = (self.setting, self.setting.graph);
        let tables: Vec<_> = setting.speaking(&setting.rules().help_worth).collect();
        let mut all = Vec::new();
        for (at, pair) in setting.focus.iter().enumerate() {
            let (Some(skill), Some(cause)) =
                (graph.skills.get(pair.skill), graph.causes.get(pair.cause))
            else {
                continue;
            };
            let own = item.effect(setting, self.week, at);
            let sum: i64 = self
                .days
                .iter()
                .flatten()
                .map(|held| held.effect(setting, self.week, at))
                .sum();
            for (id, rule) in &tables {
                let Some(table) = setting.pack.tables.get(&rule.table.value) else {
                    continue;
                };
                let worth = pair.demand * (table_value(table, sum) - table_value(table, sum - own));
                let by = if pair.movement {
                    trace.by(item.exercise, pair)
                } else {
                    Vec::new()
                };
                let to = Gain::Cause {
                    skill: skill.clone(),
                    cause: cause.clone(),
                    by,
                    sure: pair.sure,
                };
                let from = trace.focus.get(at).copied().into_iter().collect();
                all.push((worth, to, vec![rule_path("help-worth", id.as_str())], from));
            }
        }
        all
    }

    fn quality_gains(&self, item: &Item) -> Vec<(i64, Gain, Vec<String>, Vec<FactId>)> {
        let setting = self.setting;
        let mut all = Vec::new();
        for (at, quality) in setting.graph.qualities.iter() {
            let own = item.trains(setting, self.week, at);
            if own == 0 {
                continue;
            }
            let sum: i64 = self
                .days
                .iter()
                .flatten()
                .map(|held| held.trains(setting, self.week, at))
                .sum();
            let (mut worth, mut paths) = (0, Vec::new());
            for (id, rule) in setting.speaking(&setting.rules().quality_worth) {
                let table = setting.pack.tables.get(&rule.table.value);
                let Some(table) =
                    table.filter(|_| rule.qualities.iter().any(|id| id.value == *quality))
                else {
                    continue;
                };
                let floor = if rule.above_floor {
                    setting.floor_of(quality)
                } else {
                    0
                };
                worth +=
                    100 * (table_value(table, sum - floor) - table_value(table, sum - own - floor));
                paths.push(rule_path("quality-worth", id.as_str()));
            }
            all.push((
                worth,
                Gain::Quality {
                    quality: quality.clone(),
                    points: own,
                },
                paths,
                Vec::new(),
            ));
        }
        all
    }

    fn preference_gains(&self, item: &Item) -> Vec<(i64, Gain, Vec<String>, Vec<FactId>)> {
        let setting = self.setting;
        let departure = setting
            .graph
            .exercises
            .get(item.exercise)
            .map_or(0, |exercise| exercise.departure);
        setting
            .speaking(&setting.rules().prefer)
            .filter(|(_, rule)| {
                self.week.on(&rule.on, item.day)
                    && setting.matches(&rule.what, &item.placed(self.week))
            })
            .map(|(id, rule)| {
                let times = match rule.each {
                    Each::Item => 1,
                    Each::Set => item.dosed.sets,
                    Each::Departure => departure,
                };
                let path = rule_path("prefer", id.as_str());
                (
                    100 * rule.weight.value * times,
                    Gain::Preference(id.value.clone()),
                    vec![path],
                    Vec::new(),
                )
            })
            .collect()
    }
}
