//! Where no week satisfies the hard rules: what is named clashes, and each of it is needed for the clash.

use drillwright::Answer;
use drillwright::explain::{Clash, Clashing, NoWeek};
use drillwright::report::NoWeekDocument;
use rstest::rstest;
use serde_yaml::{Mapping, Value};

use crate::cli::schemas::{assert_holds, schema};

use super::pack::Pack;

fn no_week(pack: &Pack) -> Option<NoWeek> {
    match pack.answer() {
        Answer::NoWeek(none) => Some(*none),
        _ => None,
    }
}

fn has_week(pack: &Pack) -> bool {
    match pack.bare().answer() {
        Answer::Week(_) => true,
        Answer::NoWeek(_) => false,
        other => panic!("not answered: {other:?}"),
    }
}

/// The pack and case without one of the things that clash.
fn without(pack: &Pack, what: &Clashing) -> Pack {
    let mut other = pack.clone();
    match what {
        Clashing::Rule { kind, id, .. } => return pack.without_rule(kind, id.as_str()),
        Clashing::Field {
            field,
            day: Some(day),
            ..
        } => {
            let days = &mut other.case["case"]["training-days"];
            let of_day = days[day.name().to_lowercase().as_str()].as_mapping_mut();
            assert!(of_day.unwrap().remove(field.as_str()).is_some());
        }
        Clashing::Days(_) => {
            let case = other.case["case"].as_mapping_mut().unwrap();
            assert!(case.remove("training-days").is_some());
        }
        Clashing::Field {
            field, skill: None, ..
        } => {
            let fields = other.case["case"]["fields"].as_mapping_mut().unwrap();
            assert!(fields.remove(field.as_str()).is_some());
        }
        Clashing::Field {
            field,
            skill: Some(skill),
            ..
        } => {
            let fields = other.case["case"]["by-skill"][skill.as_str()]
                .as_mapping_mut()
                .unwrap();
            assert!(fields.remove(field.as_str()).is_some());
        }
        Clashing::Layout(_) => {
            other.case["case"]
                .as_mapping_mut()
                .unwrap()
                .remove("layout");
        }
        Clashing::Pieces => {
            let gym = other.case["case"]["gym"].as_mapping_mut().unwrap();
            assert!(gym.remove("pairs").is_some());
        }
        Clashing::List { list, .. } => {
            let case = other.case["case"].as_mapping_mut().unwrap();
            let said = case.remove(list.as_str()).is_some();
            let measured = list.as_str() == "observed" && case.remove("measured").is_some();
            assert!(said || measured);
        }
        Clashing::Phase { others, .. } => {
            other.case["case"]["phase"] = Value::from(others.first().unwrap().as_str());
        }
        Clashing::Bar { others, .. } => {
            other.case["case"]["gym"]["bar"] = Value::from(others.first().unwrap().as_str());
        }
        other => panic!("unknown: {other:?}"),
    }
    other
}

/// What stays as it is in a case whatever else it says.
fn stays(what: &Clashing) -> bool {
    matches!(
        what,
        Clashing::List { .. } | Clashing::Phase { .. } | Clashing::Bar { .. }
    )
}

