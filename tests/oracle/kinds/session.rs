//! `alike`, `count` and `stress` of a session, `exclude`, `lighter`, `minutes`, `needs`, `volume`, slots.

use rstest::rstest;

use super::small::{judge, missed};

fn alike_rule(same: &str, at_most: i64) -> String {
    format!(
        "\n  alike: {{it: {{what: {{everything: true}}, same: {same}, at-most: {at_most}, yields: last}}}}"
    )
}

#[rstest]
// Two of the root swaling, one of tarning.
#[case("root", 1, "swaling prime, halt-swaling mend, tarning prime | |", 1)]
// The complex has the root swaling once, though two components do.
#[case("root", 1, "tied-then-free mend | |", 0)]
#[case("root", 1, "tied-then-free mend, swaling prime | |", 1)]
// Each session by itself: two on each of two days.
#[case(
    "skill",
    1,
    "swaling prime, halt-swaling mend | | swaling prime, tied-swaling mend",
    2
)]
#[case(
    "skill",
    2,
    "swaling prime, halt-swaling mend | | swaling prime, tied-swaling mend",
    0
)]
// Swaling stands for itself, and both variations stand under it: three, two too many.
#[case(
    "parent",
    1,
    "swaling prime, halt-swaling mend, tied-swaling mend | |",
    2
)]
// Tied-halt-swaling stands under halt-swaling, so swaling has only itself and halt-swaling.
#[case(
    "parent",
    1,
    "swaling prime, halt-swaling mend, tied-halt-swaling mend | |",
    1
)]
// The complex does tied-swaling first: it stands under that, alone.
#[case("parent", 1, "swaling prime, tied-then-free mend | |", 0)]
fn alike(#[case] same: &str, #[case] at_most: i64, #[case] week: &str, #[case] units: i64) {
    assert_eq!(missed(&alike_rule(same, at_most), "", week), units);
}

#[rstest]
// At most one a session: 2 and 1 are one too many.
#[case(
    "per: session, at-most: 1",
    "swaling prime, halt-swaling mend | swaling prime |",
    1
)]
// At least one a session: the day without any counts too.
#[case(
    "per: session, at-least: 1",
    "swaling prime, halt-swaling mend | swaling prime |",
    1
)]
// Only the mild day: it has two.
#[case(
    "per: session, at-most: 1, on: {efforts: [mild]}",
    "swaling prime, halt-swaling mend | swaling prime, halt-swaling mend |",
    1
)]
// Only days with the mark, only days without it.
#[case(
    "per: session, at-most: 0, on: {marks: [feast]}",
    "swaling prime | swaling prime | swaling prime",
    1
)]
#[case(
    "per: session, at-most: 0, on: {without-marks: [feast]}",
    "swaling prime | swaling prime | swaling prime",
    2
)]
// Day 3 is the eve of a stout day. Day 4 is followed by a free day, and so is day 1.
#[case(
    "per: session, at-most: 0, on: {eve-of: [stout]}",
    "swaling prime | swaling prime | swaling prime",
    1
)]
#[case(
    "per: session, at-most: 0, on: {eve-of: [mild]}",
    "swaling prime | swaling prime | swaling prime",
    0
)]
// Sets: 4 and 4 on day 1, 3 on day 3. Above 5: 3 too many. By twos: two units.
#[case(
    "per: session, counted-in: sets, at-most: 5",
    "swaling prime, halt-swaling mend | swaling prime |",
    3
)]
#[case(
    "per: session, counted-in: sets, at-most: 5, unit: 2",
    "swaling prime, halt-swaling mend | swaling prime |",
    2
)]
// Repetitions: 4 sets of 2 are 8; the complex 4 sets of 3 are 12; 20 in all, 5 too many.
#[case(
    "per: session, counted-in: reps, at-most: 15",
    "swaling prime, tied-then-free mend | |",
    5
)]
// Days that have at least one: a session has one or none.
#[case(
    "per: session, counted-in: days, at-most: 0",
    "swaling prime, halt-swaling mend | swaling prime |",
    2
)]
fn count_of_a_session(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!("\n  count: {{it: {{what: {{skills: [swale]}}, {rule}, yields: last}}}}");
    assert_eq!(missed(&rules, "", week), units);
}

