//! Where no week satisfies the hard rules: which of them, and what of the case, cannot hold together.
//!
//! A deletion filter, first over the rules and then over what the case says: parts are left out as
//! long as there is still no week; what is left is irreducible. Large pieces are tried first, so
//! that few searches are needed.
//!
//! Rules come first because leaving out a hard rule never takes a week away, while taking back what
//! a case says may: its field then has the value of one that was not said, and another rule may ask
//! for more. So a saying goes only where the rules that are left stay the reason: none of them may
//! become superfluous by it.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::base::{At, BarId, PhaseId, Place, RuleId};
use crate::graph::Graph;
use crate::infer::Setting;
use crate::plan::search;
use crate::plan::{Loads, Pool, Week};
use crate::rules::case_check::Case;
use crate::rules::kinds::{Rule, Rules};
use crate::rules::pack::Pack;
use crate::rules::vocab::Yields;

use super::answer::{Clash, Clashing, Further, NoWeek, SaidList};
use super::assemble::{cautions, days_in_words, value_in_words};
use super::glossary::{Glossary, Named};
use super::relax::{Saying, empty_list, other_bars, other_phases, said_lists, sayings, take_back};

/// Something that could be left out.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Part {
    Rule(&'static str, RuleId, Place),
    Saying(Saying),
}

impl Part {
    fn is_rule(&self) -> bool {
        matches!(self, Self::Rule(..))
    }
}

struct Filter<'a> {
    pack: &'a Pack,
    graph: &'a Graph,
    case: &'a Case,
    parts: Vec<Part>,
    /// Rules that cannot take part in a clash.
    mild: BTreeSet<(&'static str, RuleId)>,
    work: u64,
}