/// The pack whose only hard rules are those that are named, and the case that says only what is named.
fn only(pack: &Pack, named: &[&Clashing]) -> Pack {
    let mut other = pack.clone();
    for (kind, id) in pack.hard_rules() {
        let is_named = named.iter().any(|what| {
            matches!(what, Clashing::Rule { kind: held, id: rule, .. } if *held == kind && rule.as_str() == id)
        });
        if !is_named {
            other = other.without_rule(&kind, &id);
        }
    }
    let said = |field: &str, of: Option<&str>| {
        named.iter().any(|what| {
            matches!(what, Clashing::Field { field: held, skill, .. }
                if held.as_str() == field && skill.as_ref().map(|skill| skill.as_str()) == of)
        })
    };
    let case = &mut other.case["case"];
    if let Some(fields) = case.get_mut("fields").and_then(Value::as_mapping_mut) {
        let kept = fields
            .iter()
            .filter(|(field, _)| said(field.as_str().unwrap(), None));
        let kept: Mapping = kept
            .map(|(field, value)| (field.clone(), value.clone()))
            .collect();
        *fields = kept;
    }
    if let Some(skills) = case.get_mut("by-skill").and_then(Value::as_mapping_mut) {
        for (skill, fields) in skills {
            let of = skill.as_str();
            let fields = fields.as_mapping_mut().unwrap();
            let kept = fields
                .iter()
                .filter(|(field, _)| said(field.as_str().unwrap(), of));
            let kept: Mapping = kept
                .map(|(field, value)| (field.clone(), value.clone()))
                .collect();
            *fields = kept;
        }
    }
    let are_days = |what: &&Clashing| match what {
        Clashing::Days(_) => true,
        Clashing::Field { day, .. } => day.is_some(),
        _ => false,
    };
    if !named.iter().any(are_days) {
        case.as_mapping_mut().unwrap().remove("training-days");
    }
    let says = |wanted: fn(&Clashing) -> bool| named.iter().any(|what| wanted(what));
    if !says(|what| matches!(what, Clashing::Layout(_))) {
        case.as_mapping_mut().unwrap().remove("layout");
    }
    if !says(|what| matches!(what, Clashing::Pieces))
        && let Some(gym) = case.get_mut("gym").and_then(Value::as_mapping_mut)
    {
        gym.remove("pairs");
    }
    other
}

/// Held of every conflict: what is named allows no week by itself, each of it is needed for that,
/// and what is said to be enough is. Where nothing is enough the next clash stands behind it, and
/// in the last of them something is.
fn hold(pack: &Pack, none: &NoWeek) {
    assert!(none.irreducible);
    hold_clash(pack, &none.clash);
    let mut left = pack.clone();
    let mut before = &none.clash;
    for further in &none.further {
        assert!(before.iter().all(|clash| !clash.enough));
        assert!(before.iter().any(|clash| clash.what == further.once));
        left = without(&left, &further.once);
        hold_clash(&left, &further.clash);
        before = &further.clash;
    }
    assert!(before.iter().any(|clash| clash.enough));
}

fn hold_clash(pack: &Pack, clash: &[Clash]) {
    assert!(!clash.is_empty());
    let named: Vec<&Clashing> = clash.iter().map(|clash| &clash.what).collect();
    assert!(
        !has_week(&only(pack, &named)),
        "they allow a week: {named:?}\n{}",
        pack.shown()
    );
    for clash in clash {
        let others: Vec<&Clashing> = named
            .iter()
            .copied()
            .filter(|what| *what != &clash.what)
            .collect();
        let less = if stays(&clash.what) {
            without(pack, &clash.what)
        } else {
            pack.clone()
        };
        assert!(
            has_week(&only(&less, &others)),
            "not needed: {clash:?} of {named:?}\n{}",
            pack.shown()
        );
        let found = has_week(&without(pack, &clash.what));
        assert_eq!(found, clash.enough, "{clash:?}\n{}", pack.shown());
    }
}

/// Packs made at random that have no week. Several clashes may stand beside each other there, so
/// that not each part is enough by itself; but where one is said to be, it is.
#[test]
fn of_made_packs_name_what_clashes() {
    let (mut seen, mut lone, mut several) = (0, 0, 0);
    for seed in 2_700..2_760 {
        let pack = Pack::made(seed);
        let Some(none) = no_week(&pack) else { continue };
        // A layout whose days cannot be filled clashes with nothing.
        if none.clash.is_empty() {
            continue;
        }
        hold(&pack, &none);
        seen += 1;
        lone += u32::from(none.clash.iter().all(|clash| clash.enough));
        several += u32::from(!none.further.is_empty());
    }
    assert!(
        seen >= 8 && lone >= 4 && several >= 1,
        "{seen} conflicts, in {lone} of them each part is enough, in {several} more stand behind"
    );
}