#[rstest]
// Limb: swaling 3, tied-swaling 3 - 1 = 2, of which mend counts 1. 4 in all, one above 3.
#[case(
    "of: limb, per: session, at-most: 3",
    "swaling prime, tied-swaling mend | |",
    1
)]
// In a plain role the 2 count whole.
#[case(
    "of: limb, per: session, at-most: 3",
    "swaling prime, tied-swaling plain | |",
    2
)]
// The complex has the most of its components: 3, of which mend counts 1.
#[case("of: limb, per: session, at-most: 0", "tied-then-free mend | |", 1)]
// Week: 3 + 3 + 3 = 9, 4 above 5, by threes two units.
#[case(
    "of: limb, per: week, at-most: 5, unit: 3",
    "swaling prime | swaling prime | swaling prime",
    2
)]
// Only the stout days: 6, one above.
#[case(
    "of: limb, per: week, at-most: 5, on: {efforts: [stout]}",
    "swaling prime | swaling prime | swaling prime",
    1
)]
// Rim: mooring 2 in a side role counts 1.
#[case("of: rim, per: session, at-most: 0", "| mooring side end |", 1)]
fn stress(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    assert_eq!(
        missed(
            &format!("\n  stress: {{it: {{{rule}, yields: last}}}}"),
            "",
            week
        ),
        units
    );
}

#[rstest]
// Each item placed is one unit.
#[case(
    "what: {with-any: [tether]}",
    "tied-swaling mend, tied-halt-swaling mend | tied-then-free plain |",
    3
)]
#[case(
    "what: {with-any: [tether]}, on: {efforts: [mild]}",
    "tied-swaling mend | tied-then-free plain |",
    1
)]
// One and the same component must meet all keys: in the complex none is tied and without departure.
#[case(
    "what: {with-any: [tether], unconstrained: true}",
    "tied-then-free mend | |",
    0
)]
// `not` asks all components: the complex has a tied one.
#[case(
    "what: {skills: [swale], not: [{groups: [bound]}]}",
    "tied-then-free mend, swaling prime | |",
    1
)]
// `with-none` asks one component: the free one of the complex passes.
#[case(
    "what: {skills: [swale], with-none: [tether]}",
    "tied-then-free mend, tied-swaling mend | |",
    1
)]
// A complex answers to its own id, and by its components to theirs.
#[case(
    "what: {exercises: [tied-then-free]}",
    "tied-then-free mend, swaling prime | |",
    1
)]
#[case(
    "what: {exercises: [swaling]}",
    "tied-then-free mend, halt-swaling mend | |",
    1
)]
#[case(
    "what: {under: [halt-swaling]}",
    "tied-halt-swaling mend, halt-swaling mend, tied-swaling mend | |",
    2
)]
#[case(
    "what: {departing: {at-least: 2}}",
    "tied-halt-swaling mend, halt-swaling mend | |",
    1
)]
#[case(
    "what: {strong: {at-least: 1}}",
    "tied-halt-swaling mend, halt-swaling mend | |",
    1
)]
#[case(
    "what: {departure: {at-least: 3}}",
    "tied-swaling mend, halt-swaling mend | |",
    1
)]
#[case(
    "what: {stages-all: [dusk]}",
    "tied-swaling mend, halt-swaling mend | |",
    1
)]
#[case(
    "what: {stages-none: [dusk]}",
    "tied-swaling mend, halt-swaling mend | |",
    1
)]
#[case(
    "what: {alone: false, reps-in-complex: {at-least: 3}}",
    "tied-then-free mend, halt-swaling mend | |",
    1
)]
#[case(
    "what: {reps-in-complex: {at-most: 2}}",
    "tied-then-free mend, halt-swaling mend | |",
    0
)]
// Grace: halt-swaling 3 + 1.
#[case(
    "what: {trains: {grace: {at-least: 4}}}",
    "halt-swaling mend, swaling prime | |",
    1
)]
// 80 on a stout day, 68 on a mild one; mooring has no load.
#[case(
    "what: {percent: {at-least: 69}}",
    "swaling prime | swaling prime, mooring side end |",
    1
)]
#[case("what: {parts: [end], roles: [side]}", "| mooring side end |", 1)]
#[case(
    "what: {any: [{exercises: [halt-swaling]}, {roles: [prime]}]}",
    "halt-swaling mend, swaling prime, tied-swaling mend | |",
    2
)]
fn exclude(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    assert_eq!(
        missed(
            &format!("\n  exclude: {{it: {{{rule}, yields: last}}}}"),
            "",
            week
        ),
        units
    );
}

