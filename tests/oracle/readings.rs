//! What the description once left to the reader, worked out by hand, for oracle and crate alike.

use rstest::rstest;

use super::Oracle;
use super::crate_says::{Said, solved};
use super::kinds::small::{case, judge_in, pack_in};

const HELP: &str = "\n  help-worth: {worth: {table: steps}}";
const ASTRAY: &str = "faults: [{fault: astray, grade: faint}]";
/// One unit where something of it stands.
fn none_of(what: &str) -> String {
    format!("\n  count: {{it: {{what: {what}, per: week, at-most: 0, yields: last}}}}")
}

#[track_caller]
fn assert_missed(changes: &[(&str, &str)], rules: &str, case_lines: &str, week: &str, units: i64) {
    let verdict = judge_in(changes, rules, case_lines, week);
    assert!(verdict.hard_broken.is_empty(), "{verdict:?}");
    assert_eq!(verdict.missed, [units, 0, 0], "{verdict:?}");
}

/// The crate's best week, which is as good as the oracle's.
fn best(changes: &[(&str, &str)], rules: &str, case_lines: &str) -> (i64, Vec<Vec<String>>) {
    let (files, case) = (pack_in(changes, rules), case(case_lines));
    let best = Oracle::new(&files, &case).best().0.unwrap();
    let Said::Week {
        missed,
        worth,
        tie,
        week,
        ..
    } = solved(&files, &case)
    else {
        panic!("no week")
    };
    assert_eq!((missed, worth, tie), (best.missed, best.worth, best.tie));
    let ids = |day: Vec<super::Placed>| day.into_iter().map(|(_, _, id)| id).collect();
    (worth, week.into_iter().map(ids).collect())
}

/// One day of two items, and one of the whole pack's exercises each.
const ONE_DAY: [(&str, &str); 2] = [
    (
        "{day: 1, effort: stout, marks: [feast], parts: [{part: main, at-most: 3}]}",
        "{day: 1, effort: stout, marks: [feast], parts: [{part: main, at-most: 2}]}",
    ),
    (
        "      - {day: 3, effort: mild, parts: [{part: main, at-most: 3}, {part: end, at-most: 3}]}\n      - {day: 4, effort: stout, marks: [fast], parts: [{part: main, at-most: 3}]}\n",
        "",
    ),
];

const ONLY_TWO: &str = "
  exclude: {others: {what: {not: [{exercises: [swaling, tied-swaling], alone: true}]}, yields: never}}
  count: {both: {what: {everything: true}, per: week, at-least: 2, yields: never}}";

#[test]
fn an_order_is_chosen_for_what_it_earns() {
    // By ids swaling would stand first; after the tied one it earns 2 points, 200 hundredths.
    let rules = format!(
        "{ONLY_TWO}\n  followed: {{it: {{what: {{with-any: [tether]}}, by: {{unconstrained: true}}, within: week, closer-by: 2, yields: first}}}}"
    );
    let (worth, week) = best(&ONE_DAY, &rules, "");
    assert_eq!(
        (worth, &week[0]),
        (200, &vec!["tied-swaling".to_owned(), "swaling".to_owned()])
    );
    // With nothing earned the first by ids stands.
    let (worth, week) = best(&ONE_DAY, ONLY_TWO, "");
    assert_eq!(
        (worth, &week[0]),
        (0, &vec!["swaling".to_owned(), "tied-swaling".to_owned()])
    );
}

#[test]
fn an_order_that_misses_more_earns_nothing() {
    // The prime must come first; that outweighs the 2 points.
    let rules = format!(
        "{ONLY_TWO}\n  before: {{first: {{first: {{exercises: [swaling]}}, then: {{everything: true}}, yields: first}}}}
  followed: {{it: {{what: {{with-any: [tether]}}, by: {{unconstrained: true}}, within: week, closer-by: 2, yields: first}}}}"
    );
    // Either way one unit: in the one order for `before`, in the other for `followed`; so the points decide.
    assert_eq!(best(&ONE_DAY, &rules, "").0, 200);
    let soft = rules.replace("closer-by: 2, yields: first", "closer-by: 2, yields: last");
    assert_eq!(best(&ONE_DAY, &soft, "").0, 200);
    let hard = rules.replace(
        "{everything: true}, yields: first",
        "{everything: true}, yields: middle",
    );
    assert_eq!(best(&ONE_DAY, &hard, "").0, 0);
}

