//! A set of small numbers.

/// A set of indices that grows as needed; two are equal if they hold the same.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Bits {
    words: Vec<u64>,
}

impl Bits {
    /// Puts `at` in; says whether it is new.
    pub(crate) fn insert(&mut self, at: usize) -> bool {
        let word = at / 64;
        if self.words.len() <= word {
            self.words.resize(word + 1, 0);
        }
        let mask = 1u64 << (at % 64);
        self.words.get_mut(word).is_some_and(|held| {
            let new = *held & mask == 0;
            *held |= mask;
            new
        })
    }

    /// Takes `at` out; says whether it was there.
    pub(crate) fn remove(&mut self, at: usize) -> bool {
        let mask = 1u64 << (at % 64);
        let was = self.words.get_mut(at / 64).is_some_and(|held| {
            let was = *held & mask != 0;
            *held &= !mask;
            was
        });
        while self.words.last() == Some(&0) {
            self.words.pop();
        }
        was
    }

    /// Whether `at` is in.
    pub(crate) fn has(&self, at: usize) -> bool {
        self.words
            .get(at / 64)
            .is_some_and(|word| word & (1u64 << (at % 64)) != 0)
    }

    /// Whether nothing is in.
    pub(crate) fn is_empty(&self) -> bool {
        self.words.iter().all(|word| *word == 0)
    }

    /// How many are in.
    pub(crate) fn len(&self) -> usize {
        self.words
            .iter()
            .map(|word| word.count_ones() as usize)
            .sum()
    }

    /// Whether the two share anything.
    pub(crate) fn meets(&self, other: &Self) -> bool {
        self.words.iter().zip(&other.words).any(|(a, b)| a & b != 0)
    }

    /// Whether all of this is in `other`.
    pub(crate) fn within(&self, other: &Self) -> bool {
        self.words
            .iter()
            .enumerate()
            .all(|(at, word)| word & !other.words.get(at).copied().unwrap_or(0) == 0)
    }

    /// Whether all of this is in `other`, and `other` has more.
    pub(crate) fn strictly_within(&self, other: &Self) -> bool {
        self.within(other) && !other.within(self)
    }

    /// Puts in all that is in `other`.
    pub(crate) fn join(&mut self, other: &Self) {
        if self.words.len() < other.words.len() {
            self.words.resize(other.words.len(), 0);
        }
        for (word, more) in self.words.iter_mut().zip(&other.words) {
            *word |= more;
        }
    }

    /// What is in both.
    pub(crate) fn shared(&self, other: &Self) -> Self {
        let mut words: Vec<u64> = self
            .words
            .iter()
            .zip(&other.words)
            .map(|(a, b)| a & b)
            .collect();
        while words.last() == Some(&0) {
            words.pop();
        }
        Self { words }
    }

    /// What is in it, rising.
    pub(crate) fn iter(&self) -> impl Iterator<Item = usize> + '_ {
        self.words.iter().enumerate().flat_map(|(at, word)| {
            (0..64)
                .filter(move |bit| word & (1u64 << bit) != 0)
                .map(move |bit| at * 64 + bit)
        })
    }
}

impl FromIterator<usize> for Bits {
    fn from_iter<T: IntoIterator<Item = usize>>(iter: T) -> Self {
        let mut bits = Self::default();
        for at in iter {
            bits.insert(at);
        }
        bits
    }
}
