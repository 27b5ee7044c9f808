//! What is printed for people fits a page: 80 columns, a reason under every line, none that tires.

use std::collections::BTreeMap;

use drillwright::report::{Layout, Reasons};
use rstest::rstest;

use super::{QUICK, answer, coach, kept};

#[track_caller]
fn assert_fits(text: &str, what: &str) {
    assert!(!text.is_empty(), "{what}");
    assert!(
        !text.contains(" \n") || what.contains("--help"),
        "{what}: spaces at an end"
    );
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{what}: {line}");
    }
}

#[rstest]
#[case(&[])]
#[case(&["--reasons", "full"])]
#[case(&["week", "tests/cases/acute-pain.yaml"])]
#[case(&["--nodes", "1"])]
#[case(&["faults"])]
#[case(&["exercises"])]
#[case(&["exercises", "--fault", "saved-backward", "--skill", "snatch"])]
#[case(&["ladder", "no-contact-snatch"])]
#[case(&["check", "rules"])]
#[case(&["review", "tests/cli/log.csv", "examples/coach/demo.yaml"])]
#[case(&["review", "--help"])]
#[case(&["--help"])]
#[case(&["week", "--help"])]
#[case(&["track", "--help"])]
#[case(&["block", "--help"])]
fn every_page_has_80_columns_at_most(#[case] arguments: &[&str]) {
    assert_fits(&coach(arguments).out, &arguments.join(" "));
}

#[test]
fn weeks_of_kept_cases_fit_in_brief_and_in_full() {
    for case in QUICK {
        let answer = answer(&kept(case));
        for reasons in [Reasons::Brief, Reasons::Full] {
            assert_fits(&answer.text(Layout::new().with_reasons(reasons)), case);
        }
    }
}

#[test]
fn every_line_of_a_week_has_a_sentence_of_its_own() {
    for case in QUICK {
        let answer = answer(&kept(case));
        let week = answer.week().unwrap();
        let mut said: BTreeMap<String, usize> = BTreeMap::new();
        let mut items = 0;
        for item in week.sessions.iter().flat_map(|session| &session.items) {
            let why = week.why(item);
            // One sentence, on its line.
            assert!(why.chars().count() <= 69, "{case}: {why}");
            assert!(why.ends_with('.') && why.len() > 10, "{case}: {why}");
            assert!(!why.trim_end_matches('.').contains(". "), "{case}: {why}");
            // None that only names a rule: the rule files have words for it.
            assert!(!why.contains("The rule “"), "{case}: {why}");
            *said.entry(why).or_default() += 1;
            items += 1;
        }
        assert!(said.values().all(|times| *times < 3), "{case}: {said:?}");
        assert!(said.len() * 3 >= items * 2, "{case}: {said:?}");
    }
}

#[test]
fn full_reasons_name_rules_places_and_sources() {
    let text = coach(&["--reasons", "full"]).out;
    let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for says in [
        // From what was seen to the constraint: fault, cause, focus, exercise, constraint, dose.
        "[faults.saved-backward, faults.yaml:",
        "[observations.hip-bang-heard, observations.yaml:",
        "[causes.bar-swung-out, causes.yaml:",
        "[rules.focus.focus-general, rules-",
        "[axes.constraints.no-contact, axes.yaml:",
        "[rules.dose.dose-primer, rules-doses.yaml:",
        "[layouts.four-days-mixed, layouts.yaml:",
        // What the sources are that were named.
        "Sources",
        "common-practice: common practice:",
        "expert-set: expert-set by",
    ] {
        assert!(flat.contains(says), "{says}");
    }
    // Every line that is cited is the line on which the item stands.
    let mut places = 0;
    for cite in flat
        .split('[')
        .skip(1)
        .filter_map(|rest| rest.split(']').next())
    {
        let Some((path, rest)) = cite.split_once(", ") else {
            continue;
        };
        let Some((file, rest)) = rest.split_once(".yaml:") else {
            continue;
        };
        let line: usize = rest.split(':').next().unwrap().parse().unwrap();
        let text =
            std::fs::read_to_string(super::root().join(format!("rules/{file}.yaml"))).unwrap();
        let line = text.lines().nth(line - 1).unwrap();
        let id = path.rsplit('.').next().unwrap();
        assert!(
            line.trim_start().starts_with(&format!("{id}:")),
            "{cite}: {line}"
        );
        places += 1;
    }
    assert!(places > 50, "{places} places");
}

#[test]
fn the_program_prints_what_the_library_writes() {
    let library = answer("examples/coach/demo.yaml").text(Layout::new());
    assert_eq!(
        coach(&[]).out,
        library,
        "the example is older than the library: build it again"
    );
}
