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

mod named;

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::base::{At, Cancel, Place, RuleId};
use crate::graph::Graph;
use crate::infer::Setting;
use crate::plan::search;
use crate::plan::{Loads, Pool, Week};
use crate::rules::case_check::Case;
use crate::rules::kinds::{Rule, Rules};
use crate::rules::pack::Pack;
use crate::rules::vocab::Yields;

use super::answer::{Clash, Further, NoWeek};
use super::assemble::cautions;
use super::glossary::Glossary;
use super::relax::{Saying, sayings, take_back};

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
    /// Ends the reduction: what is left by then is handed out, not seen to be irreducible.
    cancel: &'a Cancel,
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
        kept,
        lighter,
        minutes,
        needs,
        position,
        proportion,
        repeat,
        shift,
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
        load_step: _,
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
        adjacent, alike, apart, before, count, differ, exclude, floor, followed, kept, lighter,
        minutes, needs, position, proportion, repeat, shift, stress, volume
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

impl<'a> Filter<'a> {
    fn of(setting: &Setting<'a>, work: u64, cancel: &'a Cancel) -> Self {
        let (parts, mild) = parts(setting.pack, setting.case);
        Self {
            pack: setting.pack,
            graph: setting.graph,
            case: setting.case,
            parts,
            mild,
            work,
            cancel,
        }
    }

    /// Whether there is a week with only these parts; none where the limit of work was reached or it was cancelled.
    fn has_week(&self, kept: &[usize]) -> Option<bool> {
        self.has_week_in(self.case.clone(), kept)
    }

    fn has_week_in(&self, mut case: Case, kept: &[usize]) -> Option<bool> {
        if self.cancel.is_cancelled() {
            return None;
        }
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
        search::any_week(&setting, &week, &pool, self.work, self.cancel)
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
}

/// Whether any week satisfies the hard rules, looked for with all others left out; none where the
/// limit of work was reached or it was cancelled.
pub(crate) fn any_week(setting: &Setting<'_>, work: u64, cancel: &Cancel) -> Option<bool> {
    let filter = Filter::of(setting, work, cancel);
    let everything: Vec<usize> = (0..filter.parts.len()).collect();
    filter.has_week(&everything)
}

/// What cannot hold together in a case that no week satisfies. `work` is the limit of each of the
/// searches, in nodes. Where it is cancelled the clash is what could not be left out by then.
pub(crate) fn conflict(
    setting: &Setting<'_>,
    week: &Week<'_>,
    glossary: &Arc<Glossary>,
    fingerprint: &str,
    (work, cancel): (u64, &Cancel),
) -> NoWeek {
    let filter = Filter::of(setting, work, cancel);
    let mut everything: Vec<usize> = (0..filter.parts.len()).collect();
    let mut clashes: Vec<Vec<Clash>> = Vec::new();
    let mut onces = Vec::new();
    // Without any part at all there must be a week, else the days cannot be filled.
    let mut open = filter.has_week(&[]) != Some(false);
    let mut irreducible = open;
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
