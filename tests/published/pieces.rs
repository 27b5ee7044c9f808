//! Bar, collars, discs and their order.

use std::collections::BTreeSet;

use rstest::rstest;

use super::probe::placed;
use crate::corpus;

/// The discs of the International Weightlifting Federation's technical and competition rules, as
/// printed by a federation and a games organiser (A), in grams.
const DISCS: [i64; 10] = [
    25_000, 20_000, 15_000, 10_000, 5_000, 2_500, 2_000, 1_500, 1_000, 500,
];

/// IWF rules (A): bar 20 kg for men, 15 kg for women; collars 2.5 kg each. In every solved week the
/// load is the bar, its collars, and the same discs on both sides.
#[rstest]
#[case::men("mens-bar", 25_000)]
#[case::women("womens-bar", 20_000)]
#[case::men_with_clips("mens-bar-without-collars", 20_000)]
#[case::women_with_clips("womens-bar-without-collars", 15_000)]
fn a_load_is_bar_and_collars_and_the_same_on_both_sides(#[case] bar: &str, #[case] empty: i64) {
    let mut seen = 0;
    for (solved, _, item) in corpus::items() {
        let Some(load) = item
            .load
            .as_ref()
            .filter(|load| load.bar.bar.as_str() == bar)
        else {
            continue;
        };
        for (whole, pieces) in [(load.low, &load.low_pieces), (load.high, &load.high_pieces)] {
            let side: i64 = pieces.iter().map(|piece| piece.thousandths()).sum();
            assert_eq!(
                whole.thousandths(),
                empty + 2 * side,
                "{}: {}",
                solved.name,
                item.name
            );
            assert_eq!(load.unit, "kg");
            seen += 1;
        }
    }
    assert!(seen >= 10, "only {seen} loads on this bar");
}

/// IWF rules (A): the weights of the discs. No other stands on a bar of kilograms, and all are used.
#[test]
fn only_standard_discs_are_used() {
    let mut used = BTreeSet::new();
    for (_, _, item) in corpus::items() {
        if let Some(load) = item.load.as_ref().filter(|load| load.unit == "kg") {
            used.extend(
                load.low_pieces
                    .iter()
                    .chain(&load.high_pieces)
                    .map(|piece| piece.thousandths()),
            );
        }
    }
    assert_eq!(used, DISCS.into_iter().collect());
}

/// IWF rules (A): the standard colours, red, blue, yellow, green, white, repeated. Read from the
/// rule file: no week names a colour.
#[rstest]
fn discs_have_their_colours(#[values(0, 1, 2, 3, 4, 5, 6, 7, 8, 9)] at: usize) {
    const COLOURS: [&str; 5] = ["red", "blue", "yellow", "green", "white"];
    let files = corpus::texts("rules");
    let text = &files
        .iter()
        .find(|(name, _)| name == "measures.yaml")
        .unwrap()
        .1;
    let file: serde_yaml::Value = serde_yaml::from_str(text).unwrap();
    let piece = &file["measures"]["kg"]["pieces"][at];
    let grams = (piece["weight"].as_f64().unwrap() * 1_000.0) as i64;
    assert_eq!(grams, DISCS[at]);
    assert_eq!(piece["colour"].as_str(), Some(COLOURS[at % 5]));
}

/// Technical handbook of a games organiser, 2002 (A): the heaviest disc innermost.
#[test]
fn the_heaviest_disc_is_innermost() {
    let mut seen = 0;
    for (solved, _, item) in corpus::items() {
        for pieces in item
            .load
            .iter()
            .flat_map(|load| [&load.low_pieces, &load.high_pieces])
        {
            assert!(
                pieces.is_sorted_by(|inner, outer| inner >= outer),
                "{}: {pieces:?}",
                solved.name
            );
            seen += usize::from(pieces.len() > 1);
        }
    }
    assert!(seen > 500, "{seen}");
}

/// Worked out from the IWF rules (C): 100 kg on a bar of 20 kg with collars is 37.5 kg a side, 25 + 10 + 2.5.
#[test]
fn a_hundred_kilograms_are_twenty_five_ten_and_two_and_a_half() {
    let load = placed("snatch", &[("best-snatch", "100")]).load.unwrap();
    assert_eq!(load.high.to_string(), "100");
    let side: Vec<String> = load.high_pieces.iter().map(ToString::to_string).collect();
    assert_eq!(side, ["25", "10", "2.5"]);
}

/// IWF rules (A): loads rise by 1 kg. Each whole kilogram is made exactly, and what lies between
/// goes down to it.
#[rstest]
#[case("101", "101")]
#[case("102", "102")]
#[case("103", "103")]
#[case("104", "104")]
#[case("105", "105")]
#[case("106", "106")]
#[case("107", "107")]
#[case("108", "108")]
#[case("109", "109")]
#[case("109.5", "109")]
#[case("109.9", "109")]
fn the_step_is_one_kilogram(#[case] best: &str, #[case] made: &str) {
    let load = placed("snatch", &[("best-snatch", best)]).load.unwrap();
    assert_eq!(load.high.to_string(), made);
}
