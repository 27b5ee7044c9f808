//! Whole numbers: division to the nearest, and floats that are rounded.

/// `a / b` to the nearest whole number, halves away from 0; 0 where nothing can be divided.
pub(super) fn nearest(a: i128, b: i128) -> i64 {
    if b == 0 {
        return 0;
    }
    let (a, b) = if b < 0 { (-a, -b) } else { (a, b) };
    let half = if a < 0 { -(b / 2) } else { b / 2 };
    i64::try_from((a + half) / b).unwrap_or(if a < 0 { i64::MIN } else { i64::MAX })
}

/// The nearest whole number, halves away from 0; none beyond ten to the fifteenth, where a float still holds every whole
/// number.
pub(super) fn whole(value: f64) -> Option<i64> {
    const MOST: f64 = 1e15;
    let rounded = libm::round(value);
    // The cast is exact: the number is whole and small.
    #[allow(clippy::cast_possible_truncation)]
    (rounded.abs() <= MOST).then_some(rounded as i64)
}

/// A whole number as a float; exact below ten to the fifteenth.
pub(super) fn float(value: i64) -> f64 {
    // All that is read is smaller.
    #[allow(clippy::cast_precision_loss)]
    {
        value as f64
    }
}

/// A number as trackers write it: digits, a sign, a point, an exponent; a comma in place of the point where `comma`.
pub(super) fn decimal(text: &str, comma: bool) -> Option<f64> {
    let plain = text.chars().all(|c| {
        c.is_ascii_digit() || matches!(c, '+' | '-' | '.' | 'e' | 'E') || (comma && c == ',')
    });
    if !plain {
        return None;
    }
    let value: f64 = if comma && text.contains(',') {
        if text.contains('.') {
            return None;
        }
        text.replacen(',', ".", 1).parse().ok()?
    } else {
        text.parse().ok()?
    };
    value.is_finite().then_some(value)
}

#[cfg(test)]
mod unit {
    use super::*;

    #[test]
    fn rounds_to_the_nearest() {
        let all = [
            (5, 2, 3),
            (-5, 2, -3),
            (4, 3, 1),
            (-4, 3, -1),
            (7, -2, -4),
            (1, 0, 0),
        ];
        for (a, b, wanted) in all {
            assert_eq!(nearest(a, b), wanted, "{a} / {b}");
        }
        assert_eq!(whole(2.5), Some(3));
        assert_eq!(whole(-2.5), Some(-3));
        assert_eq!(whole(f64::NAN), None);
        assert_eq!(whole(1e16), None);
    }

    #[test]
    fn reads_numbers_and_nothing_else() {
        assert_eq!(decimal("-1.5e-3", false), Some(-0.0015));
        assert_eq!(decimal("0,033", true), Some(0.033));
        for text in ["nan", "inf", "1,5", "", "1 5", "0x1", "1e999", "infinity"] {
            assert_eq!(decimal(text, false), None, "{text}");
        }
        assert_eq!(decimal("1.000,5", true), None);
    }
}
