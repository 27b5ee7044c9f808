//! Weeks that somebody wrote, held against the rules.

use drillwright::explain::{Audit, Changed, Instead, Plan, Wanting};
use drillwright::report::{audit_document, audit_text};
use drillwright::{Case, Error, ErrorKind, KnowledgeBase, Work};
use rstest::rstest;

use crate::cli::schemas::{assert_holds, schema};
use crate::cli::{assert_told, rules_and};
use crate::corpus::{BASE, named};

/// A plan as a coach would write it down.
fn written(plan: &Plan) -> String {
    let mut text = String::from("format: 1\nweek:\n");
    for session in &plan.sessions {
        let day = drillwright::base::Weekday::numbered(session.day).unwrap();
        text.push_str(&format!("  {}:\n", day.name().to_lowercase()));
        for item in &session.items {
            let reps: Vec<String> = if item.round.is_empty() {
                vec![item.reps.to_string()]
            } else {
                item.round.iter().map(ToString::to_string).collect()
            };
            let percent = item
                .percent
                .map_or(String::new(), |(low, high)| format!(" {low}-{high}%"));
            text.push_str(&format!(
                "    - \"{} {}x({}){percent}\"\n",
                item.name,
                item.sets,
                reps.join("+")
            ));
        }
    }
    text
}

fn audit_of(case: &Case, text: &str) -> Audit {
    let week = BASE.week_from_text("week.yaml", text);
    let week = week.unwrap_or_else(|wrong| panic!("{wrong}\n{text}"));
    BASE.audit(case, &week, Work::default()).unwrap()
}

/// The best week written down comes to what it is, is sound, and no change of one line betters it.
#[rstest]
#[case("hips-first-4-days")]
#[case("snatch-lost-by-a-jump-back-at-3-days")]
#[case("bare-gym-jerk-after-clean-4-days")]
fn the_best_week_written_down_is_the_best(#[case] name: &str) {
    let solved = named(name);
    let plan = solved.answer.week().unwrap();
    let audit = audit_of(&solved.case, &written(plan));
    assert!(
        audit.broken.is_empty() && audit.wrong.is_empty(),
        "{}",
        audit_text(&audit, false)
    );
    assert_eq!((audit.worth, audit.missed), (plan.worth, plan.missed));
    assert!(audit.soundness.is_sound && audit.change.is_none());
    let best = audit.best.as_ref().unwrap();
    assert_eq!((best.worth, best.missed), (plan.worth, plan.missed));
    // Each line stands where it stood.
    for (session, (_, lines)) in plan.sessions.iter().zip(&audit.days) {
        for (item, line) in session.items.iter().zip(lines) {
            let (part, _) = line.stands.as_ref().unwrap();
            assert_eq!(part.id, item.part, "{}", line.written);
        }
    }
}

/// A line that is taken out of the best week: what was lost is found, and putting it back is the change that helps most.
#[test]
fn what_was_taken_out_is_put_back() {
    let solved = named("hips-first-4-days");
    let plan = solved.answer.week().unwrap();
    let whole = written(plan);
    let corrective = plan.sessions.iter().flat_map(|session| &session.items);
    let corrective = corrective.filter(|item| item.role.as_str() == "corrective");
    let mut asked = 0;
    for item in corrective {
        let line = whole
            .lines()
            .find(|line| line.contains(&item.name))
            .unwrap();
        let without = whole.replacen(&format!("{line}\n"), "", 1);
        let audit = audit_of(&solved.case, &without);
        let change = audit.change.as_ref().unwrap();
        let units = |audit: (i64, drillwright::explain::Missed, i64)| {
            (
                audit.0,
                audit.1.last,
                audit.1.middle,
                audit.1.first,
                -audit.2,
            )
        };
        let now = units((audit.clashes, audit.missed, audit.worth));
        let then = units((change.clashes, change.missed, change.worth));
        assert!(then < now);
        // The best week is one change away, so the best change reaches it.
        assert_eq!(then, units((0, plan.missed, plan.worth)), "{}", item.name);
        assert!(
            matches!(&change.what, Changed::Added(..)),
            "{:?}",
            change.what
        );
        asked += 1;
    }
    assert!(asked > 0);
}

