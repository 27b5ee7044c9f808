//! Which sentence stands under which item of a sheet.
//!
//! The best reason is said. Where its words stand in the week as often as they may, a cause that is
//! worked on is said again as such, and anything else makes room for the next reason that is true
//! of the item: so no sentence tires, and what is repeated is seen to be.

use std::collections::BTreeMap;

use crate::base::{CauseId, ConstraintId, FactId};
use crate::explain::{Claim, Gain, Item, Plan};

use super::text::REASON_WIDTH;
use super::words::Words;

/// How often the same words may stand in a week.
const MOST_ALIKE: usize = 2;

/// How often the words of one reason may stand in a week: that a quality is more than fed tells
/// nothing the second time.
const fn most_alike(claim: &Claim) -> usize {
    match claim {
        Claim::Gains {
            to: Gain::Quality { .. },
            ..
        } => 1,
        _ => MOST_ALIKE,
    }
}

/// Whether a fact behind an item says why it is there, and not how it is done.
const fn is_reason(claim: &Claim) -> bool {
    !matches!(
        claim,
        Claim::Dosed { .. } | Claim::Capped(_) | Claim::Trimmed(_) | Claim::Stepped(_)
    )
}

impl Plan {
    /// The sentence that says best why an item is there, of at most 69 characters where its words
    /// allow it. Words that stand in the week already give way to the next reason that is true of
    /// the item, so that no sentence stands there three times.
    #[must_use]
    pub fn why(&self, item: &Item) -> String {
        let sentences = self.sentences();
        sentences.get(&item.placed).cloned().unwrap_or_default()
    }

    /// All that led to an item, one fact a line with the rule items that it rests on; each fact
    /// stands above those that it follows from.
    #[must_use]
    pub fn derivation(&self, item: &Item) -> Vec<String> {
        let words = Words::new(&self.glossary);
        let facts = self
            .trail
            .closure(item.placed)
            .into_iter()
            .filter_map(|id| self.trail.get(id));
        facts
            .map(|fact| {
                let cites = words.cites(fact);
                let cites = if cites.is_empty() {
                    String::new()
                } else {
                    format!(" [{}]", cites.join("; "))
                };
                format!("{}{cites}", words.whole(fact.claim()))
            })
            .collect()
    }

    /// The sentence under each item, by the fact that it is placed.
    pub(crate) fn sentences(&self) -> BTreeMap<FactId, String> {
        let words = Words::new(&self.glossary);
        let mut said = Said::default();
        let mut all = BTreeMap::new();
        for item in self.sessions.iter().flat_map(|session| &session.items) {
            let sentence = said.next(&words, &self.reasons(item));
            all.insert(item.placed, sentence);
        }
        all
    }

    /// What says why an item is there, the best first.
    fn reasons(&self, item: &Item) -> Vec<&Claim> {
        let others = self
            .trail
            .get(item.placed)
            .map_or(&[][..], |placed| placed.from());
        let ids = std::iter::once(item.reason)
            .chain(others.iter().copied().filter(|id| *id != item.reason));
        ids.filter_map(|id| self.trail.get(id))
            .map(|fact| fact.claim())
            .filter(|claim| is_reason(claim))
            .collect()
    }
}

/// What stands in the week already.
#[derive(Default)]
struct Said<'a> {
    /// How often each sentence does.
    sentences: BTreeMap<String, usize>,
    /// How often each cause is told with the same constraints.
    causes: BTreeMap<(&'a CauseId, &'a [ConstraintId]), usize>,
}

impl<'a> Said<'a> {
    /// The sentence for an item with these reasons, the best first.
    fn next(&mut self, words: &Words<'_>, reasons: &[&'a Claim]) -> String {
        for (at, claim) in reasons.iter().enumerate() {
            let before = Words::about_cause(claim)
                .and_then(|about| self.causes.get(&about))
                .copied()
                .unwrap_or(0);
            let sentence = if before == 0 {
                words.brief(claim, REASON_WIDTH)
            } else {
                words.again(claim, before + 1, REASON_WIDTH)
            };
            // The best reason is said even where its words need a second line.
            let fits = at == 0 || sentence.chars().count() <= REASON_WIDTH;
            let times = self.sentences.get(&sentence).copied().unwrap_or(0);
            if fits && times < most_alike(claim) {
                return self.said(claim, sentence.clone(), sentence);
            }
        }
        let Some(best) = reasons.first() else {
            return String::new();
        };
        let plain = words.brief(best, REASON_WIDTH);
        let times = self.sentences.get(&plain).copied().unwrap_or(0);
        let again = words.again(best, times + 1, REASON_WIDTH);
        self.said(best, plain, again)
    }

    fn said(&mut self, claim: &'a Claim, counted_as: String, sentence: String) -> String {
        *self.sentences.entry(counted_as).or_insert(0) += 1;
        if let Some(about) = Words::about_cause(claim) {
            *self.causes.entry(about).or_insert(0) += 1;
        }
        sentence
    }
}
