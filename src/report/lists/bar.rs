//! Small bars beside figures.

/// How long the longest bar of an overview is.
const BAR: usize = 5;

/// A bar of full and empty places: one where a value is the least of the block, all where it is the most; but where these
/// are near each other, fewer, so that little does not look like much.
pub(super) fn bar(value: i64, (least, most): (i64, i64)) -> String {
    let places = i64::try_from(BAR).unwrap_or(1) - 1;
    let span = (most - least).max(most / 8).max(1);
    let full = 1 + (2 * (value - least) * places + span) / (2 * span);
    let full = usize::try_from(full).unwrap_or(0).min(BAR);
    format!("{}{}", "■".repeat(full), "·".repeat(BAR - full))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::bar;

    #[rstest]
    #[case::the_least(60, (60, 100), "■····")]
    #[case::half_way(80, (60, 100), "■■■··")]
    #[case::the_most(100, (60, 100), "■■■■■")]
    #[case::all_alike(70, (70, 70), "■····")]
    #[case::nothing(0, (0, 0), "■····")]
    #[case::nearly_alike(30, (29, 30), "■■···")]
    #[case::some_points(71, (67, 71), "■■■··")]
    fn a_bar_is_as_long_as_the_value_is_above_the_least(
        #[case] value: i64,
        #[case] ends: (i64, i64),
        #[case] drawn: &str,
    ) {
        assert_eq!(bar(value, ends), drawn);
    }
}