/// A plain week of somebody else: it may be sound without being the best.
#[test]
fn a_week_may_differ_from_the_best_and_be_sound() {
    let solved = named("hips-first-4-days");
    let plan = solved.answer.week().unwrap();
    let text = written(plan);
    // Another support at the end of the first session.
    let audit = audit_of(&solved.case, &text.replacen("2x", "3x", 1));
    assert!(audit.best.is_some());
    assert!(
        audit
            .days
            .iter()
            .flat_map(|(_, lines)| lines)
            .any(|line| line.usual != Some(line.dose))
    );
    assert_holds(
        &schema("audit"),
        &serde_json::to_value(audit_document(&audit)).unwrap(),
        "audit",
    );
}

/// What clashes is named with its rule and how hard it is.
#[test]
fn clashes_are_named_with_their_rules() {
    let case = BASE
        .case()
        .phase("general")
        .fault_of("saved-backward", "snatch", "two-steps")
        .field("days", "2")
        .best("best-snatch", "90")
        .build()
        .unwrap();
    let text = "format: 1\nweek:\n  monday: [back squat 5x5 80%]\n  thursday: [front squat 5x3 85%, bench press 3x8]\n";
    let wrong = BASE.week_from_text("week.yaml", text);
    // An exercise that the rules do not know is told with its place.
    if let Err(wrong) = &wrong {
        assert_eq!(wrong.kind(), ErrorKind::Week);
        assert!(wrong.to_string().starts_with("week.yaml:4:"), "{wrong}");
    }
    let text = text.replace(", bench press 3x8", "");
    let audit = audit_of(&case, &text);
    assert!(!audit.soundness.is_sound);
    assert!(audit.soundness.wanting.contains(&Wanting::Broken));
    assert!(!audit.broken.is_empty() && audit.broken.iter().all(|lack| !lack.because.is_empty()));
    assert!(audit.causes.iter().all(|cause| cause.helps.is_empty()));
    assert!(audit.change.is_some());
    let shown = audit_text(&audit, false);
    assert!(
        shown.contains("Nothing in it helps") && shown.contains("must hold"),
        "{shown}"
    );
    assert!(shown.lines().all(|line| line.chars().count() <= 80));
}

/// What nobody listed is judged by what it is made of.
#[test]
fn what_is_not_listed_is_judged_too() {
    let case = BASE
        .case()
        .phase("general")
        .fault_of("saved-backward", "snatch", "two-steps")
        .field("days", "2")
        .build()
        .unwrap();
    let text = "format: 1\nweek:\n  monday: [no hook no contact hang snatch 3x3 60%, \"snatch pull + snatch 3x(2+1) 70%\"]\n  thursday: [snatch 4x2 75%]\n";
    let audit = audit_of(&case, text);
    let lines: Vec<&str> = audit
        .days
        .iter()
        .flat_map(|(_, lines)| lines)
        .map(|line| line.exercise.name.as_str())
        .collect();
    assert!(
        lines[0].contains("no hook") || lines[0].contains("no contact"),
        "{lines:?}"
    );
    let swung = audit
        .causes
        .iter()
        .find(|cause| cause.cause.id.as_str() == "bar-swung-out")
        .unwrap();
    assert!(
        swung
            .helps
            .iter()
            .any(|(exercise, points)| exercise.name == lines[0] && *points > 0),
        "{swung:?}"
    );
    // A round of other repetitions has the roles of the listed one.
    let round = &audit.days[0].1[1];
    assert_eq!(round.dose, (3, 3));
    assert!(round.stands.is_some(), "{round:?}");
}