/// One conflict is put into a made pack that has a week: taking any one of the named things back gives a week.
#[rstest]
#[case::twice_and_at_most_once(
    "count",
    "{what: W, per: week, at-least: 2, yields: never}",
    "count",
    "{what: W, per: week, at-most: 1, yields: never}"
)]
#[case::once_and_never(
    "count",
    "{what: W, per: week, at-least: 1, yields: never}",
    "exclude",
    "{what: W, yields: never}"
)]
#[case::sets_and_no_item(
    "count",
    "{what: W, per: week, counted-in: sets, at-least: 1, yields: never}",
    "count",
    "{what: W, per: week, at-most: 0, yields: never}"
)]
#[case::days_and_items(
    "count",
    "{what: W, per: week, counted-in: days, at-least: 2, yields: never}",
    "count",
    "{what: W, per: week, counted-in: days, at-most: 1, yields: never}"
)]
#[case::many_repetitions_and_few_sets(
    "count",
    "{what: W, per: week, counted-in: reps, at-least: 9, yields: never}",
    "count",
    "{what: W, per: week, counted-in: sets, at-most: 0, yields: never}"
)]
fn put_into_a_pack_are_named_and_each_part_is_enough(
    #[case] one_kind: &str,
    #[case] one: &str,
    #[case] other_kind: &str,
    #[case] other: &str,
    #[values(2_800, 2_820, 2_840, 2_860)] from: u64,
) {
    let free = (from..from + 20).find_map(|seed| {
        let pack = Pack::made(seed);
        let plan = pack.plan()?;
        let days = |id: &str| {
            let has = |session: &&drillwright::explain::Session| {
                session
                    .items
                    .iter()
                    .any(|item| item.exercise.as_str() == id)
            };
            plan.sessions.iter().filter(has).count()
        };
        let twice = super::pack::used(&plan)
            .into_iter()
            .find(|id| days(id) >= 2)?;
        // Alone each of the two can be kept.
        for (kind, rule) in [(one_kind, one), (other_kind, other)] {
            let mut with = pack.clone();
            with.add_rule(
                kind,
                "one-of-two",
                &rule.replace('W', &format!("{{exercises: [{twice}]}}")),
            );
            with.plan()?;
        }
        Some((pack, twice))
    });
    let (mut pack, id) = free.unwrap();
    let what = format!("{{exercises: [{id}]}}");
    pack.add_rule(one_kind, "this-clashes", &one.replace('W', &what));
    pack.add_rule(other_kind, "with-that", &other.replace('W', &what));
    let none = no_week(&pack).unwrap();
    hold(&pack, &none);
    assert!(
        none.clash.iter().all(|clash| clash.enough),
        "{:?}",
        none.clash
    );
    let named: Vec<&str> = none
        .clash
        .iter()
        .filter_map(|clash| match &clash.what {
            Clashing::Rule { id, .. } => Some(id.as_str()),
            _ => None,
        })
        .collect();
    assert!(
        named.contains(&"this-clashes") && named.contains(&"with-that"),
        "{named:?}"
    );
}

