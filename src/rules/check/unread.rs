//! What a pack says and nothing reads: no error, but often the sign of a file that was lost.

use std::collections::BTreeSet;

use crate::base::{Code, Diagnostic, Place};
use crate::rules::kinds::Cap;
use crate::rules::pack::Pack;

use super::items::items;
use super::sections::Sort;
use super::walk::{Spot, Visit};

/// Sorts of which each one is there to be read by rules, by conditions or by one another.
const READ: [Sort; 5] = [
    Sort::CaseField,
    Sort::Dose,
    Sort::ZoneTable,
    Sort::Table,
    Sort::Factor,
];

/// What a pack says and nothing reads, by place. Tests of the method read nothing.
pub(crate) fn unread(pack: &Pack) -> Vec<Diagnostic> {
    let mut named = Named::default();
    let mut out = Vec::new();
    let all = items(pack);
    let is_test = |sort: Sort| matches!(sort, Sort::RuleTest | Sort::TrackTest | Sort::WatchedTest);
    for item in all.iter().filter(|item| !is_test(item.sort)) {
        item.walk(&mut named);
    }
    let kinds = without_a_rule(pack);
    for item in all.iter().filter(|item| READ.contains(&item.sort)) {
        let whole_kind = kinds.iter().any(|kind| kind.silences == Some(item.sort));
        if !whole_kind && !named.0.contains(&(item.sort, item.id)) {
            let (one, _, _) = item.sort.words();
            out.push(Diagnostic::new(
                Code::Unread,
                item.place.clone(),
                format!("nothing reads the {one} `{}`", item.id),
                "see whether a file of rules is missing, or take it out",
            ));
        }
    }
    for kind in kinds {
        out.push(Diagnostic::new(
            Code::Unread,
            kind.place.clone(),
            format!(
                "{}, and there is no rule of the kind `{}`: {}",
                kind.there, kind.rule, kind.so
            ),
            format!(
                "see whether a file of rules is missing, or write one under `rules: {}`",
                kind.rule
            ),
        ));
    }
    out.sort();
    out
}

/// Ids that something names.
#[derive(Default)]
struct Named<'p>(BTreeSet<(Sort, &'p str)>);

impl<'p> Visit<'p> for Named<'p> {
    fn id(&mut self, sort: Sort, id: &'p str, _: &Spot<'_, 'p>) {
        self.0.insert((sort, id));
    }
}

/// A kind of rule of which there is none, though there is what only such rules read.
struct Lacking<'p> {
    rule: &'static str,
    there: &'static str,
    /// Where the first of what is there stands.
    place: &'p Place,
    so: &'static str,
    /// The sort whose items need not be told one by one then.
    silences: Option<Sort>,
}

fn without_a_rule(pack: &Pack) -> Vec<Lacking<'_>> {
    let rules = &pack.rules;
    let dose = pack.doses.keys().map(|id| &id.place).min();
    let roots = pack.roots.values().map(|root| &root.highest);
    let variations = pack.variations.values().map(|varied| &varied.highest);
    let highest = roots
        .chain(variations)
        .flatten()
        .map(|stated| &stated.percent.place)
        .min();
    let own = |cap: &Cap| cap.percent_of_own_highest_at_most.is_some();
    let all = [
        (
            rules.dose.is_empty(),
            dose,
            "dose",
            "there are doses",
            "nothing is given one, so nothing can be placed",
            Some(Sort::Dose),
        ),
        (
            rules.minutes.is_empty(),
            dose,
            "minutes",
            "sets and rests take time",
            "nothing bounds how long a session is",
            None,
        ),
        (
            !rules.cap.iter().any(|(_, cap)| own(cap)),
            highest,
            "cap",
            "exercises state how much can be lifted in them at the most",
            "no load is held below it",
            None,
        ),
        (
            rules.stress.is_empty(),
            pack.stresses.keys().map(|id| &id.place).min(),
            "stress",
            "there are kinds of stress",
            "nothing bounds how much of them a day or a week has",
            None,
        ),
        (
            rules.volume.is_empty(),
            pack.zone_tables.keys().map(|id| &id.place).min(),
            "volume",
            "there are zone tables",
            "nothing holds a week to them",
            Some(Sort::ZoneTable),
        ),
    ];
    let lacking = |(none, place, rule, there, so, silences): (bool, Option<_>, _, _, _, _)| {
        none.then_some(Lacking {
            rule,
            there,
            place: place?,
            so,
            silences,
        })
    };
    all.into_iter().filter_map(lacking).collect()
}
