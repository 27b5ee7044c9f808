//! Numbers that say so when they grow too large.

use rstest::rstest;

use crate::base::At;
use crate::plan::recheck::exact::{
    Stop, less, many, plus, scaled, started, times, total, worth_of,
};
use crate::rules::vocab::{Step, Table};

#[rstest]
#[case::kept(0, 5, 0)]
#[case::more_than_kept(-7, 5, 0)]
#[case::a_started_one(1, 5, 1)]
#[case::a_whole_one(5, 5, 1)]
#[case::one_more(6, 5, 2)]
#[case::the_largest(i64::MAX, 1, i64::MAX)]
#[case::the_largest_by_two(i64::MAX, 2, i64::MAX / 2 + 1)]
fn units(#[case] lack: i64, #[case] unit: i64, #[case] expected: i64) {
    assert_eq!(started(lack, unit), Ok(expected));
}

#[rstest]
#[case::none(7, &[], Ok(7))]
#[case::rounded_down(7, &[50], Ok(3))]
// 15 x 38 x 90 = 51300: 5.13; one after the other it would be 5 x 90 / 100 = 4.
#[case::products_first(15, &[38, 90], Ok(5))]
#[case::below_zero_down_too(-1, &[50], Ok(-1))]
#[case::nothing(9, &[0], Ok(0))]
#[case::too_large(i64::MAX, &[200], Err(Stop::TooLarge))]
#[case::too_many(1, &[100; 20], Err(Stop::TooLarge))]
fn bounds_times(#[case] bound: i64, #[case] percents: &[i64], #[case] expected: Result<i64, Stop>) {
    assert_eq!(scaled(bound, percents), expected);
}

fn table(below_zero: i64, steps: &[(i64, i64)]) -> Table {
    Table {
        below_zero: At::nowhere(below_zero),
        steps: steps
            .iter()
            .map(|&(to, each)| At::nowhere(Step { to, each }))
            .collect(),
        because: String::new(),
        source: Default::default(),
    }
}

#[rstest]
#[case::below(-3, Ok(-21))]
#[case::zero(0, Ok(0))]
#[case::first_step(3, Ok(18))]
#[case::end_of_the_first(4, Ok(24))]
#[case::second_step(6, Ok(34))]
#[case::falling(10, Ok(42))]
#[case::beyond(99, Ok(42))]
#[case::too_far_below(i64::MIN, Err(Stop::TooLarge))]
fn tables(#[case] sum: i64, #[case] expected: Result<i64, Stop>) {
    assert_eq!(
        worth_of(&table(7, &[(4, 6), (8, 5), (10, -1)]), sum),
        expected
    );
}

#[test]
fn a_step_may_be_too_large() {
    assert_eq!(
        worth_of(&table(1, &[(i64::MAX, 2)]), i64::MAX),
        Err(Stop::TooLarge)
    );
    assert_eq!(
        worth_of(&table(1, &[(i64::MAX, 1)]), i64::MAX),
        Ok(i64::MAX)
    );
}

#[test]
fn sums_do_not_wrap() {
    assert_eq!(plus(i64::MAX, 1), Err(Stop::TooLarge));
    assert_eq!(less(i64::MIN, 1), Err(Stop::TooLarge));
    assert_eq!(times(i64::MAX, 2), Err(Stop::TooLarge));
    assert_eq!(total([Ok(i64::MAX), Ok(-1), Ok(1)]), Ok(i64::MAX));
    assert_eq!(total([Ok(i64::MAX), Ok(1)]), Err(Stop::TooLarge));
    assert_eq!(total([Ok(1), Err(Stop::Dangling)]), Err(Stop::Dangling));
    assert_eq!(many(["a", "b"]), Ok(2));
}
