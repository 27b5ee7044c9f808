//! The exact interval of a share (Clopper and Pearson 1934).
//!
//! Of `seen` in `of`, its lower end is the largest share at which so many or more are seen with a chance of at most half of what is
//! left to chance, its upper end the smallest at which so many or fewer are. A float proposes; whole numbers settle the last per
//! mille, so that what is decided is the same everywhere.

use num_bigint::BigUint;
use statrs::function::beta::beta_reg;

/// All of it.
const WHOLE: u32 = 1_000;

/// The ends in per mille, the lower rounded down and the upper up, of an interval that is so many percent sure. Nothing is known
/// of no repetitions.
pub(crate) fn interval(seen: u32, of: u32, percent: u8) -> (u16, u16) {
    let seen = seen.min(of);
    (
        lower(seen, of, percent),
        // What is not seen is a share too.
        1_000 - lower(of - seen, of, percent),
    )
}

fn lower(seen: u32, of: u32, percent: u8) -> u16 {
    if seen == 0 || of == 0 {
        return 0;
    }
    let chance = u32::from(100_u8.saturating_sub(percent));
    // Whether so many or more are so seldom seen at a share.
    let is_below = |mille: u32| {
        let (tail, whole) = at_least(seen, of, mille);
        tail * 200_u32 <= whole * chance
    };
    let near = proposed(seen, of, chance);
    let (mut holds, mut fails) = (0, WHOLE);
    if is_below(near) {
        holds = near;
        if near < WHOLE && !is_below(near + 1) {
            fails = near + 1;
        }
    } else {
        fails = near;
        if near > 0 && is_below(near - 1) {
            holds = near - 1;
        }
    }
    while fails > holds + 1 {
        let middle = holds + (fails - holds) / 2;
        if is_below(middle) {
            holds = middle;
        } else {
            fails = middle;
        }
    }
    u16::try_from(holds).unwrap_or(0)
}

/// Where the lower end may be, by the regularised beta function, which is the chance that so many or more are seen. It decides
/// nothing.
fn proposed(seen: u32, of: u32, chance: u32) -> u32 {
    let (one, other) = (f64::from(seen), f64::from(of - seen) + 1.0);
    let (mut holds, mut fails) = (0, WHOLE);
    while fails > holds + 1 {
        let middle = holds + (fails - holds) / 2;
        let tail = beta_reg(one, other, f64::from(middle) / f64::from(WHOLE));
        if tail * 200.0 <= f64::from(chance) {
            holds = middle;
        } else {
            fails = middle;
        }
    }
    holds
}

/// The chance that so many or more of `of` are seen at a share, as a part of a whole.
fn at_least(seen: u32, of: u32, mille: u32) -> (BigUint, BigUint) {
    let common = common_divisor(mille, WHOLE);
    let (share, whole) = (mille / common, WHOLE / common);
    let all = BigUint::from(whole).pow(of);
    // The shorter of the two tails is added up.
    let tail = if seen > of / 2 {
        below(of - seen + 1, of, whole - share, share)
    } else {
        let other = below(seen, of, share, whole - share);
        if other > all {
            BigUint::ZERO
        } else {
            &all - other
        }
    };
    (tail, all)
}

/// The sum over fewer than `end` of the ways to have so many of `of`, each weighed by `one` as often and by `other` for the rest.
fn below(end: u32, of: u32, one: u32, other: u32) -> BigUint {
    if other == 0 {
        // Only all of them have any weight.
        return if end > of {
            BigUint::from(one).pow(of)
        } else {
            BigUint::ZERO
        };
    }
    let mut term = BigUint::from(other).pow(of);
    let mut sum = BigUint::ZERO;
    for many in 0..end {
        sum += &term;
        if many == of {
            break;
        }
        term *= u64::from(of - many) * u64::from(one);
        // It is a whole number by what it counts.
        term /= u64::from(many + 1) * u64::from(other);
    }
    sum
}

fn common_divisor(one: u32, other: u32) -> u32 {
    if other == 0 {
        one.max(1)
    } else {
        common_divisor(other, one % other)
    }
}

#[cfg(test)]
mod tests {
    use super::{at_least, interval, proposed};
    use num_bigint::BigUint;
    use rstest::rstest;

