//! Made packs that are small enough for all weeks to be tried, and large enough to mean something.

use super::Oracle;
use super::make::{Made, attempt, tight};

/// The most weeks that are tried out for one pack.
const MOST_WEEKS: u64 = 60_000;

/// And the most sets of candidates for one day, before hard rules leave some out.
pub const MOST_SETS: usize = 1_200;

/// A pack and a case that are small enough for all weeks to be tried.
pub fn make(seed: u64) -> Made {
    for number in 0..400 {
        let made = attempt(seed, number);
        // Few have so many hard rules that a day has no session at all.
        let least = if seed.is_multiple_of(10) {
            0
        } else if tight(seed) {
            2_000
        } else {
            9_000
        };
        if made
            .oracle()
            .count_weeks(MOST_SETS)
            .is_some_and(|count| (least..=MOST_WEEKS).contains(&count))
        {
            return made;
        }
    }
    panic!("nothing of a good size for seed {seed}");
}

impl Made {
    pub fn oracle(&self) -> Oracle {
        Oracle::new(&self.files, &self.case)
    }
}