#[rstest]
// New and disliked are asked of the item.
#[case(
    "what: {new: true}",
    "new: [swaling]",
    "swaling prime, halt-swaling mend, tied-then-free mend | |",
    1
)]
#[case(
    "what: {disliked: true}",
    "disliked: [tied-then-free]",
    "tied-then-free mend, swaling prime | |",
    1
)]
// A field said of one skill; the other has what the case says in general.
#[case(
    "what: {case-of-skill: {standing: {is: [green]}}}",
    "fields: {standing: ripe}; by-skill: {tarn: {standing: green}}",
    "swaling prime, tarning prime | |",
    1
)]
// A rule that can't be decided is silent, or speaks if it says so.
#[case(
    "when: {case: {standing: {is: [green]}}}, if-unknown: skip, what: {everything: true}",
    "",
    "swaling prime | |",
    0
)]
#[case(
    "when: {case: {standing: {is: [green]}}}, if-unknown: apply, what: {everything: true}",
    "",
    "swaling prime | |",
    1
)]
#[case(
    "when: {case: {ails: {has: [sore]}}}, what: {everything: true}",
    "",
    "swaling prime | |",
    0
)]
#[case(
    "when: {case: {ails: {has-none: [sore]}}}, what: {everything: true}",
    "fields: {ails: [stiff]}",
    "swaling prime | |",
    1
)]
#[case(
    "when: {none: [{case: {hours: {at-least: 3}}}]}, if-unknown: apply, what: {everything: true}",
    "fields: {hours: 3}",
    "swaling prime | |",
    0
)]
#[case(
    "when: {any: [{phase: [autumn]}, {case: {hours: {known: true}}}]}, what: {everything: true}",
    "fields: {hours: 3}",
    "swaling prime | |",
    1
)]
fn exclude_by_case(#[case] rule: &str, #[case] case: &str, #[case] week: &str, #[case] units: i64) {
    assert_eq!(
        missed(
            &format!("\n  exclude: {{it: {{{rule}, yields: last}}}}"),
            case,
            week
        ),
        units
    );
}

#[rstest]
fn a_hard_exclude_leaves_no_candidate() {
    let rules =
        "\n  exclude: {it: {what: {groups: [bound]}, yields: never, on: {efforts: [mild]}}}";
    assert!(
        judge(rules, "", "tied-swaling mend | |")
            .hard_broken
            .is_empty()
    );
    assert_eq!(
        judge(rules, "", "| tied-swaling mend |").hard_broken,
        ["it"]
    );
    let all_days = "\n  exclude: {it: {what: {groups: [bound]}, yields: never}}";
    assert_eq!(
        judge(all_days, "", "tied-then-free mend | |").hard_broken,
        ["allowed", "it"]
    );
}

#[rstest]
// Stout: 72 to 80. Capped at 60 the tied one is 52 to 60; it lies below the low end of swaling.
#[case(
    "than: {exercises: [swaling]}, against: low",
    "tied-swaling mend, swaling prime | |",
    0
)]
// Halt-swaling is not capped: its top 80 is above 72.
#[case(
    "than: {exercises: [swaling]}, against: low",
    "swaling prime, halt-swaling mend | |",
    1
)]
// And not above the top of 80.
#[case(
    "than: {exercises: [swaling]}, against: top",
    "swaling prime, halt-swaling mend | |",
    0
)]
// 80 is above 60, by 20.
#[case(
    "than: {exercises: [tied-swaling]}, against: top",
    "tied-swaling mend, halt-swaling mend | |",
    1
)]
#[case(
    "than: {exercises: [tied-swaling]}, against: top, above-at-most: 20",
    "tied-swaling mend, halt-swaling mend | |",
    0
)]
#[case(
    "than: {exercises: [tied-swaling]}, against: top, above-at-most: 19",
    "tied-swaling mend, halt-swaling mend | |",
    1
)]
// Another reference, and none at all.
#[case(
    "than: {exercises: [tarning]}, against: low",
    "halt-swaling mend, tarning prime | |",
    0
)]
#[case(
    "than: {exercises: [mooring]}, against: low",
    "| halt-swaling mend, mooring plain end |",
    0
)]
// Another day.
#[case(
    "than: {exercises: [swaling]}, against: low",
    "halt-swaling mend | swaling prime |",
    0
)]
fn lighter(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let cap =
        "\n  cap: {light: {what: {exercises: [tied-swaling]}, percent-of-reference-at-most: 60}}";
    let rules =
        format!("{cap}\n  lighter: {{it: {{what: {{roles: [mend]}}, {rule}, yields: last}}}}");
    assert_eq!(missed(&rules, "", week), units);
}

