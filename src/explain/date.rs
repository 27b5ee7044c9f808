//! Days since 1970-01-01 as calendar dates.

/// A day as YYYY-MM-DD, in the Gregorian calendar carried on both ways.
pub(crate) fn day_in_words(days: i64) -> String {
    // Years are taken from March on, so that the leap day is the last of a year; 400 years have
    // 146 097 days.
    let days = days + 719_468;
    let era = days.div_euclid(146_097);
    let in_era = days.rem_euclid(146_097);
    let year = (in_era - in_era / 1_460 + in_era / 36_524 - in_era / 146_096) / 365;
    let in_year = in_era - (365 * year + year / 4 - year / 100);
    let month = (5 * in_year + 2) / 153;
    let day = in_year - (153 * month + 2) / 5 + 1;
    let (year, month) = if month < 10 {
        (year, month + 3)
    } else {
        (year + 1, month - 9)
    };
    format!("{:04}-{month:02}-{day:02}", era * 400 + year)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::day_in_words;

    #[rstest]
    #[case(0, "1970-01-01")]
    #[case(-1, "1969-12-31")]
    #[case(11_016, "2000-02-29")]
    #[case(11_017, "2000-03-01")]
    #[case(19_782, "2024-02-29")]
    #[case(20_514, "2026-03-02")]
    fn names_days(#[case] days: i64, #[case] wanted: &str) {
        assert_eq!(day_in_words(days), wanted);
    }
}
