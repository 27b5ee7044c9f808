//! How much and how heavy the weeks of the cases are: figures beside ranges from sources and trade.

use std::collections::BTreeMap;

use drillwright::explain::Plan;

use crate::corpus::{BASE, weeks};

#[path = "../examples/spread/measure.rs"]
mod measure;

use measure::{Figure, entries, figures, is_partial, minutes};

/// Weeks whose figure lies outside, each with why it may.
const EXPLAINED: [(&str, Figure, &str); 0] = [];

fn whole() -> impl Iterator<Item = (&'static str, &'static Plan)> {
    weeks()
        .filter(|(_, plan)| !is_partial(plan))
        .map(|(solved, plan)| (solved.name.trim_end_matches(".yaml"), plan))
}

/// Every figure of every week lies in its range, or it is said why not.
#[test]
fn figures_lie_in_their_ranges() {
    let entries = entries(&BASE);
    let mut outside = Vec::new();
    let mut seen = 0;
    for (name, plan) in whole() {
        for (figure, value) in figures(&entries, plan, minutes(plan)) {
            seen += 1;
            let ((least, most), _) = figure.range(plan.phase.as_str());
            let is_explained = EXPLAINED
                .iter()
                .any(|(held, of, _)| *held == name && *of == figure);
            if (least..=most).contains(&value) == is_explained {
                outside.push(format!("{name}: {}: {value}", figure.name()));
            }
        }
    }
    assert!(seen > 1_000, "{seen}");
    assert!(outside.is_empty(), "{outside:#?}");
}

/// From preparation to the meet correctives give way to the full lifts, and loads rise until the last week,
/// which has none of the first.
#[test]
fn shares_move_with_the_phase() {
    let entries = entries(&BASE);
    let mut all: BTreeMap<(Figure, &str), Vec<i64>> = BTreeMap::new();
    for (_, plan) in whole().filter(|(_, plan)| !plan.focus.is_empty()) {
        for (figure, value) in figures(&entries, plan, minutes(plan)) {
            all.entry((figure, plan.phase.as_str()))
                .or_default()
                .push(value);
        }
    }
    let median = |figure: Figure, phase: &str| {
        let mut values = all[&(figure, phase)].clone();
        values.sort_unstable();
        values[values.len() / 2]
    };
    let phases = ["general", "specific", "competition", "last-week"];
    for pair in phases.windows(2) {
        let (before, after) = (pair[0], pair[1]);
        let falls = |figure| median(figure, before) > median(figure, after);
        assert!(falls(Figure::CorrectiveShare), "{before} {after}");
        // In the last week primers take the place of drills beside the lifts.
        if after != "last-week" {
            assert!(!falls(Figure::FullLiftShare), "{before} {after}");
        }
        assert_eq!(
            falls(Figure::MeanPercent),
            after == "last-week",
            "{before} {after}"
        );
    }
}
