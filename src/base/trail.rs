//! The trail: every fact that was derived, what it follows from, and the rule items it rests on.

use std::fmt;
use std::sync::Arc;

use super::place::Place;

/// Which fact of a [`Trail`], counted from 0 in the order in which the facts were recorded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FactId(u32);

impl FactId {
    /// The fact's number, counted from 0.
    #[must_use]
    pub const fn number(self) -> u32 {
        self.0
    }

    fn index(self) -> usize {
        // A number too large for this machine's memory names no fact, which `get` then says.
        usize::try_from(self.0).unwrap_or(usize::MAX)
    }
}

/// A rule item that a fact rests on.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cited {
    /// The item's path, such as `rules.count.full-lift-weekly`.
    pub rule: Arc<str>,
    /// Where the item stands.
    pub place: Place,
    /// The id of the source that the item names.
    pub source: Arc<str>,
}

/// One fact: a claim, the earlier facts that it follows from, and the rule items it rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact<C> {
    claim: C,
    from: Vec<FactId>,
    cites: Vec<Cited>,
}

impl<C> Fact<C> {
    /// What is claimed.
    #[must_use]
    pub fn claim(&self) -> &C {
        &self.claim
    }

    /// The earlier facts it follows from, in the order given.
    #[must_use]
    pub fn from(&self) -> &[FactId] {
        &self.from
    }

    /// The rule items it rests on, in the order given.
    #[must_use]
    pub fn cites(&self) -> &[Cited] {
        &self.cites
    }
}

/// Facts in the order in which they were derived. Facts are only ever added, and one can only
/// follow from earlier ones, so there is no circle. A trail holds data, never text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trail<C> {
    facts: Vec<Fact<C>>,
}

impl<C> Trail<C> {
    /// An empty trail.
    #[must_use]
    pub const fn new() -> Self {
        Self { facts: Vec::new() }
    }

    /// Records a fact and says which one it is.
    ///
    /// # Errors
    ///
    /// [`TrailErrorKind::NotEarlier`] if it is said to follow from a fact that is not recorded yet,
    /// [`TrailErrorKind::Full`] if no number is left. The trail then stays as it was.
    pub fn push(
        &mut self,
        claim: C,
        from: Vec<FactId>,
        cites: Vec<Cited>,
    ) -> Result<FactId, TrailError> {
        let number = u32::try_from(self.facts.len()).map_err(|_| TrailError {
            kind: TrailErrorKind::Full,
        })?;
        if from.iter().any(|id| id.0 >= number) {
            return Err(TrailError {
                kind: TrailErrorKind::NotEarlier,
            });
        }
        self.facts.push(Fact { claim, from, cites });
        Ok(FactId(number))
    }

    /// The fact with this number, if there is one.
    #[must_use]
    pub fn get(&self, id: FactId) -> Option<&Fact<C>> {
        self.facts.get(id.index())
    }

    /// All facts, in the order in which they were recorded.
    pub fn iter(&self) -> impl Iterator<Item = (FactId, &Fact<C>)> {
        (0_u32..).map(FactId).zip(&self.facts)
    }

    /// How many facts there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.facts.len()
    }

    /// Whether there is no fact yet.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.facts.is_empty()
    }

    /// The fact and everything it follows from, depth first, each fact once where it is first met.
    /// Empty if there is no such fact.
    #[must_use]
    pub fn closure(&self, id: FactId) -> Vec<FactId> {
        let mut seen = vec![false; self.facts.len()];
        let mut order = Vec::new();
        // A stack of its own: a long chain of facts must not use up the thread's.
        let mut open = vec![id];
        while let Some(next) = open.pop() {
            let (Some(fact), Some(mark)) = (self.get(next), seen.get_mut(next.index())) else {
                continue;
            };
            if std::mem::replace(mark, true) {
                continue;
            }
            order.push(next);
            open.extend(fact.from.iter().rev().copied());
        }
        order
    }
}

impl<C> Default for Trail<C> {
    fn default() -> Self {
        Self::new()
    }
}

/// Why a fact was not recorded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TrailError {
    kind: TrailErrorKind,
}

impl TrailError {
    /// What went wrong.
    #[must_use]
    pub const fn kind(&self) -> TrailErrorKind {
        self.kind
    }
}

/// What can go wrong when a fact is recorded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum TrailErrorKind {
    /// It was said to follow from a fact that is not recorded yet.
    NotEarlier,
    /// The trail holds as many facts as there are numbers.
    Full,
}

impl fmt::Display for TrailError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self.kind {
            TrailErrorKind::NotEarlier => "a fact can only follow from facts recorded before it",
            TrailErrorKind::Full => "the trail is full",
        })
    }
}

impl std::error::Error for TrailError {}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn cited() -> Cited {
        Cited {
            rule: Arc::from("rules.count.weekly"),
            place: Place::new(&Arc::from("rules.yaml"), 3, 5),
            source: Arc::from("habit"),
        }
    }

    #[test]
    fn keeps_claims_with_what_they_follow_from_and_cite() {
        let mut trail = Trail::new();
        assert!(trail.is_empty());
        let first = trail.push("seen", vec![], vec![]).unwrap();
        let second = trail.push("so", vec![first], vec![cited()]).unwrap();
        assert_eq!(trail.len(), 2);
        let fact = trail.get(second).unwrap();
        assert_eq!(fact.claim(), &"so");
        assert_eq!(fact.from(), [first]);
        assert_eq!(fact.cites(), [cited()]);
        let all: Vec<u32> = trail.iter().map(|(id, _)| id.number()).collect();
        assert_eq!(all, [0, 1]);
    }

    #[test]
    fn refuses_what_follows_from_a_later_fact() {
        let mut trail = Trail::new();
        let mut other = Trail::new();
        other.push(0, vec![], vec![]).unwrap();
        let later = other.push(1, vec![], vec![]).unwrap();
        trail.push(0, vec![], vec![]).unwrap();
        let error = trail.push(1, vec![later], vec![]).unwrap_err();
        assert_eq!(error.kind(), TrailErrorKind::NotEarlier);
        assert!(!error.to_string().is_empty());
        assert_eq!(trail.len(), 1);
        assert!(trail.get(later).is_none());
        assert!(trail.closure(later).is_empty());
    }

    #[test]
    fn closure_is_depth_first_and_names_each_fact_once() {
        let mut trail = Trail::new();
        let a = trail.push((), vec![], vec![]).unwrap();
        let b = trail.push((), vec![a], vec![]).unwrap();
        let c = trail.push((), vec![a], vec![]).unwrap();
        let d = trail.push((), vec![c, b, a], vec![]).unwrap();
        trail.push((), vec![d], vec![]).unwrap();
        assert_eq!(trail.closure(d), [d, c, a, b]);
        assert_eq!(trail.closure(a), [a]);
    }

    #[test]
    fn a_long_chain_does_not_use_up_the_stack() {
        let mut trail = Trail::new();
        let mut last = trail.push((), vec![], vec![]).unwrap();
        for _ in 0..200_000 {
            last = trail.push((), vec![last], vec![]).unwrap();
        }
        assert_eq!(trail.closure(last).len(), 200_001);
    }
}
