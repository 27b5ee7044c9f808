//! Every sign of the rules, read from their files by another reader: attempts of which its own words hold show what it says.

use serde_yaml::Value;

use super::{file, seen};
use crate::corpus::texts;

fn listed(kind: &str) -> Value {
    let files = texts("rules").into_iter();
    let mut read = files.map(|(_, text)| serde_yaml::from_str::<Value>(&text).unwrap());
    read.find_map(|held| held.get(kind).cloned()).unwrap()
}

/// A value that passes a test.
fn passing(test: &Value) -> String {
    if let Some(first) = test.get("is").and_then(|is| is.get(0)) {
        return first.as_str().unwrap().to_owned();
    }
    let number = test.get("at-least").or_else(|| test.get("at-most"));
    number.unwrap().as_i64().unwrap().to_string()
}

/// A fault of a skill of which some cause's share names a look, with its severest grade.
fn bearing<'f>(faults: &'f Value, skill: &str, look: &str) -> Option<(&'f str, &'f str)> {
    let names = |share: &Value| {
        let raised = share
            .get("raised-by")
            .and_then(|held| held.get(look))
            .is_some();
        let out = share.get("ruled-out-by").and_then(Value::as_sequence);
        raised || out.is_some_and(|all| all.iter().any(|held| held.as_str() == Some(look)))
    };
    let mut all = faults.as_mapping()?.iter();
    let (id, fault) = all.find(|(_, fault)| {
        let skills = fault["skills"].as_sequence().unwrap();
        let causes = fault["causes"].as_mapping().unwrap();
        skills.iter().any(|held| held.as_str() == Some(skill))
            && causes.iter().any(|(_, share)| names(share))
    })?;
    let (grade, _) = fault["grades"].as_mapping()?.iter().last()?;
    Some((id.as_str()?, grade.as_str()?))
}

#[test]
fn each_sign_shows_what_it_says() {
    let (mut faults, mut looks) = (0, 0);
    let faults_listed = listed("faults");
    for (id, sign) in listed("signs").as_mapping().unwrap() {
        let said = sign["seen"].as_mapping().unwrap().iter();
        let said: Vec<String> = said
            .map(|(field, test)| format!("{}: {}", field.as_str().unwrap(), passing(test)))
            .collect();
        for skill in sign["skills"].as_sequence().unwrap() {
            let skill = skill.as_str().unwrap();
            if let Some(fault) = sign.get("fault") {
                let attempt = format!("{{times: 3, seen: {{{}}}}}", said.join(", "));
                let findings = seen(skill, &[&attempt]);
                let found = findings.faults.iter();
                let mut found =
                    found.filter(|held| held.fault.id.as_str() == fault.as_str().unwrap());
                let found = found.next().unwrap_or_else(|| panic!("{id:?} in {skill}"));
                assert_eq!(found.seen, 3, "{id:?}");
                assert_eq!(
                    found.grade.as_str(),
                    sign["grade"].as_str().unwrap(),
                    "{id:?}"
                );
                faults += 1;
            } else {
                // A look is asked of attempts that show a fault on which it bears.
                let look = sign["look"].as_str().unwrap();
                let (fault, grade) = bearing(&faults_listed, skill, look)
                    .unwrap_or_else(|| panic!("{id:?} bears on no fault of {skill}"));
                let attempt = format!(
                    "{{times: 3, seen: {{{}}}, faults: {{{fault}: {grade}}}}}",
                    said.join(", ")
                );
                let findings = seen(skill, &[&attempt]);
                let mut found = findings
                    .looks
                    .iter()
                    .filter(|held| held.look.id.as_str() == look);
                let found = found.next().unwrap_or_else(|| panic!("{id:?} in {skill}"));
                assert_eq!(
                    (found.is_true, found.times),
                    (Some(true), Some((3, 3))),
                    "{id:?}"
                );
                looks += 1;
            }
        }
    }
    assert!(faults > 60 && looks > 30, "{faults} and {looks}");
}

