//! The same laws on cases of the built-in method.

use rstest::rstest;
use serde_yaml::Value;

use super::pack::{Pack, rank, used, worse};

/// A snatch from low blocks without the hook, which no rule names.
const LEAF: &str = r#"
names: {en: [a new leaf]}
from: snatch-from-low-blocks
with: [no-hook]
roles: [corrective, transfer, variation]
use: "For a test."
source: {expert-set: "for a test"}
"#;

#[rstest]
#[case("three-days-half-an-hour")]
#[case("last-week-2-days")]
#[case("two-days-an-hour-clean")]
fn hold_on_built_in_cases(#[case] name: &str) {
    let pack = Pack::builtin(name);
    let answer = pack.answer();
    let before = rank(&answer).unwrap();
    let plan = answer.week().unwrap();

    let mut more = pack.clone();
    let variations = more.section("exercises").get_mut("variations").unwrap();
    variations.as_mapping_mut().unwrap().insert(
        Value::from("a-new-leaf"),
        serde_yaml::from_str(LEAF).unwrap(),
    );
    assert!(!worse(before, more.rank().unwrap()), "a leaf more");

    let all = pack.entries("exercises");
    let parents: Vec<&str> = all
        .iter()
        .filter_map(|(_, entry)| entry.get("from")?.as_str())
        .collect();
    let parts: Vec<&str> = all
        .iter()
        .filter_map(|(_, entry)| entry.get("components")?.as_sequence())
        .flatten()
        .map(|part| part["do"].as_str().unwrap())
        .collect();
    let unused = all.iter().filter(|(id, entry)| {
        !used(plan).contains(id)
            && !parents.contains(&id.as_str())
            && !parts.contains(&id.as_str())
            && entry.get("highest").is_none()
    });
    let mut tried = 0;
    for (id, _) in unused.step_by(17) {
        let Some(other) = pack.without_exercise(id) else {
            continue;
        };
        tried += 1;
        assert_eq!(Some(before), other.rank(), "without {id}");
    }
    assert!(tried >= 3, "{tried} exercises taken away");

    for (kind, id) in pack.hard_rules().into_iter().step_by(9) {
        // A rule less can be much more to search; what is not proven is not compared.
        if let Some(after) = pack.without_rule(&kind, &id).rank() {
            assert!(!worse(before, after), "without {kind}.{id}");
        }
    }

    // The layout that it has anyway, said in the case; and what it has taken, asked for by rules.
    let mut named = pack.clone();
    let case = named.case["case"].as_mapping_mut().unwrap();
    case.insert(Value::from("layout"), Value::from(plan.layout.as_str()));
    assert_eq!(Some(before), named.rank(), "its own layout by name");
    let mut forced = pack.clone();
    for id in used(plan) {
        let rule =
            format!("{{what: {{exercises: [{id}]}}, per: week, at-least: 1, yields: never}}");
        forced.add_rule("count", &format!("forced-{id}"), &rule);
    }
    assert_eq!(Some(before), forced.rank(), "its own exercises asked for");
}
