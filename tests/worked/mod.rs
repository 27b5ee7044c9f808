//! The example by hand of `rules/README.md`, worked by the library: every number that is printed there.

use std::fs;
use std::path::PathBuf;

use drillwright::explain::{Plan, Proof};
use drillwright::{Case, KnowledgeBase};

use crate::oracle::make::dress;

fn page() -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("rules/README.md");
    let text = fs::read_to_string(path).unwrap();
    text.split("## 9. An example by hand")
        .nth(1)
        .unwrap()
        .to_owned()
}

/// The pack of the page as it is written there.
fn block() -> String {
    let page = page();
    let block = page.split("```yaml").nth(1).unwrap();
    block.split("```").next().unwrap().to_owned()
}

/// The pack of the page, without the rules of some kinds.
fn base(without: &[&str]) -> KnowledgeBase {
    let mut pack: serde_yaml::Value = serde_yaml::from_str(&block()).unwrap();
    let rules = pack["rules"].as_mapping_mut().unwrap();
    for kind in without {
        assert!(rules.remove(*kind).is_some());
    }
    KnowledgeBase::from_texts(dress::files(&serde_yaml::to_string(&pack).unwrap())).unwrap()
}

fn case(base: &KnowledgeBase, ruled_out: &[&str]) -> Case {
    let mut case = base
        .case()
        .phase("general")
        .fault("saved-backward", "two-steps")
        .observed("hip-bang");
    for cause in ruled_out {
        case = case.ruled_out(cause);
    }
    case.build().unwrap()
}

fn week(without: &[&str], ruled_out: &[&str]) -> Plan {
    let base = base(without);
    let plan = base
        .solve(&case(&base, ruled_out))
        .unwrap()
        .into_week()
        .unwrap();
    assert_eq!(plan.proof, Proof::Claimed);
    assert!(plan.missed.is_none());
    plan
}

/// The page has the line, whose last number is the one that came out.
fn says(line: &str) {
    let page = page();
    assert!(
        page.lines()
            .any(|held| held.trim_start_matches("- ") == line),
        "the page does not say: {line}"
    );
}

#[test]
fn demand() {
    let plan = week(&[], &[]);
    let of = |cause: &str| {
        let worked = plan
            .focus
            .iter()
            .find(|worked| worked.cause.as_str() == cause);
        worked.unwrap().demand
    };
    says(&format!(
        "bar-swung-out: (55 + 20) × 2 = {}",
        of("bar-swung-out")
    ));
    says(&format!("toes-early: 45 × 2 = {}", of("toes-early")));
}

#[test]
fn effect_before_the_role() {
    let base = base(&[]);
    let ranked = base.ranked(&case(&base, &[])).unwrap();
    let of = |exercise: &str, cause: &str| {
        let entry = ranked
            .iter()
            .find(|entry| entry.exercise.as_str() == exercise)
            .unwrap();
        let effect = entry
            .effects
            .iter()
            .find(|effect| effect.cause.id.as_str() == cause);
        effect.map_or(0, |effect| effect.half_points)
    };
    let (swung, toes) = ("bar-swung-out", "toes-early");
    let number = of("no-contact-snatch", swung);
    says(&format!(
        "no-contact-snatch on bar-swung-out: 3 × 2 = 6; its stage is there, so {number}"
    ));
    let number = of("no-contact-snatch", toes);
    says(&format!(
        "no-contact-snatch on toes-early: -1 × 2 = -2; both stages are there, so {number}"
    ));
    let number = of("held-hang-snatch", swung);
    says(&format!(
        "held-hang-snatch on bar-swung-out: 2 × 2 + 1 × 1 = 5; its stage is there, so {number}"
    ));
    let number = of("held-hang-snatch", toes);
    says(&format!(
        "held-hang-snatch on toes-early: 2 × 2 + 1 × 1 = 5; of two stages the hang cuts one, so 5 / 2, towards zero, = {number}"
    ));
    assert_eq!(of("snatch", swung), of("snatch", toes));
    says(&format!(
        "snatch: no constraint departs, so {}",
        of("snatch", swung)
    ));
}

/// Worth of help on one cause alone, the other ruled out by the coach.
fn helped(by_cause: &str) -> i64 {
    let other = if by_cause == "toes-early" {
        "bar-swung-out"
    } else {
        "toes-early"
    };
    week(&["quality-worth", "prefer"], &[other]).worth
}

/// The total of help that a table's value stands for: the tables of the page, read backwards.
fn table(total: i64) -> i64 {
    match total {
        ..0 => total * 7,
        0..=4 => total * 6,
        _ => 24 + (total - 4).min(4) * 5,
    }
}

#[test]
fn help_in_the_week() {
    let (swung, toes) = (helped("bar-swung-out"), helped("toes-early"));
    let total = |worth: i64, demand: i64| {
        (-9..=8)
            .find(|total| demand * table(*total) == worth)
            .unwrap()
    };
    says(&format!(
        "bar-swung-out: 6 + 5 / 2 = 6 + 2 = {}",
        total(swung, 150)
    ));
    says(&format!(
        "toes-early: -2 + 2 / 2 = -2 + 1 = {}",
        total(toes, 90)
    ));
    says(&format!(
        "table(8) = 4 × 6 + 4 × 5 = {}; bar-swung-out: 150 × 44 = {swung}",
        swung / 150
    ));
    says(&format!(
        "table(-1) = -1 × 7 = {}; toes-early: 90 × -7 = {toes}",
        toes / 90
    ));
    let both = week(&["quality-worth", "prefer"], &[]).worth;
    says(&format!("help on both: 6600 - 630 = {both}"));
}

#[test]
fn worth_of_the_week() {
    let whole = week(&[], &[]);
    let above = whole.worth - week(&["quality-worth"], &[]).worth;
    says(&format!(
        "bar-path: 3 + 3 + (3 - 1) + 3 = 11 points, 3 above the floor of 8; table(3) = 3 × 2 = 6; 100 × 6 = {above}"
    ));
    let cost = whole.worth - week(&["prefer"], &[]).worth;
    says(&format!("four items at -1 each: 100 × -4 = {cost}"));
    says(&format!("the week: 5970 + 600 - 400 = {}", whole.worth));
    says(&format!("tie measure: 9 + 4 = {}", whole.tie));
    let days: Vec<Vec<&str>> = whole
        .sessions
        .iter()
        .map(|session| {
            session
                .items
                .iter()
                .map(|item| item.exercise.as_str())
                .collect()
        })
        .collect();
    assert_eq!(
        days,
        [
            ["no-contact-snatch", "snatch"],
            ["held-hang-snatch", "snatch"]
        ]
    );
}

/// The page's floor of 8 and its 11 points: one more point asked for each unit, and the floor is missed from 12 on.
#[test]
fn points_of_the_quality() {
    let block = block();
    for (floor, missed) in [(11, 0), (12, 1), (14, 3)] {
        let text = block.replace("points-at-least: 8", &format!("points-at-least: {floor}"));
        assert_ne!(text, block);
        let base = KnowledgeBase::from_texts(dress::files(&text)).unwrap();
        let plan = base.solve(&case(&base, &[])).unwrap().into_week().unwrap();
        assert_eq!(plan.missed.middle, missed, "a floor of {floor}");
    }
}
