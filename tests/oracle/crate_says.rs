//! What the crate says of weeks, in the oracle's words.

use std::collections::{BTreeMap, BTreeSet};

use drillwright::explain::{Placing, Proof, Recheck, Ruling};
use drillwright::{Answer, Case, KnowledgeBase};

use super::{Placed, Verdict};

/// What the crate says of a made pack: the best week, or that there is none.
#[derive(Debug, PartialEq, Eq)]
pub enum Said {
    Week {
        missed: [i64; 3],
        /// Units that each rule misses; parts of the layout are left out.
        by_rule: BTreeMap<String, i64>,
        worth: i64,
        tie: i64,
        week: Vec<Vec<Placed>>,
    },
    None,
    /// The search gave up.
    NotFound(u64),
}

fn read(files: &[(String, String)], case: &str) -> (KnowledgeBase, Case) {
    let base = KnowledgeBase::from_texts(files.iter().map(|(name, text)| (name, text)))
        .unwrap_or_else(|error| panic!("{error}"));
    let case = base.case_from_text("case.yaml", case).unwrap();
    (base, case)
}

/// The best week of a pack and a case.
pub fn solved(files: &[(String, String)], case: &str) -> Said {
    let (base, case) = read(files, case);
    match base.solve(&case).unwrap() {
        Answer::Week(plan) => {
            assert_eq!(plan.proof, Proof::Claimed);
            let item = |item: &drillwright::explain::Item| {
                (
                    item.part.to_string(),
                    item.role.to_string(),
                    item.exercise.to_string(),
                )
            };
            let mut by_rule = BTreeMap::new();
            for shortfall in &plan.shortfalls {
                if let Ruling::Rule { id, .. } = &shortfall.ruling {
                    *by_rule.entry(id.to_string()).or_insert(0) += shortfall.units;
                }
            }
            Said::Week {
                missed: [plan.missed.last, plan.missed.middle, plan.missed.first],
                by_rule,
                worth: plan.worth,
                tie: plan.tie,
                week: plan
                    .sessions
                    .iter()
                    .map(|session| session.items.iter().map(item).collect())
                    .collect(),
            }
        }
        Answer::NoWeek(_) => Said::None,
        Answer::NotFound(not_found) => Said::NotFound(not_found.nodes),
        other => panic!("not answered: {other:?}"),
    }
}

/// What the re-check of the crate says of a week.
pub fn rechecked(files: &[(String, String)], case: &str, week: &[Vec<Placed>]) -> Rechecked {
    let (base, case) = read(files, case);
    let placing = |(part, role, exercise): &Placed| Placing::new(part, role, exercise);
    let week: Vec<Vec<Placing>> = week
        .iter()
        .map(|day| day.iter().map(placing).collect())
        .collect();
    Rechecked(base.recheck_placed(&case, &week).unwrap())
}

#[derive(Debug)]
pub struct Rechecked(pub Recheck);

impl Rechecked {
    /// It is the oracle's verdict.
    pub fn is(&self, verdict: &Verdict) {
        let found = &self.0;
        assert_eq!(
            found.stands(),
            verdict.hard_broken.is_empty(),
            "{found:?}\n{verdict:?}"
        );
        let rules = |lacks: &[drillwright::explain::Lack]| -> BTreeSet<String> {
            let rules = lacks.iter().map(|lack| &lack.ruling);
            rules
                .filter(|ruling| matches!(ruling, Ruling::Rule { .. }))
                .map(|ruling| ruling.id().to_owned())
                .collect()
        };
        let broken = rules(&found.broken);
        let said: BTreeSet<String> = verdict.hard_broken.iter().cloned().collect();
        assert!(broken.is_subset(&said), "{found:?}\n{verdict:?}");
        // What the oracle names beyond that is no rule's bound, or keeps an item from standing at all.
        let kept_out = !found.wrong.is_empty();
        let more = said
            .difference(&broken)
            .filter(|id| !id.starts_with("slot "));
        assert!(kept_out || more.count() == 0, "{found:?}\n{verdict:?}");
        let missed = [found.missed.last, found.missed.middle, found.missed.first];
        assert_eq!(
            (missed, found.worth, found.tie),
            (verdict.missed, verdict.worth, verdict.tie),
            "{found:?}\n{verdict:?}"
        );
        let yielding = found.units_missed();
        let by_rule = yielding
            .iter()
            .filter(|(ruling, _)| matches!(ruling, Ruling::Rule { .. }));
        for (ruling, units) in by_rule {
            assert_eq!(
                verdict.missed_by_rule.get(ruling.id()),
                Some(units),
                "{verdict:?}"
            );
        }
    }
}