/// Whatever a sign names under `unless` takes it away.
#[test]
fn what_speaks_for_something_else_takes_a_sign_away() {
    let mut asked = 0;
    for (id, sign) in listed("signs").as_mapping().unwrap() {
        let Some(fault) = sign.get("fault").and_then(Value::as_str) else {
            continue;
        };
        let said = sign["seen"].as_mapping().unwrap().iter();
        let said: Vec<String> = said
            .map(|(field, test)| format!("{}: {}", field.as_str().unwrap(), passing(test)))
            .collect();
        for (field, test) in sign
            .get("unless")
            .and_then(Value::as_mapping)
            .into_iter()
            .flatten()
        {
            let skill = sign["skills"][0].as_str().unwrap();
            let attempt = format!(
                "{{times: 3, seen: {{{}, {}: {}}}}}",
                said.join(", "),
                field.as_str().unwrap(),
                passing(test)
            );
            let findings = seen(skill, &[&attempt]);
            // Another sign may show the fault in another grade.
            let grade = sign["grade"].as_str().unwrap();
            let shown = findings
                .faults
                .iter()
                .find(|held| held.fault.id.as_str() == fault);
            assert!(
                shown.is_none_or(|held| held.grade.as_str() != grade),
                "{id:?} with {attempt}"
            );
            asked += 1;
        }
    }
    assert!(asked >= 40, "{asked}");
}

/// A made lift of which nothing else is said is free of all that a lift is spoilt by.
#[test]
fn a_made_lift_is_free_of_what_would_have_spoilt_it() {
    let findings = seen(
        "snatch",
        &["{percent: 70, times: 5, seen: {came-out: lift-made}}"],
    );
    assert!(findings.faults.is_empty());
    let not_seen: Vec<&str> = findings
        .not_seen
        .iter()
        .map(|(fault, _)| fault.id.as_str())
        .collect();
    for fault in [
        "saved-backward",
        "saved-forward",
        "not-high-enough",
        "lost-overhead",
        "snatch-press-out",
    ] {
        assert!(not_seen.contains(&fault), "{fault}: {not_seen:?}");
    }
    // Nobody said how it left the floor.
    assert!(!not_seen.contains(&"hips-shoot-up"), "{not_seen:?}");
    assert!(file("snatch", &[]).starts_with("format: 1"));
}

/// What is implied is no look: nobody looked.
#[test]
fn what_is_implied_is_no_look() {
    let attempt = "{times: 3, seen: {came-out: lift-made}, faults: {not-high-enough: slight}}";
    let findings = seen("snatch", &[attempt]);
    assert!(findings.looks.is_empty(), "{:?}", findings.looks);
}

/// An attempt that went wrong without a sign of why is told.
#[test]
fn what_nothing_explains_is_told() {
    let findings = seen(
        "jerk",
        &[
            "{percent: 80, times: 2, seen: {came-out: lift-made}}",
            "{percent: 90, times: 3, seen: {came-out: lift-missed, bar-came-down: bar-behind}}",
        ],
    );
    assert_eq!((findings.faults.len(), findings.unexplained), (0, 3));
    let shown = drillwright::report::findings_text(&findings, false);
    assert!(shown.contains("3 attempts went wrong"), "{shown}");
    let explained = seen(
        "jerk",
        &["{percent: 90, times: 3, seen: {came-out: lift-missed, bar-came-down: bar-in-front}}"],
    );
    assert_eq!(explained.unexplained, 0);
}

/// Made, and a step was taken all the same.
#[test]
fn a_step_is_a_step_whatever_it_was_called() {
    for (steps, grade) in [
        (0, "stood-without-a-step"),
        (1, "one-step"),
        (2, "two-steps"),
    ] {
        for came in ["lift-made", "lift-saved"] {
            let attempt = format!(
                "{{times: 3, seen: {{came-out: {came}, bar-came-down: bar-behind, steps-taken: {steps}}}}}"
            );
            let findings = seen("snatch", &[&attempt]);
            assert_eq!(findings.faults[0].grade.as_str(), grade, "{came}, {steps}");
        }
    }
}