/// All hard rules and all that the case says; beside them the rules that cannot take part in a
/// clash: those that give way, and those that only say what a week is worth. With these left out
/// the first week that is found is as good as any.
///
/// Every kind by name, with no `..`: a new kind must say here what it is.
fn parts(pack: &Pack, case: &Case) -> (Vec<Part>, BTreeSet<(&'static str, RuleId)>) {
    let Rules {
        adjacent,
        alike,
        apart,
        before,
        count,
        differ,
        exclude,
        floor,
        followed,
        lighter,
        minutes,
        needs,
        position,
        proportion,
        repeat,
        stress,
        volume,
        least_load,
        help_worth,
        prefer,
        quality_worth,
        // These make an item what it is, whatever stands beside it, or only say something.
        cap: _,
        carry_over: _,
        caution: _,
        compose: _,
        dose: _,
        focus: _,
        fullest: _,
        how_often: _,
        ramp: _,
        timing: _,
        trim: _,
        watch: _,
    } = &pack.rules;
    let mut parts = Vec::new();
    let mut mild = BTreeSet::new();
    macro_rules! bounds {
        ($($rules:ident),*) => {
            $(sort(&mut parts, &mut mild, $rules, |rule| rule.yields == Yields::Never);)*
        };
    }
    bounds!(
        adjacent, alike, apart, before, count, differ, exclude, floor, followed, lighter, minutes,
        needs, position, proportion, repeat, stress, volume
    );
    sort(&mut parts, &mut mild, least_load, |_| true);
    sort(&mut parts, &mut mild, help_worth, |_| false);
    sort(&mut parts, &mut mild, prefer, |_| false);
    sort(&mut parts, &mut mild, quality_worth, |_| false);
    parts.extend(sayings(pack, case).into_iter().map(Part::Saying));
    (parts, mild)
}

fn sort<R: Rule>(
    parts: &mut Vec<Part>,
    mild: &mut BTreeSet<(&'static str, RuleId)>,
    rules: &[(At<RuleId>, R)],
    hard: impl Fn(&R) -> bool,
) {
    for (id, rule) in rules {
        if hard(rule) {
            parts.push(Part::Rule(R::KIND, id.value.clone(), id.place.clone()));
        } else {
            mild.insert((R::KIND, id.value.clone()));
        }
    }
}

impl Filter<'_> {
    /// Whether there is a week with only these parts; none where the limit of work was reached.
    fn has_week(&self, kept: &[usize]) -> Option<bool> {
        self.has_week_in(self.case.clone(), kept)
    }

    fn has_week_in(&self, mut case: Case, kept: &[usize]) -> Option<bool> {
        let mut out = self.mild.clone();
        for (_, part) in self
            .parts
            .iter()
            .enumerate()
            .filter(|(at, _)| !kept.contains(at))
        {
            match part {
                Part::Rule(kind, id, _) => {
                    out.insert((*kind, id.clone()));
                }
                Part::Saying(saying) => take_back(self.pack, &mut case, saying),
            }
        }
        let setting = Setting::without(self.pack, self.graph, &case, out);
        let Ok(week) = Week::of(&setting) else {
            return Some(false);
        };
        let loads = Loads::of(&setting);
        let pool = Pool::of(&setting, &week, &loads).ok()?;
        search::any_week(&setting, &week, &pool, self.work)
            .ok()
            .flatten()
    }

    /// Leaves out what can be left out of parts that allow no week.
    fn reduce(&self, everything: Vec<usize>) -> Vec<usize> {
        let rules = self.without_pieces(everything, Part::is_rule, |rest| {
            self.has_week(rest) == Some(false)
        });
        self.without_pieces(
            rules,
            |part| !part.is_rule(),
            |rest| self.has_week(rest) == Some(false) && self.all_rules_needed(rest),
        )
    }

    /// Whether each of the rules kept is needed: without it there is a week.
    fn all_rules_needed(&self, kept: &[usize]) -> bool {
        kept.iter()
            .filter(|at| self.parts.get(**at).is_some_and(Part::is_rule))
            .all(|at| self.has_week(&self.all_but(kept, *at)) == Some(true))
    }

    /// Leaves out pieces of what `may_go`, half of it first, then ever smaller ones, as long as
    /// what is left `holds`.
    fn without_pieces(
        &self,
        mut kept: Vec<usize>,
        may_go: impl Fn(&Part) -> bool,
        holds: impl Fn(&[usize]) -> bool,
    ) -> Vec<usize> {
        let of = |kept: &[usize]| -> Vec<usize> {
            let goes = |at: &&usize| self.parts.get(**at).is_some_and(&may_go);
            kept.iter().filter(goes).copied().collect()
        };
        let mut size = of(&kept).len().div_ceil(2).max(1);
        loop {
            let mut at = 0;
            loop {
                let piece: Vec<usize> = of(&kept).into_iter().skip(at).take(size).collect();
                if piece.is_empty() {
                    break;
                }
                let rest: Vec<usize> = kept
                    .iter()
                    .copied()
                    .filter(|part| !piece.contains(part))
                    .collect();
                if holds(&rest) {
                    kept = rest;
                } else {
                    at += size;
                }
            }
            if size == 1 {
                return kept;
            }
            size = size.div_ceil(2);
        }
    }

    fn all_but(&self, kept: &[usize], out: usize) -> Vec<usize> {
        kept.iter().copied().filter(|at| *at != out).collect()
    }

    /// The parts that are `left` of `everything`, and what else of the case they need.
    fn named(&self, glossary: &Glossary, left: &[usize], everything: &[usize]) -> Vec<Clash> {
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

    fn clashing(&self, glossary: &Glossary, part: &Part) -> Clashing {
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
    };
    all.join(", ")
}

/// Whether any week satisfies the hard rules, looked for with all others left out; none where the
/// limit of work was reached.
pub(crate) fn any_week(setting: &Setting<'_>, work: u64) -> Option<bool> {
    let (pack, graph, case) = (setting.pack, setting.graph, setting.case);
    let (parts, mild) = parts(pack, case);
    let filter = Filter {
        pack,
        graph,
        case,
        parts,
        mild,
        work,
    };
    let everything: Vec<usize> = (0..filter.parts.len()).collect();
    filter.has_week(&everything)
}

/// What cannot hold together in a case that no week satisfies. `work` is the limit of each of the
/// searches, in nodes.
pub(crate) fn conflict(
    setting: &Setting<'_>,
    week: &Week<'_>,
    glossary: &Arc<Glossary>,
    fingerprint: &str,
    work: u64,
) -> NoWeek {
    let (pack, graph, case) = (setting.pack, setting.graph, setting.case);
    let (parts, mild) = parts(pack, case);
    let filter = Filter {
        pack,
        graph,
        case,
        parts,
        mild,
        work,
    };
    let mut everything: Vec<usize> = (0..filter.parts.len()).collect();
    let mut clashes: Vec<Vec<Clash>> = Vec::new();
    let mut onces = Vec::new();
    let mut irreducible = true;
    // Without any part at all there must be a week, else the days cannot be filled.
    let mut open = filter.has_week(&[]) != Some(false);
    irreducible &= open;
    while open {
        let left = filter.reduce(everything.clone());
        irreducible &= left
            .iter()
            .all(|at| filter.has_week(&filter.all_but(&left, *at)) == Some(true));
        let clash = filter.named(glossary, &left, &everything);
        let settled = clash.iter().any(|part| part.enough);
        clashes.push(clash);
        // Several clashes beside each other: one part of this goes, and the next is looked for.
        let first = left.first().copied().filter(|_| !settled);
        open = false;
        if let Some(part) = first.and_then(|first| filter.parts.get(first)) {
            everything.retain(|at| Some(*at) != first);
            open = filter.has_week(&everything) == Some(false);
            if open {
                onces.push(filter.clashing(glossary, part));
            }
        }
    }
    let mut clashes = clashes.into_iter();
    NoWeek {
        fingerprint: fingerprint.to_owned(),
        clash: clashes.next().unwrap_or_default(),
        further: (onces.into_iter().zip(clashes))
            .map(|(once, clash)| Further { once, clash })
            .collect(),
        irreducible,
        layout: week.id.value.clone(),
        cautions: cautions(setting, glossary, None),
        glossary: Arc::clone(glossary),
    }
}
