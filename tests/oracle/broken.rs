//! Weeks broken by hand, each in one thing: the public re-check refuses each and names what it breaks.

use drillwright::explain::{Placing, Recheck};
use drillwright::{Answer, KnowledgeBase};
use rstest::rstest;

use super::kinds::small::{PACK, case, week};
use super::make::dress;

const RULES: &str = "rules:
  dose:
    give-usual: {what: {everything: true}, give: usual}
    give-bare: {what: {skills: [moor]}, give: bare, instead-of: [give-usual]}
  before:
    prime-first: {first: {roles: [prime]}, then: {roles: [plain]}, yields: never}
  minutes:
    short-on-fast-days: {at-most: {whole: 30}, on: {marks: [fast]}, yields: never}
  needs:
    mend-with-prime: {what: {roles: [mend]}, needs: {roles: [prime]}, yields: never}
  apart:
    tarning-a-day-apart: {what: {exercises: [tarning]}, from: {exercises: [tarning]}, free-days: 1, yields: never}
  differ:
    no-pair-twice: {what: {everything: true}, shared-at-most: 1, yields: never}
  count:
    swaling-weekly: {what: {exercises: [swaling]}, per: week, at-least: 1, yields: never}
    three-a-week: {what: {skills: [tarn]}, per: week, at-least: 3, yields: first}
  cap:
    not-above-75: {what: {under: [swaling]}, percent-of-reference-at-most: 75}
  exclude:
    no-tether-when-mild: {what: {with-any: [tether]}, on: {efforts: [mild]}, yields: never}
    no-feather: {what: {with-any: [feather]}, when: {case: {ails: {has: [sore]}}}, yields: never}
  least-load:
    heavy-or-not-at-all: {what: {exercises: [tied-halt-swaling]}, at-least: 90}
  position:
    complexes-last: {what: {alone: false}, where: last, of: session, yields: never}
";

const CASE: &str = "bests: {high-swale: 100, high-tarn: 80}";

fn base() -> KnowledgeBase {
    let pack = PACK.replace(
        "light-tarning: {from: tarning,",
        "light-tarning: {from: tarning, asks: {case: {ails: {has-none: [stiff]}}},",
    );
    assert_ne!(pack, PACK);
    KnowledgeBase::from_texts(dress::files(&format!("{pack}{RULES}"))).unwrap()
}

fn recheck(case_lines: &str, week_text: &str) -> Recheck {
    let base = base();
    let case = base.case_from_text("case.yaml", &case(case_lines)).unwrap();
    let placing = |(part, role, exercise)| Placing::new(part, role, exercise);
    let week: Vec<Vec<Placing>> = week(week_text)
        .into_iter()
        .map(|day| day.into_iter().map(placing).collect())
        .collect();
    base.recheck_placed(&case, &week).unwrap()
}

/// All that the re-check names, each with the day that it is about.
fn named(found: &Recheck) -> Vec<String> {
    let on = |day: Option<u8>| day.map_or_else(String::new, |day| format!("{day} "));
    let broken = found.broken.iter().map(|lack| {
        assert!(!lack.place.is_unknown() && lack.units > 0 && lack.lack > 0);
        assert!(lack.because.starts_with("Of ") || lack.ruling.kind() == "layouts");
        format!("{}{}", on(lack.day), lack.ruling)
    });
    let wrong = found.wrong.iter().flat_map(|wrong| {
        let says = wrong.says.iter().map(|says| {
            assert!(!says.place.is_unknown());
            says.path.clone()
        });
        let says: Vec<String> = says.collect();
        let what = if says.is_empty() {
            vec![wrong.what.clone()]
        } else {
            says
        };
        let day = on(wrong.day);
        what.into_iter().map(move |what| format!("{day}{what}"))
    });
    broken.chain(wrong).collect()
}

const FIRST: &str = "swaling prime, halt-swaling mend, tarning plain";
const SECOND: &str = "swaling prime, mooring side end";
const THIRD: &str = "tarning prime";

#[test]
fn the_sound_week_stands() {
    let found = recheck(CASE, &format!("{FIRST} | {SECOND} | {THIRD}"));
    assert!(found.stands(), "{found:?}");
    // Two of three.
    let units: Vec<(String, i64)> = found
        .units_missed()
        .iter()
        .map(|(ruling, units)| (ruling.to_string(), *units))
        .collect();
    assert_eq!(units, [("rules.count.three-a-week".to_owned(), 1)]);
    assert_eq!(found.missed.first, 1);
    // Its exercises by id: halt-swaling 1st, mooring 3rd, swaling 4th, tarning 5th of 8.
    assert_eq!(found.tie, (4 + 1 + 5) + 2 * (4 + 3) + 3 * 5);
}