/// A round that nobody listed, of movements that share no role, has those of a listed round that ends in the same root.
#[test]
fn a_round_that_ends_as_a_listed_one_stands_where_that_does() {
    let case = BASE
        .case()
        .phase("general")
        .fault_of("saved-backward", "snatch", "two-steps")
        .field("days", "2")
        .build()
        .unwrap();
    let text = "format: 1\nweek:\n  monday: [\"muscle snatch + snatch 3x(1+1) 60%\"]\n  thursday: [snatch 4x2 75%]\n";
    let audit = audit_of(&case, text);
    let round = &audit.days[0].1[0];
    let alone = |name: &str| {
        BASE.exercises()
            .into_iter()
            .find(|held| held.name == name)
            .unwrap()
            .roles
    };
    let (one, other) = (alone("muscle snatch"), alone("snatch"));
    assert!(
        !one.iter().any(|role| other.contains(role)),
        "{one:?} {other:?}"
    );
    let (part, _) = round.stands.as_ref().unwrap();
    assert_eq!(part.id.as_str(), "technical");
}

/// More than can be done in an exercise clashes, and no change of one line leaves more that clashes.
#[test]
fn too_much_clashes_and_changes_never_add_to_it() {
    let case = BASE
        .case()
        .phase("general")
        .fault_of("saved-backward", "snatch", "two-steps")
        .field("days", "3")
        .build()
        .unwrap();
    let heavy = "format: 1\nweek:\n  monday: [clean and jerk 5x1 80%, snatch 5x2 150%]\n  wednesday: [back squat 5x5 80%, trunk hold 3x1]\n  friday: [front squat 4x3 80%, tall jerk 3x3 50%, clean pull + clean 5x(1+1) 70%]\n";
    let audit = audit_of(&case, heavy);
    let line = audit.days[0]
        .1
        .iter()
        .position(|line| line.exercise.id.as_str() == "snatch");
    let told = audit
        .wrong
        .iter()
        .filter(|wrong| wrong.at == line && wrong.day == Some(1));
    assert!(
        told.into_iter()
            .any(|wrong| wrong.what.contains("more than can be done")),
        "{:?}",
        audit.wrong
    );
    let listed = audit.broken.iter().map(|lack| lack.units).sum::<i64>();
    assert!(audit.clashes > listed, "{} {listed}", audit.clashes);
    let change = audit.change.as_ref().unwrap();
    assert!(change.clashes <= audit.clashes);
}

/// Files that are wrong: line, what, and what to do.
#[rstest]
#[case("monday: [snatch]", 3, "no sets and repetitions", "`3x3`")]
#[case("monday: [snach 3x3]", 3, "snach", "did you mean")]
#[case("munday: [snatch 3x3]", 3, "munday", "monday")]
#[case("monday: [front squat + jerk 3x3]", 3, "2 movements", "3x(1+1)")]
#[case("monday: [snatch 3x(2+1)]", 3, "is not 2 movements", "3x2")]
#[case("monday: [snatch 3x3 80-70%]", 3, "no range", "lower one first")]
fn what_cannot_be_read_is_told(
    #[case] line: &str,
    #[case] at: u32,
    #[case] what: &str,
    #[case] help: &str,
) {
    let text = format!("format: 1\nweek:\n  {line}\n");
    let wrong = BASE.week_from_text("week.yaml", &text).unwrap_err();
    assert_eq!(wrong.kind(), ErrorKind::Week);
    let told = &wrong.diagnostics()[0];
    assert_eq!(told.place.line, at);
    assert!(told.what.contains(what), "{wrong}");
    assert!(told.help.contains(help), "{}", told.help);
}

/// Days must be as many as the case trains on; they may be other days.
#[test]
fn days_are_those_of_the_week() {
    let case = BASE
        .case()
        .phase("general")
        .field("days", "2")
        .build()
        .unwrap();
    let one = BASE
        .week_from_text("w.yaml", "format: 1\nweek:\n  monday: [snatch 3x3 70%]\n")
        .unwrap();
    assert_eq!(
        BASE.audit(&case, &one, Work::default()).unwrap_err().kind(),
        ErrorKind::Open
    );
    let two = "format: 1\nweek:\n  sunday: [clean 3x2 70%]\n  tuesday: [snatch 3x2 70%]\n";
    let audit = audit_of(&case, two);
    let days: Vec<u8> = audit.days.iter().map(|(day, _)| *day).collect();
    assert_eq!(days, [2, 7]);
}

