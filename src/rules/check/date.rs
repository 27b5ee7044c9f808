//! Calendar dates.

/// Days from 1970-01-01 to a date written YYYY-MM-DD; none if there is no such day.
pub(crate) fn days_of(text: &str) -> Option<i64> {
    let bytes = text.as_bytes();
    if bytes.len() != 10 || bytes.get(4) != Some(&b'-') || bytes.get(7) != Some(&b'-') {
        return None;
    }
    let number = |from: usize, to: usize| {
        let digits = text.get(from..to)?;
        digits
            .bytes()
            .all(|b| b.is_ascii_digit())
            .then(|| digits.parse::<i64>().ok())
            .flatten()
    };
    let (year, month, day) = (number(0, 4)?, number(5, 7)?, number(8, 10)?);
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let longest = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => return None,
    };
    if day < 1 || day > longest || year < 1 {
        return None;
    }
    // Years are taken from March on, so that the leap day is the last of a year.
    let shifted = if month <= 2 { year - 1 } else { year };
    let months = (month + 9) % 12;
    let before_year = shifted * 365 + shifted / 4 - shifted / 100 + shifted / 400;
    let in_year = (153 * months + 2) / 5 + day - 1;
    Some(before_year + in_year - 719_468)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::days_of;

    #[rstest]
    #[case("1970-01-01", Some(0))]
    #[case("1969-12-31", Some(-1))]
    #[case("2000-02-29", Some(11_016))]
    #[case("2000-03-01", Some(11_017))]
    #[case("1900-02-29", None)]
    #[case("2023-02-29", None)]
    #[case("2024-02-29", Some(19_782))]
    #[case("2026-04-31", None)]
    #[case("2026-13-01", None)]
    #[case("2026-00-10", None)]
    #[case("2026-1-10", None)]
    #[case("2026-01-1", None)]
    #[case("0000-01-01", None)]
    #[case("26-01-10", None)]
    #[case("2026/01/10", None)]
    #[case("2026-01-1é", None)]
    fn reads_days(#[case] text: &str, #[case] days: Option<i64>) {
        assert_eq!(days_of(text), days);
    }

    #[test]
    fn every_day_follows_the_one_before() {
        let mut last = days_of("1899-12-31").unwrap_or(0);
        for year in 1900..2110 {
            for month in 1..=12 {
                for day in 1..=31 {
                    if let Some(days) = days_of(&format!("{year:04}-{month:02}-{day:02}")) {
                        assert_eq!(days, last + 1);
                        last = days;
                    }
                }
            }
        }
    }
}