#[rstest]
// Of 110: 70 percent are 77.
#[case(&[("load-percent: 90", "load-percent: 110")], (69, 77))]
// The root states 100, and the variation departs by more: never above it.
#[case(&[("load-percent: 90", "load-percent: 110"), ("swaling: {skills: [swale],", "swaling: {highest: {percent: 100}, skills: [swale],")], (62, 70))]
// The root states 80: 88, and never above 80, of which 70 percent are 56.
#[case(&[("load-percent: 90", "load-percent: 110"), ("swaling: {skills: [swale],", "swaling: {highest: {percent: 80}, skills: [swale],")], (48, 56))]
fn a_root_that_states_no_highest_caps_nothing(
    #[case] changes: &[(&str, &str)],
    #[case] percent: (i64, i64),
) {
    let rules = "
  count: {it: {what: {exercises: [halt-swaling]}, per: week, at-least: 1, yields: never}}
  prefer: {early: {what: {everything: true}, weight: -1}}
  cap: {low: {what: {exercises: [halt-swaling]}, percent-of-own-highest-at-most: 70}}";
    let files = pack_in(changes, rules);
    let oracle = Oracle::new(&files, &case(""));
    let item = oracle.item(0, "main", "mend", "halt-swaling").unwrap();
    assert_eq!(item.done.percent, Some(percent));
    let base = drillwright::KnowledgeBase::from_texts(files).unwrap();
    let case = base.case_from_text("case.yaml", &case("")).unwrap();
    let plan = base.solve(&case).unwrap().into_week().unwrap();
    assert_eq!(plan.sessions[0].items[0].percent, Some(percent));
}

#[rstest]
// Light-tarning trains tarn and moor; of drift's stages moor has noon. Both carry half to swale: of
// 2 half points 1, at 5 points each, times a demand of 60.
#[case("[tarn, moor]", "moor: {stages: [noon]}", 300)]
// With nobody's noon nothing is carried.
#[case("[tarn, moor]", "moor: {stages: [rise]}", 0)]
// Only tarn: it has no noon.
#[case("[tarn]", "moor: {stages: [noon]}", 0)]
fn carried_over_by_all_skills_together(
    #[case] skills: &str,
    #[case] moor: &str,
    #[case] worth: i64,
) {
    let tarning = format!("tarning: {{skills: {skills},");
    let changes = [
        (
            "tarn: {stages: [rise, noon], reference",
            "tarn: {stages: [rise], reference",
        ),
        ("moor: {}", moor),
        ("tarning: {skills: [tarn],", tarning.as_str()),
    ];
    let rules = format!(
        "{HELP}\n  carry-over:\n    tarn: {{from: tarn, to: swale, causes: [drift], percent: 50}}\n    moor: {{from: moor, to: swale, causes: [drift], percent: 50}}\n  dose: {{all: {{what: {{everything: true}}, give: usual}}}}"
    );
    let verdict = judge_in(&changes, &rules, ASTRAY, "light-tarning mend | |");
    assert_eq!(verdict.worth, worth, "{verdict:?}");
}

#[test]
fn points_of_a_complex_are_never_below_zero() {
    let changes = [(
        "      percent-less: 5",
        "      stress: {limb: -3}\n      percent-less: 5",
    )];
    // Swaling's 3 alone.
    let rules = "\n  stress: {it: {of: limb, per: week, at-most: 0, yields: last}}";
    assert_missed(
        &changes,
        rules,
        "",
        "swaling prime, tied-then-free mend | |",
        3,
    );
}

const STAND_IN: &str = "
  exclude: {out: {what: {exercises: [swaling], alone: true}, yields: never}}
  fullest: {stands-in: {of: swaling, when-ruled-out-by: [ails]}}";

#[rstest]
// The halting one departs least.
#[case(&[], "halt-swaling prime | |", 1)]
#[case(&[], "tied-swaling plain | |", 0)]
// Without the role of the full form it can't stand in: the tied one does.
#[case(&[("halt-swaling: {from: swaling, with: [halting], roles: [mend, prime, plain]}", "halt-swaling: {from: swaling, with: [halting], roles: [mend, plain]}")], "halt-swaling plain | |", 0)]
#[case(&[("halt-swaling: {from: swaling, with: [halting], roles: [mend, prime, plain]}", "halt-swaling: {from: swaling, with: [halting], roles: [mend, plain]}")], "tied-swaling prime | |", 1)]
// The form itself, as a part of a complex, is no longer meant.
#[case(&[], "tied-then-free mend | |", 0)]
fn what_stands_in_may_take_the_form_s_role(
    #[case] changes: &[(&str, &str)],
    #[case] week: &str,
    #[case] units: i64,
) {
    let rules = format!("{STAND_IN}{}", none_of("{full: [swaling]}"));
    assert_missed(changes, &rules, "", week, units);
}