/// Two clashes that have nothing to do with each other: both are named, and one part of each given
/// up gives a week.
#[test]
fn two_that_stand_beside_each_other_are_both_named() {
    let mut pack = Pack::builtin("three-days-half-an-hour");
    let bounds = [
        ("presses-wanted", "press", "at-least: 1"),
        ("no-presses", "press", "at-most: 0"),
        ("squats-wanted", "front-squat", "at-least: 1"),
        ("no-squats", "front-squat", "at-most: 0"),
    ];
    for (id, exercise, bound) in bounds {
        let rule = format!("{{what: {{under: [{exercise}]}}, per: week, {bound}, yields: never}}");
        pack.add_rule("count", id, &rule);
    }
    let none = no_week(&pack).unwrap();
    hold(&pack, &none);
    assert_eq!(none.further.len(), 1);
    let document = none.document();
    let json = serde_json::to_value(&document).unwrap();
    assert_holds(&schema("no-week"), &json, "no week");
    let read: NoWeekDocument = serde_json::from_value(json).unwrap();
    assert_eq!(read, document);
    let named = |wanted: &str| {
        none.parts()
            .any(|clash| matches!(&clash.what, Clashing::Rule { id, .. } if id.as_str() == wanted))
    };
    for (wanted, _, _) in bounds {
        assert!(named(wanted), "{wanted}");
    }
}

/// What only one phase asks for: the phase is named, with those in which there is a week.
#[test]
fn the_phase_is_named_where_another_one_has_a_week() {
    let mut pack = Pack::builtin("three-days-half-an-hour");
    let phase = pack.case["case"]["phase"].as_str().unwrap().to_owned();
    pack.add_rule(
        "count",
        "none-in-this-phase",
        &format!(
            "{{when: {{phase: [{phase}]}}, what: {{skills: [snatch]}}, per: week, at-most: 0, yields: never}}"
        ),
    );
    let none = no_week(&pack).unwrap();
    hold(&pack, &none);
    let others = none.clash.iter().find_map(|clash| match &clash.what {
        Clashing::Phase {
            phase: held,
            others,
        } => {
            assert_eq!(held.as_str(), phase);
            assert!(clash.enough);
            Some(others)
        }
        _ => None,
    });
    assert!(others.is_some_and(|others| !others.is_empty()));
}

/// Cases of the built-in method with one thing said too much.
#[rstest]
#[case::acute_pain("three-days-half-an-hour", "acute-pain: yes-pain", "", &["acute-pain"])]
#[case::squats_and_a_sore_knee("three-days-half-an-hour", "limits: [knee]", "{what: {skills: [squat]}, per: week, at-least: 1, yields: never}", &["limits"])]
#[case::overhead_and_a_sore_shoulder("last-week-2-days", "limits: [shoulder]", "{what: {exercises: [overhead-squat]}, per: week, at-least: 1, yields: never}", &["limits"])]
#[case::blocks_that_are_not_there("two-days-an-hour-clean", "equipment: [rack]", "{what: {with-any: [low-blocks, knee-blocks, high-blocks]}, per: week, at-least: 1, yields: never}", &["equipment"])]
#[case::a_lift_that_is_not_owned("three-days-half-an-hour", "full-lift: not-yet", "{what: {exercises: [snatch], alone: true}, per: week, at-least: 1, yields: never}", &["full-lift"])]
#[case::heavy_pulls_for_the_young("two-days-an-hour-clean", "age-group: youth", "{what: {with-any: [from-deficit]}, per: week, at-least: 1, yields: never}", &["age-group"])]
fn of_the_built_in_method_name_rules_and_case_fields(
    #[case] case: &str,
    #[case] said: &str,
    #[case] rule: &str,
    #[case] fields: &[&str],
) {
    let mut pack = Pack::builtin(case);
    let more: Mapping = serde_yaml::from_str(said).unwrap();
    pack.case["case"]["fields"]
        .as_mapping_mut()
        .unwrap()
        .extend(more);
    if !rule.is_empty() {
        pack.add_rule("count", "asked-for", rule);
    }
    let none = no_week(&pack).unwrap();
    hold(&pack, &none);
    assert!(
        none.clash.iter().all(|clash| clash.enough),
        "{:?}",
        none.clash
    );
    for field in fields {
        let named = none.clash.iter().any(|clash| {
            matches!(&clash.what, Clashing::Field { field: held, .. } if held.as_str() == *field)
        });
        assert!(named, "{field} is not in {:?}", none.clash);
    }
}
