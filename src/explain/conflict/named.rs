//! What takes part in a clash, named.

use crate::base::{BarId, PhaseId};
use crate::explain::answer::{Clash, Clashing, SaidList};
use crate::explain::assemble::value_in_words;
use crate::explain::glossary::{Glossary, Named};
use crate::explain::relax::{Saying, empty_list, other_bars, other_phases, said_lists};
use crate::explain::stated::days_in_words;
use crate::rules::case_check::Case;

use super::{Filter, Part};

impl Filter<'_> {
    /// The parts that are `left` of `everything`, and what else of the case they need.
    pub(super) fn named(
        &self,
        glossary: &Glossary,
        left: &[usize],
        everything: &[usize],
    ) -> Vec<Clash> {
        let parts = left.iter().filter_map(|at| {
            let part = self.parts.get(*at)?;
            Some(Clash {
                what: self.clashing(glossary, part),
                enough: self.has_week(&self.all_but(everything, *at)) == Some(true),
            })
        });
        let mut clash: Vec<Clash> = parts.collect();
        // A list taken back, another phase or another bar can make a case stricter, so all of them
        // stay while the rest is reduced, and only those are named without which what is left
        // allows a week.
        for list in said_lists(self.case) {
            let mut case = self.case.clone();
            empty_list(&mut case, list);
            if self.has_week_in(case.clone(), left) == Some(true) {
                clash.push(Clash {
                    what: Clashing::List {
                        list,
                        says: listed(glossary, self.case, list),
                    },
                    enough: self.has_week_in(case, everything) == Some(true),
                });
            }
        }
        let with_phase = |phase: &PhaseId| Case {
            phase: phase.clone(),
            ..self.case.clone()
        };
        let phases = self.instead(
            other_phases(self.pack, self.case),
            left,
            everything,
            with_phase,
        );
        if let Some((others, enough)) = phases {
            let phase = self.case.phase.clone();
            clash.push(Clash {
                what: Clashing::Phase { phase, others },
                enough,
            });
        }
        let with_bar = |bar: &BarId| Case {
            bar: bar.clone(),
            ..self.case.clone()
        };
        let bars = self.instead(other_bars(self.pack, self.case), left, everything, with_bar);
        if let Some((others, enough)) = bars {
            let bar = self.case.bar.clone();
            clash.push(Clash {
                what: Clashing::Bar { bar, others },
                enough,
            });
        }
        clash
    }

    /// Of the values with which what is left allows a week those with which everything does, and
    /// then `true`; else all of them and `false`; none where there are none.
    fn instead<T>(
        &self,
        values: Vec<T>,
        left: &[usize],
        everything: &[usize],
        with: impl Fn(&T) -> Case,
    ) -> Option<(Vec<T>, bool)> {
        let allows =
            |value: &T, parts: &[usize]| self.has_week_in(with(value), parts) == Some(true);
        let helps: Vec<T> = values
            .into_iter()
            .filter(|value| allows(value, left))
            .collect();
        if helps.is_empty() {
            return None;
        }
        let (enough, rest): (Vec<T>, Vec<T>) = helps
            .into_iter()
            .partition(|value| allows(value, everything));
        Some(if enough.is_empty() {
            (rest, false)
        } else {
            (enough, true)
        })
    }

    pub(super) fn clashing(&self, glossary: &Glossary, part: &Part) -> Clashing {
        match part {
            Part::Rule(kind, id, place) => Clashing::Rule {
                kind,
                id: id.clone(),
                place: place.clone(),
            },
            Part::Saying(Saying::Field(field)) => Clashing::Field {
                field: field.clone(),
                skill: None,
                day: None,
                says: self
                    .case
                    .fields
                    .get(field)
                    .map_or_else(String::new, |v| value_in_words(glossary, field, v)),
            },
            Part::Saying(Saying::FieldOfSkill(skill, field)) => {
                let value = self.case.by_skill.get(&(skill.clone(), field.clone()));
                Clashing::Field {
                    field: field.clone(),
                    skill: Some(skill.clone()),
                    day: None,
                    says: value
                        .map_or_else(String::new, |value| value_in_words(glossary, field, value)),
                }
            }
            Part::Saying(Saying::FieldOfDay(day, field)) => {
                let said = self.case.days.get(day).and_then(|said| said.get(field));
                Clashing::Field {
                    field: field.clone(),
                    skill: None,
                    day: Some(*day),
                    says: said.map_or_else(String::new, ToString::to_string),
                }
            }
            Part::Saying(Saying::Days) => Clashing::Days(days_in_words(self.case)),
            Part::Saying(Saying::Layout) => self
                .case
                .layout
                .as_ref()
                .map_or(Clashing::Pieces, |layout| Clashing::Layout(layout.clone())),
            Part::Saying(Saying::Pieces) => Clashing::Pieces,
        }
    }
}

/// What a case lists, in words.
fn listed(glossary: &Glossary, case: &Case, list: SaidList) -> String {
    let name = |named: Named, id: &str| glossary.name(named, id).to_owned();
    let all: Vec<String> = match list {
        SaidList::Faults => case
            .faults
            .iter()
            .map(|seen| name(Named::Fault, seen.fault.as_str()))
            .collect(),
        SaidList::Observed => case
            .observed
            .iter()
            .map(|id| name(Named::Observation, id.as_str()))
            .collect(),
        SaidList::SureOf => case
            .sure_of
            .iter()
            .map(|(_, cause)| name(Named::Cause, cause.as_str()))
            .collect(),
        SaidList::Bests => case
            .bests
            .iter()
            .map(|(id, best)| format!("{} {best}", name(Named::Reference, id.as_str())))
            .collect(),
        SaidList::New => case
            .new
            .iter()
            .map(|id| name(Named::Exercise, id.as_str()))
            .collect(),
        SaidList::Disliked => case
            .disliked
            .iter()
            .map(|id| name(Named::Exercise, id.as_str()))
            .collect(),
        SaidList::Tried => case
            .tried
            .iter()
            .map(|(id, came)| format!("{} ({})", name(Named::Exercise, id.as_str()), came.as_str()))
            .collect(),
        SaidList::DidLastWeek => case
            .did_last_week
            .iter()
            .map(|id| name(Named::Exercise, id.as_str()))
            .collect(),
        SaidList::WeekBefore => case
            .week_before
            .iter()
            .map(|held| name(Named::Exercise, held.exercise.as_str()))
            .collect::<std::collections::BTreeSet<_>>()
            .into_iter()
            .collect(),
    };
    all.join(", ")
}
