//! The load that could be made once, from one that was made several times.

use crate::base::Decimal;
use crate::rules::vocab::Formula;

/// By a formula, in whole thousandths rounded down; the load itself of one repetition. None above what loads can be, and where
/// the formula has no figure.
pub(crate) fn made_once(formula: Formula, load: Decimal, repetitions: u16) -> Option<Decimal> {
    let (load, times) = (load.thousandths(), i64::from(repetitions));
    let thousandths = match formula {
        _ if times == 1 => load,
        Formula::Epley => load.checked_mul(30 + times)? / 30,
        Formula::Brzycki if times < 37 => load.checked_mul(36)? / (37 - times),
        Formula::Brzycki => return None,
        Formula::Wathan => {
            // Worked out by the same code everywhere, and rounded before anything is decided by it.
            let times = f64::from(repetitions);
            let part = 48.8 + 53.8 * libm::exp(-0.075 * times);
            // All loads are exact as floats.
            #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation)]
            let whole = libm::floor(100.0 * load as f64 / part) as i64;
            whole
        }
    };
    Decimal::from_thousandths(thousandths)
}

/// Rounded down to a whole multiple.
pub(crate) fn rounded_down(load: Decimal, to: Decimal) -> Decimal {
    let step = to.thousandths().max(1);
    Decimal::from_thousandths(load.thousandths() / step * step).unwrap_or(Decimal::ZERO)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use rstest::rstest;

    use super::{Decimal, made_once, rounded_down};
    use crate::rules::vocab::Formula;

    /// 100 × 5 by each formula, as worked out from the published formulas and printed to thousandths, rounded to the nearest;
    /// here they are rounded down.
    #[rstest]
    #[case(Formula::Epley, "116.667")]
    #[case(Formula::Brzycki, "112.500")]
    #[case(Formula::Wathan, "116.583")]
    fn a_hundred_five_times(#[case] formula: Formula, #[case] wanted: &str) {
        let hundred = "100".parse().unwrap();
        let once = made_once(formula, hundred, 5).unwrap();
        let printed: Decimal = wanted.parse().unwrap();
        let less = printed.thousandths() - once.thousandths();
        assert!((0..=1).contains(&less), "{once}");
        // Of one repetition it is the load itself, by every formula.
        assert_eq!(made_once(formula, hundred, 1), Some(hundred));
        // And it rises with each.
        let all: Vec<_> = (1..=20)
            .map(|times| made_once(formula, hundred, times))
            .collect();
        assert!(all.is_sorted());
    }

    #[test]
    fn is_rounded_down() {
        let step = "2.5".parse().unwrap();
        let load = "112.499".parse().unwrap();
        assert_eq!(rounded_down(load, step).to_string(), "110");
        assert_eq!(made_once(Formula::Brzycki, load, 37), None);
    }
}