#[rstest]
// No focus rule: both, though the one opposes the other.
#[case("", 1)]
// One speaks: the other waits.
#[case("\n  focus: {few: {per-skill-at-most: 5}}", 0)]
// Lag has a demand of 40. Of two rules the strictest counts.
#[case(
    "\n  focus: {few: {per-skill-at-most: 5, demand-at-least: 30}, fewer: {per-skill-at-most: 5, demand-at-least: 50}}",
    0
)]
fn opposed_causes_wait_only_where_a_rule_says_so(#[case] focus: &str, #[case] units: i64) {
    let opposes = [(
        "lag: {stages: [dawn, dusk], develops: grace}",
        "lag: {stages: [dawn, dusk], develops: grace, opposes: [drift]}",
    )];
    let changes: &[(&str, &str)] = if focus.contains("demand") {
        &[]
    } else {
        &opposes
    };
    let rules = format!(
        "{HELP}{focus}\n  count: {{it: {{when: {{focus-causes: [lag]}}, what: {{everything: true}}, per: week, at-most: 0, yields: last}}}}"
    );
    assert_missed(changes, &rules, ASTRAY, "swaling prime | |", units);
}

#[rstest]
#[case("by-skill: {moor: {standing: green}, tarn: {mood: calm}}", 0)]
#[case("by-skill: {moor: {standing: green, mood: calm}}", 1)]
fn one_skill_passes_all_its_fields(#[case] by_skill: &str, #[case] units: i64) {
    let changes = [
        (
            "mooring: {skills: [moor],",
            "mooring: {skills: [moor, tarn],",
        ),
        (
            "    standing: {values: [green, ripe], by-skill: true}\n",
            "    standing: {values: [green, ripe], by-skill: true}\n    mood: {values: [calm, wild], by-skill: true}\n",
        ),
    ];
    let rules = none_of("{case-of-skill: {standing: {is: [green]}, mood: {is: [calm]}}}");
    assert_missed(&changes, &rules, by_skill, "mooring plain | |", units);
}

#[test]
fn what_has_no_reference_has_no_percent() {
    let rules = format!(
        "{}\n  dose: {{all: {{what: {{everything: true}}, give: usual}}}}",
        none_of("{percent: {at-least: 1}}")
    );
    assert_missed(&[], &rules, "", "mooring plain | |", 0);
    assert_missed(&[], &rules, "", "swaling prime | |", 1);
}

#[rstest]
// Tagged is strong and does not depart: it is freer than tied all the same.
#[case("tag: {strong: true}", 0)]
#[case("tag: {strong: true, departs: 1}", 1)]
fn only_what_departs_may_be_too_strong(#[case] tag: &str, #[case] units: i64) {
    let feather = "feather: {effect: {drift: 1, lag: 1}, departs: 1, trains: {force: -1}}";
    let both = format!("{feather}\n      {tag}");
    let changes = [
        (feather, both.as_str()),
        (
            "    light-tarning:",
            "    tag-swaling: {from: swaling, with: [tag], roles: [mend, prime, plain]}\n    light-tarning:",
        ),
    ];
    let rules = "\n  followed: {it: {what: {exercises: [tied-swaling]}, by: {everything: true}, within: session, yields: last}}";
    assert_missed(
        &changes,
        rules,
        "",
        "tied-swaling mend, tag-swaling plain | |",
        units,
    );
    // The model says the same: with both in the week, it is followed or not.
    let rules = format!(
        "{rules}\n  exclude: {{others: {{what: {{not: [{{exercises: [tied-swaling, tag-swaling]}}]}}, yields: never}}}}\n  count: {{both: {{what: {{everything: true}}, per: week, at-least: 2, yields: never}}, one: {{what: {{exercises: [tied-swaling]}}, per: week, at-least: 1, yields: never}}}}\n  alike: {{once: {{what: {{exercises: [tied-swaling]}}, same: parent, at-most: 1, yields: never}}}}"
    );
    best(
        &ONE_DAY.iter().chain(&changes).copied().collect::<Vec<_>>(),
        &rules,
        "",
    );
}

#[rstest]
// 7 above the total are two units of four, and each of two sets is one above: one unit each.
#[case("together: session, unit: 4", "swaling prime, tarning prime | |", 4)]
#[case("together: session, unit: 7", "swaling prime, tarning prime | |", 3)]
#[case("together: session, unit: 9", "swaling prime, tarning prime | |", 3)]
fn each_bound_is_rounded_by_itself(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!(
        "\n  volume: {{it: {{what: {{everything: true}}, table: bands, {rule}, yields: last}}}}"
    );
    assert_missed(&[], &rules, "", week, units);
}