#[rstest]
// 880 seconds are 40 above 14 minutes: a started unit of five minutes.
#[case("at-most: {whole: 14}", "", "swaling prime | |", 1)]
#[case("at-most: {whole: 15}", "", "swaling prime | |", 0)]
// 1760 seconds are 920 above 840: 4 units of 300 seconds, 16 of 60.
#[case("at-most: {whole: 14}", "", "swaling prime, tarning prime | |", 4)]
#[case(
    "at-most: {whole: 14}, unit: 1",
    "",
    "swaling prime, tarning prime | |",
    16
)]
// Too short: 480 on the mild day are 120 below 600; the empty days are 600 below: 1 + 2 + 2.
#[case("at-least: {whole: 10}", "", "| swaling prime |", 5)]
#[case(
    "at-least: {whole: 10}, on: {efforts: [mild]}",
    "",
    "| swaling prime |",
    1
)]
// 150 percent of 9 hours are 13 (rounded down) minutes: 780, 100 too many.
#[case(
    "at-most: {field: hours, percent: 150}, unit: 1",
    "fields: {hours: 9}",
    "swaling prime | |",
    2
)]
// Not known: silent.
#[case("at-most: {field: hours}", "", "swaling prime | |", 0)]
fn minutes(#[case] rule: &str, #[case] case: &str, #[case] week: &str, #[case] units: i64) {
    assert_eq!(
        missed(
            &format!("\n  minutes: {{it: {{{rule}, yields: last}}}}"),
            case,
            week
        ),
        units
    );
}

#[rstest]
#[case("", "halt-swaling mend, tarning prime | |", 0)]
#[case(", same-skill: true", "halt-swaling mend, tarning prime | |", 1)]
#[case(", same-skill: true", "swaling prime, halt-swaling mend | |", 0)]
// Each of two lacks it; another day does not help.
#[case("", "halt-swaling mend, tied-swaling mend | swaling prime |", 2)]
fn needs(#[case] more: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!(
        "\n  needs: {{it: {{what: {{roles: [mend]}}, needs: {{roles: [prime]}}{more}, yields: last}}}}"
    );
    assert_eq!(missed(&rules, "", week), units);
}

#[rstest]
fn needs_another_item_than_itself() {
    let rules = "\n  needs: {it: {what: {roles: [mend]}, needs: {roles: [mend]}, yields: last}}";
    assert_eq!(missed(rules, "", "halt-swaling mend | |"), 1);
    assert_eq!(
        missed(rules, "", "halt-swaling mend, tied-swaling mend | |"),
        0
    );
}

#[rstest]
// Stout days are at 80: sets of 2 are one above the zone's 1, for each item; 8 in all are within 9.
#[case("together: item", "swaling prime | |", 1)]
// Two items: 1 + 1 for the sets; 8 each, none above 9.
#[case("together: item", "swaling prime, halt-swaling mend | |", 2)]
// Together 16: 7 above 9, and 2 for the sets.
#[case("together: session", "swaling prime, tarning prime | |", 9)]
#[case("together: skill", "swaling prime, tarning prime | |", 2)]
#[case("together: skill", "swaling prime, halt-swaling mend | |", 9)]
// By fours, each bound by itself: 7 above the total are two units, and each item's set is one.
#[case("together: session, unit: 4", "swaling prime, tarning prime | |", 4)]
// Mild: 12 at 68, 2 above 10. Mooring has no load and lies in no zone.
#[case("together: session", "| swaling prime, mooring side end |", 2)]
// The complex: sets of 3 at 80, 2 above 1; 12 in all, 3 above 9.
#[case("together: item", "tied-then-free mend | |", 5)]
fn volume(#[case] rule: &str, #[case] week: &str, #[case] units: i64) {
    let rules = format!(
        "\n  volume: {{it: {{what: {{everything: true}}, table: bands, {rule}, yields: last}}}}"
    );
    assert_eq!(missed(&rules, "", week), units);
}

#[rstest]
fn slots_hold_so_many() {
    let four = "swaling prime, halt-swaling mend, tied-swaling mend, tarning prime | |";
    assert_eq!(judge("", "", four).hard_broken, ["slot 1 main"]);
    assert_eq!(
        judge("", "", "swaling prime, swaling plain | |").hard_broken,
        ["twice in a session"]
    );
    assert_eq!(
        judge("", "", "mooring side end | |").hard_broken,
        ["order of parts"]
    );
}