    /// Printed ends, each in per mille rounded outward. 0, 1, 3, 4 of 10 and 1 of 2: as R's exact intervals are kept in a test
    /// of another library (read there); 7 of 50: the documentation of SciPy's binomial test (read); 81 of 263, 15 of 148,
    /// 0 of 20 and 1 of 29: the worked figures of Newcombe 1998, Statistics in Medicine 17:857-872 (from memory, not read
    /// again).
    #[rstest]
    #[case(0, 10, 0.0, 0.308_497_1)]
    #[case(1, 10, 0.002_528_579, 0.445_016_1)]
    #[case(2, 10, 0.025_210_726, 0.556_095_5)]
    #[case(3, 10, 0.066_739_511, 0.652_452_9)]
    #[case(4, 10, 0.121_552_258, 0.737_621_9)]
    #[case(10, 10, 0.691_502_892, 1.0)]
    #[case(1, 2, 0.012_579_117, 0.987_420_883)]
    #[case(7, 50, 0.058_191_700, 0.267_396_002)]
    #[case(81, 263, 0.2527, 0.3676)]
    #[case(15, 148, 0.0578, 0.1617)]
    #[case(0, 20, 0.0, 0.1684)]
    #[case(1, 29, 0.0009, 0.1776)]
    fn ends_are_those_that_are_printed(
        #[case] seen: u32,
        #[case] of: u32,
        #[case] low: f64,
        #[case] high: f64,
    ) {
        let (is_low, is_high) = interval(seen, of, 95);
        assert_eq!(f64::from(is_low), (low * 1_000.0).floor());
        assert_eq!(f64::from(is_high), (high * 1_000.0).ceil());
    }

    /// Of the law: at the lower end so many or more are rare, one per mille above they are not; the same of the upper end; and
    /// what one end is of what is seen, the other is of what is not.
    #[test]
    fn ends_are_the_last_that_are_rare() {
        for of in 1..=60 {
            for seen in 0..=of {
                for percent in [80, 95] {
                    let (low, high) = interval(seen, of, percent);
                    let chance = u32::from(100 - percent);
                    let is_rare =
                        |(tail, whole): (BigUint, BigUint)| tail * 200_u32 <= whole * chance;
                    let low_is = u32::from(low);
                    assert!(
                        low == 0 || is_rare(at_least(seen, of, low_is)),
                        "{seen}/{of}"
                    );
                    assert!(seen == 0 || !is_rare(at_least(seen, of, low_is + 1)));
                    let high_is = 1_000 - u32::from(high);
                    assert!(high == 1_000 || is_rare(at_least(of - seen, of, high_is)));
                    assert!(seen == of || !is_rare(at_least(of - seen, of, high_is + 1)));
                    assert!(u32::from(low) * of <= seen * 1_000);
                    assert!(u32::from(high) * of >= seen * 1_000);
                }
            }
        }
    }

    /// The tail is a sum of all its terms, by the numbers of Pascal's triangle.
    #[test]
    fn tails_are_sums_of_terms() {
        let mut row = vec![BigUint::from(1_u32)];
        for of in 1_u32..=20 {
            let mut next = vec![BigUint::from(1_u32)];
            next.extend(row.windows(2).map(|two| two.iter().sum::<BigUint>()));
            next.push(BigUint::from(1_u32));
            row = next;
            for seen in 0..=of {
                for mille in [0_u32, 1, 125, 333, 500, 999, 1_000] {
                    let terms = (seen..=of).zip(row.iter().skip(seen as usize));
                    let sum: BigUint = terms
                        .map(|(many, ways)| {
                            ways * BigUint::from(mille).pow(many)
                                * BigUint::from(1_000 - mille).pow(of - many)
                        })
                        .sum();
                    let (tail, whole) = at_least(seen, of, mille);
                    // Both are parts of a whole that may be written in smaller numbers.
                    assert_eq!(tail * BigUint::from(1_000_u32).pow(of), sum * whole);
                }
            }
        }
    }

    /// What proposes is the end itself but for what floats cannot tell, so that one look settles it.
    #[test]
    fn proposals_are_near() {
        for of in [10_u32, 100, 999, 4_000] {
            for part in [0_u32, 1, 3, 10, 250, 500, 750, 990, 997, 999, 1_000] {
                let seen = (of * part / 1_000).max(1);
                let near = proposed(seen, of, 5);
                let (low, _) = interval(seen, of, 95);
                assert!(
                    near.abs_diff(u32::from(low)) <= 1,
                    "{seen}/{of}: {near}, {low}"
                );
            }
        }
        // Nor is it lost where there are as many as a log may have.
        for seen in [1, 5_000, 9_999, 10_000] {
            let near = proposed(seen, 10_000, 5) * 10;
            assert!(near <= seen && near + 200 > seen, "{seen}: {near}");
        }
    }

    #[test]
    fn nothing_is_known_of_nothing() {
        assert_eq!(interval(0, 0, 95), (0, 1_000));
    }
}
