//! Loads that can be made, and `least-load`.

use rstest::rstest;

use super::small::{case, judge, pack};
use crate::oracle::Oracle;
use crate::oracle::text::Load;

fn load(case_lines: &str, reference: &str, percent: i64) -> Option<Load> {
    let (pack, case, reference) = (pack(""), case(case_lines), reference.to_owned());
    let oracle = Oracle::new(&pack, &case);
    let lightest = oracle
        .best_of(&reference)
        .map_or(0, |best| best * percent / 100);
    oracle.load(&oracle.bar_for(lightest), Some(&reference), percent)
}

#[rstest]
// 72 % of 100 are 72. The bar with collars is 25; pairs add 20 and 5: 70.
#[case("bests: {high-swale: 100}", "high-swale", 72, Some(70_000))]
#[case("bests: {high-swale: 100}", "high-swale", 80, Some(80_000))]
// Without collars 20: 70, and 74 as 70.
#[case(
    "bests: {high-swale: 100}; gym: {collars: false}",
    "high-swale",
    72,
    Some(70_000)
)]
#[case(
    "bests: {high-swale: 100}; gym: {collars: false}",
    "high-swale",
    79,
    Some(75_000)
)]
// Never below the empty bar.
#[case("bests: {high-swale: 30}", "high-swale", 60, Some(25_000))]
// One pair of 10 and two of 2.5: 25 + 20 + 10 = 55 at most.
#[case(
    "bests: {high-swale: 100}; gym: {pairs: [{weight: 10, pairs: 1}, {weight: 2.5, pairs: 2}]}",
    "high-swale",
    72,
    Some(55_000)
)]
#[case(
    "bests: {high-swale: 100}; gym: {pairs: [{weight: 10, pairs: 3}]}",
    "high-swale",
    72,
    Some(65_000)
)]
// 120 % of 50.5 are 60.6, of which 72 % are 43.632: 25 + 3 × 5.
#[case("bests: {high-swale: 50.5}", "high-tarn", 72, Some(40_000))]
// The best itself is known.
#[case(
    "bests: {high-swale: 50.5, high-tarn: 100}",
    "high-tarn",
    72,
    Some(70_000)
)]
// 18 are less than the bar, and more than the light one: 8 + 2 × 5.
#[case(
    "bests: {high-swale: 30}; gym: {other-bars: [twig]}",
    "high-swale",
    60,
    Some(18_000)
)]
// 25.2 are not: the bar itself, with its collars.
#[case(
    "bests: {high-swale: 35}; gym: {other-bars: [twig]}",
    "high-swale",
    72,
    Some(25_000)
)]
// Lighter than both.
#[case(
    "bests: {high-swale: 12}; gym: {other-bars: [twig]}",
    "high-swale",
    60,
    Some(8_000)
)]
#[case("", "high-swale", 72, None)]
fn loads(
    #[case] case_lines: &str,
    #[case] reference: &str,
    #[case] percent: i64,
    #[case] thousandths: Option<i64>,
) {
    assert_eq!(load(case_lines, reference, percent), thousandths.map(Load));
}

#[rstest]
// The low end on a mild day is 60 %: of 100 that is 60, on a stout one 72, loaded as 70.
#[case("at-least: 60", "bests: {high-swale: 100}", true)]
#[case("at-least: 60.5", "bests: {high-swale: 100}", false)]
// The bar with collars and a pair of 10 is 45; 60 % of 75 are 45, of 72 only 43.2, loaded as 40.
#[case("lightest-full-diameter: true", "bests: {high-swale: 75}", true)]
#[case("lightest-full-diameter: true", "bests: {high-swale: 72}", false)]
// 40 are 54 % of 74, too far below 60 %: the high end alone is asked for, 68 %, loaded as 50.
#[case("lightest-full-diameter: true", "bests: {high-swale: 74}", true)]
// On the light bar a pair of 10 makes 28.
#[case(
    "lightest-full-diameter: true",
    "bests: {high-swale: 40}; gym: {other-bars: [twig]}",
    false
)]
// What only says something rules nothing out.
#[case(
    "at-least: 60.5, say: {en: too light}",
    "bests: {high-swale: 100}",
    true
)]
// Nothing is known, so nothing is ruled out.
#[case("at-least: 60.5", "", true)]
fn least_load(#[case] rule: &str, #[case] case_lines: &str, #[case] there: bool) {
    let rules = format!("\n  least-load: {{it: {{what: {{skills: [swale]}}, {rule}}}}}");
    let expected: &[&str] = if there { &[] } else { &["it"] };
    assert_eq!(
        judge(&rules, case_lines, "| swaling prime |").hard_broken,
        expected
    );
    // Of the other skill it says nothing.
    assert!(
        judge(&rules, case_lines, "| tarning prime |")
            .hard_broken
            .is_empty()
    );
}
