//! Which sentence stands under which item of a sheet.
//!
//! The best reason is said. Where its words stand in the week as often as they may, a cause that is
//! worked on is said again as such, and anything else makes room for the next reason that is true
//! of the item: so no sentence tires, and what is repeated is seen to be.

use std::collections::BTreeMap;

use crate::base::FactId;
use crate::explain::{Claim, Gain, Item, Plan};

use super::text::REASON_WIDTH;
use super::words::Words;

/// How often the words of one reason may stand in a week: points of a quality tell nothing the
/// second time, and a cause is told again in words of its own.
fn most_alike(claim: &Claim) -> usize {
    match claim {
        Claim::Floor { .. }
        | Claim::Helps { .. }
        | Claim::Gains {
            to: Gain::Quality { .. } | Gain::Cause { .. },
            ..
        } => 1,
        _ => 2,
    }
}

/// Whether a fact behind an item says why it is there, and not how it is done.
const fn is_reason(claim: &Claim) -> bool {
    !matches!(claim, Claim::Dosed { .. } | Claim::Capped(_))
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
        let mut used: BTreeMap<String, usize> = BTreeMap::new();
        let mut all = BTreeMap::new();
        for item in self.sessions.iter().flat_map(|session| &session.items) {
            let sentence = sentence(&words, &self.reasons(item), &mut used);
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

fn sentence(words: &Words<'_>, reasons: &[&Claim], used: &mut BTreeMap<String, usize>) -> String {
    for (at, claim) in reasons.iter().enumerate() {
        let said = words.brief(claim, REASON_WIDTH);
        // The best reason is said even where its words need a second line.
        if at > 0 && said.chars().count() > REASON_WIDTH {
            continue;
        }
        let times = used.entry(said.clone()).or_insert(0);
        if *times < most_alike(claim) {
            *times += 1;
            return said;
        }
        if Words::is_about_cause(claim) {
            *times += 1;
            return words.again(claim, *times, REASON_WIDTH);
        }
    }
    let Some(best) = reasons.first() else {
        return String::new();
    };
    let times = used.entry(words.brief(best, REASON_WIDTH)).or_insert(0);
    *times += 1;
    words.again(best, *times, REASON_WIDTH)
}
