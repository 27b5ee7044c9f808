//! What a case says of what was seen and tried, by flags, by the builder and in a file; and what programs read of it.

use drillwright::KnowledgeBase;

use super::{Folder, coach, rules};

const CASE: &str = "format: 1
case:
  today: \"2026-11-25\"
  phase: general
  faults: [{fault: saved-forward, grade: one-step}]
  sure-of: [{cause: bar-swung-out, skill: snatch}]
  bests: {best-snatch: {weight: 90, on: \"2026-01-31\"}, best-clean-and-jerk: 112}
  tried: [{exercise: no-contact-snatch, came: worse}]
  did-last-week: [held-feet-snatch]
  fields: {days: 2, minutes: 45}
";

#[test]
fn flags_say_what_a_file_says() {
    let folder = Folder::new("said");
    let path = folder.write("case.yaml", CASE);
    let by_file = coach(&["week", &path, "--as", "json"]);
    let flags = "week --today 2026-11-25 --phase general --fault saved-forward --grade one-step --sure-of bar-swung-out=snatch --best best-snatch=90@2026-01-31 --best best-clean-and-jerk=112 --tried no-contact-snatch=worse --did-last-week held-feet-snatch --days 2 --minutes 45 --as json";
    let flags: Vec<&str> = flags.split(' ').collect();
    let by_flags = coach(&flags);
    assert_eq!((by_file.code, by_file.err.as_str()), (0, ""));
    assert_eq!(by_file.out, by_flags.out);
    let week = by_file.json();
    let on = &week["worked_on"][0];
    assert_eq!(
        (&on["cause"], &on["demand"], &on["sure"]),
        (&"bar-swung-out".into(), &100.into(), &true.into())
    );
    let waits = week["waits"].as_array().unwrap();
    let opposite = waits
        .iter()
        .find(|waits| waits["cause"] == "bar-drifts-away")
        .unwrap();
    let why = opposite["why"].as_str().unwrap();
    assert!(why.contains("of which the coach is sure"), "{why}");
    assert!(opposite.get("sure").is_none(), "{opposite}");
    let cautions = week["cautions"].as_array().unwrap();
    assert!(cautions.iter().any(|said| said["rule"] == "old-best-said"));
    assert!(week.get("too_seldom").is_none());
    // The reason is said to be the coach's, in the words that fit on its line.
    let why = "Works against “bar swung off the hips” (coach): no hook grip.";
    assert!(by_file.out.contains(why), "{}", by_file.out);
}

#[test]
fn a_fault_that_is_too_seldom_is_told() {
    let case = |base: &KnowledgeBase, times: (u16, u16)| {
        let case = base
            .case()
            .phase("general")
            .fault("saved-backward", "one-step");
        let case = case.times(times.0, times.1).from_percent(95);
        case.field("days", "2")
            .field("minutes", "45")
            .build()
            .unwrap()
    };
    let plan = |times| {
        let answer = rules().solve(&case(rules(), times)).unwrap();
        answer.week().unwrap().clone()
    };
    let (seldom, often) = (plan((1, 10)), plan((4, 10)));
    assert!(seldom.focus.is_empty() && !often.focus.is_empty());
    let said = seldom.seen[0].too_seldom.as_ref().unwrap();
    assert_eq!(said.rule.as_str(), "seldom-may-be-chance");
    assert!(often.seen[0].too_seldom.is_none());
    let document = seldom.document(drillwright::report::Reasons::Brief);
    let told = &document.too_seldom[0];
    assert_eq!(
        (told.fault.as_str(), told.skill.as_str(), &told.says),
        ("saved-backward", "snatch", &said.words)
    );
    let sheet = seldom.text(drillwright::report::Layout::new());
    let sheet = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    let seen = "Seen in 1 of 10 attempts. It starts at 95 % of the best.";
    assert!(
        sheet.contains(seen) && sheet.contains(&said.words),
        "{sheet}"
    );
}

#[test]
fn the_builder_tells_what_cannot_be_said() {
    let told = |case: drillwright::CaseBuilder| {
        let error = case.phase("general").build().unwrap_err();
        let all: Vec<String> = error
            .diagnostics()
            .iter()
            .map(ToString::to_string)
            .collect();
        all.join("\n")
    };
    let base = rules();
    for (case, says) in [
        (base.case().times(1, 2), "none has been named"),
        (base.case().from_percent(90), "none has been named"),
        (
            base.case().tried("snatch", "bad"),
            "`bad` is not what can come",
        ),
        (
            base.case()
                .sure_of("weight-behind")
                .ruled_out("weight-behind"),
            "rules it out",
        ),
        (
            base.case().best_on("best-snatch", "90", "2026-01-01"),
            "does not say what day it is",
        ),
    ] {
        let found = told(case);
        assert!(found.contains(says), "{says}: {found}");
    }
}
