//! The built-in pack with its rules of the week taken away, so that the load of one exercise shows what it may be at most.

use drillwright::explain::{Item, Plan};
use drillwright::{Answer, Case, KnowledgeBase};

use crate::corpus::texts;

/// A dose far too heavy, held down by what can be done in the exercise itself and by nothing else.
const DOSE: &str = r#"
format: 1
doses:
  probe:
    sets: {from: 1, to: 1}
    reps: {from: 1, to: 1}
    percent-of-reference: {from: 130, to: 130}
    rest-seconds: {from: 60, to: 60}
    set-seconds: 20
    feel: "As heavy as can be."
    because: "For a test."
    source: {expert-set: "for a test"}
"#;

const RULES: &str = r#"
format: 1
rules:
  dose:
    probe-dose: {what: {everything: true}, give: probe, because: "For a test.", source: {expert-set: "for a test"}}
  cap:
    probe-cap: {what: {everything: true}, percent-of-own-highest-at-most: 100, because: "For a test.", source: {expert-set: "for a test"}}
  prefer:
    probe-cost: {what: {everything: true}, weight: -9, because: "For a test.", source: {expert-set: "for a test"}}
  help-worth:
    probe-help: {table: help-on-a-cause, because: "For a test.", source: {expert-set: "for a test"}}
"#;

/// The pack that asks for one exercise at least.
pub fn base_with(exercise: &str) -> KnowledgeBase {
    let mut files = texts("rules");
    files.retain(|(name, _)| !name.starts_with("rules-"));
    let asked = format!(
        "  count:\n    probe-count: {{what: {{exercises: [{exercise}], alone: true}}, per: week, at-least: 1, yields: never, because: \"For a test.\", source: {{expert-set: \"for a test\"}}}}\n"
    );
    files.push((String::from("probe-dose.yaml"), String::from(DOSE)));
    files.push((String::from("probe-rules.yaml"), format!("{RULES}{asked}")));
    KnowledgeBase::from_texts(files).unwrap()
}

fn week(base: &KnowledgeBase, case: &Case) -> Plan {
    match base.solve(case).unwrap() {
        Answer::Week(plan) => *plan,
        other => panic!("no week: {other:?}"),
    }
}

/// The exercise as it stands in a week, with these bests.
pub fn placed(exercise: &str, bests: &[(&str, &str)]) -> Item {
    let base = base_with(exercise);
    // Faults whose causes let a drill be a corrective.
    let mut case = base
        .case()
        .phase("general")
        .fault_of("saved-backward", "snatch", "two-steps")
        .fault_of("torn-from-floor", "snatch", "clear")
        .bar("mens-bar")
        .field("days", "2");
    for (best, load) in bests {
        case = case.best(best, load);
    }
    let plan = week(&base, &case.build().unwrap());
    let mut all = plan.sessions.into_iter().flat_map(|session| session.items);
    all.find(|item| item.exercise.as_str() == exercise)
        .unwrap_or_else(|| panic!("{exercise} is not in the week"))
}

/// The observations that hold by themselves where a measure has this value.
pub fn observed(measure: &str, value: i64) -> Vec<String> {
    let base = base_with("snatch");
    let case = base
        .case()
        .phase("general")
        .measured(measure, value)
        .field("days", "2")
        .build()
        .unwrap();
    let plan = week(&base, &case);
    let claims = plan.trail.iter().map(|(_, fact)| fact.claim());
    claims
        .filter_map(|claim| match claim {
            drillwright::explain::Claim::Observed(observation) => Some(observation.to_string()),
            _ => None,
        })
        .collect()
}