/// A test of the method that holds a written week and expects something of it.
const IN_RULES: &str = "format: 1
cases:
  plain:
    because: So.
    case: {phase: general, fields: {days: 2, minutes: 75}}
    variants: {long: {phase: general}, short: {fields: {minutes: 60}}}
    written:
      monday: [snatch 4x2 75-80%, clean and jerk 4x1 75-80%, back squat 4x4 75-80%]
      thursday: [clean and jerk 4x1 75%, power snatch 3x2 70%, front squat 4x3 75-80%, back extension 2x10]
    expect:
      sound: {with-time: {is: true, in: [long]}}
      breaks: {the-clock: {rules: [within-the-time], in: [short]}}
";

fn in_rules(from: &str, to: &str) -> Result<KnowledgeBase, Error> {
    rules_and(IN_RULES, from, to)
}

#[rstest]
#[case::as_it_is("", "", &[])]
#[case::sound_in_both("{is: true, in: [long]}", "{is: true}", &["sound in short"])]
#[case::not_sound("is: true", "is: false", &["sound in long"])]
#[case::breaks_nothing("{rules: [within-the-time], in: [short]}", "{nothing: true}", &["breaks in short"])]
#[case::breaks_it_in_both("{rules: [within-the-time], in: [short]}", "{rules: [within-the-time]}", &["breaks in long"])]
#[case::breaks_another("rules: [within-the-time]", "rules: [within-the-time, acute-pain-no-week]", &["breaks in short"])]
#[case::another_week("snatch 4x2 75-80%, clean", "clean", &["sound in long"])]
fn a_written_week_is_expected_to_be_something(
    #[case] from: &str,
    #[case] to: &str,
    #[case] failed: &[&str],
) {
    let base = in_rules(from, to).unwrap_or_else(|wrong| panic!("{wrong}"));
    let result = base.run_rule_test("plain", Work::default()).unwrap();
    let told: Vec<String> = result
        .failed
        .iter()
        .map(|failed| format!("{} in {}", failed.kind, failed.variant.as_ref().unwrap()))
        .collect();
    assert_eq!(told, failed, "{:?}", result.failed);
    for failed in &result.failed {
        match &failed.instead {
            Instead::Sound(is) => assert_eq!(*is, to.contains("is: false")),
            Instead::Breaks(rules, clashes) => assert_eq!(rules.is_empty(), *clashes == 0),
            other => panic!("{other:?}"),
        }
    }
}

#[rstest]
#[case("snatch 4x2", "snach 4x2", "snach")]
#[case("snatch 4x2", "snatch four times", "is not read")]
#[case("monday:", "munday:", "munday")]
#[case("rules: [within-the-time], in", "in", "could never fail")]
#[case(
    "rules: [within-the-time], in",
    "nothing: true, rules: [within-the-time], in",
    "could never fail"
)]
#[case(
    "within-the-time",
    "within-the-tide",
    "did you mean `within-the-time`?"
)]
#[case("in: [short]", "in: [shorter]", "did you mean `short`?")]
#[case(
    "      sound: {with-time: {is: true, in: [long]}}\n      breaks: {the-clock: {rules: [within-the-time], in: [short]}}\n",
    "      proof: {proven: {is: claimed}}\n",
    "expects nothing of it"
)]
fn what_is_wrong_with_such_a_test_is_told(
    #[case] from: &str,
    #[case] to: &str,
    #[case] what: &str,
) {
    assert_told(&in_rules(from, to).unwrap_err(), what);
}

#[test]
fn a_test_that_asks_of_no_written_week_is_told() {
    let (_, rest) = IN_RULES.split_once("    written:").unwrap();
    let (lines, _) = rest.split_once("    expect:").unwrap();
    let wrong = in_rules(&format!("    written:{lines}"), "").unwrap_err();
    assert_told(&wrong, "and has none");
}
