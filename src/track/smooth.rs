//! A low-pass filter without lag: a Butterworth filter of the second order, run forward and then backward.
//!
//! The coefficients are those of Winter, Biomechanics and Motor Control of Human Movement, with the cutoff raised so that
//! both runs together cut off where one was asked to.

use super::number::float;

/// Filters values that are `rate_mhz` thousandths of a hertz apart; what is faster than `cutoff_dhz` tenths of a hertz goes.
/// Ends are carried on by their mirror image turned about the end, so that a bar at rest stays at rest.
pub(super) fn low_pass(values: &[f64], rate_mhz: i64, cutoff_dhz: u16) -> Vec<f64> {
    let (Some(first), Some(last)) = (values.first(), values.last()) else {
        return Vec::new();
    };
    let rate = float(rate_mhz) / 1000.0;
    let cutoff = f64::from(cutoff_dhz) / 10.0;
    // Two passes: (2^(1/2) - 1)^(1/4).
    let both = libm::sqrt(libm::sqrt(libm::sqrt(2.0) - 1.0));
    let corner = libm::tan(core::f64::consts::PI * cutoff / rate) / both;
    let k1 = libm::sqrt(2.0) * corner;
    let k2 = corner * corner;
    let a0 = k2 / (1.0 + k1 + k2);
    let a1 = 2.0 * a0;
    let k3 = 2.0 * a0 / k2;
    let b1 = k3 - 2.0 * a0;
    let b2 = 1.0 - 2.0 * a0 - k3;
    // Two periods of the cutoff settle both runs.
    let periods = libm::ceil(2.0 * rate / cutoff);
    let wanted = super::number::whole(periods).unwrap_or(0);
    let pad = usize::try_from(wanted).unwrap_or(0).min(values.len() - 1);
    let before = values
        .iter()
        .skip(1)
        .take(pad)
        .rev()
        .map(|v| 2.0 * first - v);
    let after = values
        .iter()
        .rev()
        .skip(1)
        .take(pad)
        .map(|v| 2.0 * last - v);
    let mut all: Vec<f64> = before.chain(values.iter().copied()).chain(after).collect();
    for _ in 0..2 {
        let start = all.first().copied().unwrap_or(0.0);
        let (mut x1, mut x2, mut y1, mut y2) = (start, start, start, start);
        for value in &mut all {
            let x = *value;
            let y = a0 * x + a1 * x1 + a0 * x2 + b1 * y1 + b2 * y2;
            (x2, x1, y2, y1) = (x1, x, y1, y);
            *value = y;
        }
        all.reverse();
    }
    all.into_iter().skip(pad).take(values.len()).collect()
}

#[cfg(test)]
#[allow(clippy::indexing_slicing)]
mod unit {
    use super::*;

    fn wave(hertz: f64, rate: f64) -> Vec<f64> {
        let of = |n: usize| libm::sin(2.0 * core::f64::consts::PI * hertz * n as f64 / rate);
        (0..600).map(of).collect()
    }

    /// How high a wave is, by its mean square over whole periods in the middle, where both ends are far.
    fn height(values: &[f64]) -> f64 {
        let squares = values[200..320].iter().map(|v| v * v);
        libm::sqrt(2.0 * squares.sum::<f64>() / 120.0)
    }

    /// What is left of a wave is what the formula of the filter has it: both runs together 1 / (1 + (w / corner)^4), with
    /// w = tan(pi f / rate); at the cutoff that is 1 / sqrt 2, half of the power.
    #[test]
    fn cuts_off_where_it_is_asked_to() {
        use core::f64::consts::PI;
        for rate in [30.0, 60.0, 120.0] {
            let filtered =
                |hertz: f64| height(&low_pass(&wave(hertz, rate), (rate * 1000.0) as i64, 60));
            assert!(
                (filtered(6.0) - core::f64::consts::FRAC_1_SQRT_2).abs() < 0.005,
                "{rate}"
            );
            let raised = (2.0_f64.sqrt() - 1.0).powf(0.25);
            for hertz in [1.0, 3.0, 5.0, 8.0, 13.0] {
                let way = (PI * hertz / rate).tan() / ((PI * 6.0 / rate).tan() / raised);
                let wanted = 1.0 / (1.0 + way.powi(4));
                let found = filtered(hertz);
                assert!(
                    (found - wanted).abs() < 0.01,
                    "{rate}, {hertz}: {found} {wanted}"
                );
            }
        }
    }

    #[test]
    fn has_no_lag_and_keeps_straight_lines() {
        let line: Vec<f64> = (0..100).map(|n| 3.0 * f64::from(n) - 20.0).collect();
        let kept = low_pass(&line, 60_000, 60);
        for (one, other) in line.iter().zip(&kept) {
            assert!((one - other).abs() < 0.2, "{one} {other}");
        }
        let mut bump = vec![0.0; 101];
        bump[50] = 1.0;
        let kept = low_pass(&bump, 60_000, 60);
        for n in 0..50 {
            assert!((kept[50 - n] - kept[50 + n]).abs() < 1e-9, "{n}");
        }
    }
}
