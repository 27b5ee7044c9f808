//! A small generator of random numbers and words: the same seed gives the same, everywhere.

use std::collections::BTreeSet;

#[derive(Clone, Debug)]
pub struct Random {
    state: u64,
    words: BTreeSet<String>,
}

impl Random {
    pub fn new(seed: u64) -> Self {
        Self {
            state: seed.wrapping_mul(0x9E37_79B9_7F4A_7C15),
            words: BTreeSet::new(),
        }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A whole number, both ends included.
    pub fn between(&mut self, from: i64, to: i64) -> i64 {
        let width = u64::try_from(to - from + 1).unwrap();
        from + i64::try_from(self.next() % width).unwrap()
    }

    /// True in so many of a hundred.
    pub fn percent(&mut self, percent: i64) -> bool {
        self.between(1, 100) <= percent
    }

    pub fn one<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        assert!(!list.is_empty());
        let at = self.between(0, i64::try_from(list.len()).unwrap() - 1);
        &list[usize::try_from(at).unwrap()]
    }

    /// Between one and `most` different ones, in the order of the list.
    pub fn some(&mut self, list: &[String], most: usize) -> Vec<String> {
        let mut left: Vec<usize> = (0..list.len()).collect();
        let wanted = self.between(1, i64::try_from(most.min(list.len())).unwrap());
        let mut chosen = Vec::new();
        for _ in 0..wanted {
            let at = *self.one(&left);
            left.retain(|other| *other != at);
            chosen.push(at);
        }
        chosen.sort_unstable();
        chosen.into_iter().map(|at| list[at].clone()).collect()
    }

    /// A word that was not given out yet.
    pub fn word(&mut self) -> String {
        const HEADS: [&str; 14] = [
            "ba", "bri", "cu", "dro", "fe", "gli", "ho", "ke", "lu", "mi", "pro", "ru", "sti", "wo",
        ];
        const TAILS: [&str; 12] = [
            "bel", "cor", "dun", "fen", "gam", "kin", "lop", "mur", "nox", "pid", "tal", "vex",
        ];
        loop {
            let mut word = format!("{}{}", self.one(&HEADS), self.one(&TAILS));
            if self.percent(25) {
                word = format!("{word}-{}{}", self.one(&HEADS), self.one(&TAILS));
            }
            if self.words.insert(word.clone()) {
                return word;
            }
        }
    }

    pub fn words(&mut self, count: i64) -> Vec<String> {
        (0..count).map(|_| self.word()).collect()
    }
}

/// A flow list.
pub fn list(words: &[String]) -> String {
    format!("[{}]", words.join(", "))
}