#[rstest]
#[case::order("tarning plain, swaling prime, halt-swaling mend", SECOND, THIRD, CASE, &["1 rules.before.prime-first"])]
#[case::position("tied-then-free plain, swaling prime", SECOND, THIRD, CASE, &["1 rules.before.prime-first", "1 rules.position.complexes-last"])]
#[case::slot_count("swaling prime, halt-swaling mend, tarning plain, tied-swaling mend", SECOND, THIRD, CASE, &["1 layouts.main"])]
#[case::minutes(FIRST, SECOND, "tarning prime, tied-swaling mend, tied-then-free mend", CASE, &["4 rules.minutes.short-on-fast-days"])]
#[case::unknown_exercise("swaling prime, sprinting plain", SECOND, THIRD, CASE, &["1 the rules have no exercise `sprinting`"])]
#[case::unknown_role("swaling prime, tarning star", SECOND, THIRD, CASE, &["1 the rules have no role `star`"])]
#[case::unknown_part("swaling prime, tarning plain end", SECOND, THIRD, CASE, &["1 layouts.three"])]
#[case::not_its_role("swaling prime, tarning mend", SECOND, THIRD, CASE, &["1 exercises.roots.tarning"])]
#[case::gate("swaling prime, halt-swaling prime", SECOND, THIRD, CASE, &["1 roles.prime"])]
#[case::role_not_in_the_part(FIRST, "mooring side, swaling prime", THIRD, CASE, &["3 parts.main"])]
#[case::missing_partner(FIRST, SECOND, "tied-swaling mend", CASE, &["4 rules.needs.mend-with-prime"])]
#[case::near_days(FIRST, "tarning prime, mooring side end", THIRD, CASE, &["3 rules.apart.tarning-a-day-apart"])]
#[case::same_pair(FIRST, SECOND, "swaling prime, tarning plain", CASE, &["1 rules.differ.no-pair-twice"])]
#[case::too_few("tarning prime", "mooring side end", THIRD, CASE, &["rules.count.swaling-weekly"])]
#[case::equipment("swaling prime, light-tarning plain", SECOND, THIRD, "bests: {high-swale: 100, high-tarn: 80}; fields: {ails: [stiff]}", &["1 exercises.variations.light-tarning"])]
#[case::ruled_out("swaling prime, light-tarning plain", SECOND, THIRD, "bests: {high-swale: 100, high-tarn: 80}; fields: {ails: [sore]}", &["1 rules.exclude.no-feather"])]
#[case::ruled_out_on_some_days(FIRST, "swaling prime, tied-swaling mend, mooring side end", THIRD, CASE, &["3 rules.exclude.no-tether-when-mild"])]
#[case::too_light("swaling prime, tied-halt-swaling mend", SECOND, THIRD, CASE, &["1 rules.least-load.heavy-or-not-at-all"])]
#[case::twice("swaling prime, swaling plain", SECOND, THIRD, CASE, &["1 the session has the exercise already"])]
#[case::order_of_parts(FIRST, "mooring side end, swaling prime", THIRD, CASE, &["3 layouts.three"])]
fn a_broken_week_is_refused(
    #[case] first: &str,
    #[case] second: &str,
    #[case] third: &str,
    #[case] case: &str,
    #[case] expected: &[&str],
) {
    let found = recheck(case, &format!("{first} | {second} | {third}"));
    assert!(!found.stands());
    assert_eq!(named(&found), expected, "{found:?}");
}

#[test]
fn a_day_too_few_is_refused() {
    let base = base();
    let case = base.case_from_text("case.yaml", &case(CASE)).unwrap();
    let week = vec![vec![Placing::new("main", "prime", "swaling")]];
    let found = base.recheck_placed(&case, &week).unwrap();
    assert_eq!(named(&found), ["layouts.three"]);
}

#[rstest]
#[case::above_its_cap(|item: &mut drillwright::explain::Item| item.percent = item.percent.map(|(low, high)| (low + 3, high + 3)))]
#[case::more_sets(|item: &mut drillwright::explain::Item| item.sets += 1)]
fn a_changed_dose_is_refused(#[case] change: fn(&mut drillwright::explain::Item)) {
    let base = base();
    let case = base.case_from_text("case.yaml", &case(CASE)).unwrap();
    let Answer::Week(mut plan) = base.solve(&case).unwrap() else {
        panic!("no week")
    };
    assert!(base.recheck(&case, &plan).unwrap().confirms(&plan));
    let mut items = plan
        .sessions
        .iter_mut()
        .flat_map(|session| &mut session.items);
    let item = items
        .find(|item| item.exercise.as_str() == "swaling")
        .unwrap();
    change(item);
    let found = base.recheck(&case, &plan).unwrap();
    assert!(!found.stands() && found.broken.is_empty());
    let says: Vec<&str> = found.wrong[0]
        .says
        .iter()
        .map(|says| says.path.as_str())
        .collect();
    assert_eq!(says, ["rules.dose.give-usual", "rules.cap.not-above-75"]);
}
