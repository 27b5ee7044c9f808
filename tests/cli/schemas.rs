//! The schemas hold what they describe: documents, case files, rule files.

use super::{coach, kept, root, rule_files};

/// A schema as the program prints it, ready to be asked.
pub fn schema(name: &str) -> jsonschema::Validator {
    let ran = coach(&["schema", name]);
    assert_eq!(ran.code, 0, "{name}: {}", ran.err);
    let schema = ran.json();
    jsonschema::meta::validate(&schema).unwrap_or_else(|error| panic!("{name}: {error}"));
    jsonschema::validator_for(&schema).unwrap_or_else(|error| panic!("{name}: {error}"))
}

#[track_caller]
pub fn assert_holds(schema: &jsonschema::Validator, document: &serde_json::Value, what: &str) {
    let errors: Vec<String> = schema
        .iter_errors(document)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect();
    assert!(errors.is_empty(), "{what}: {}", errors.join("\n"));
}

fn from_yaml(text: &str) -> serde_json::Value {
    let yaml: serde_yaml::Value = serde_yaml::from_str(text).unwrap();
    serde_json::to_value(yaml).unwrap()
}

#[test]
fn every_rule_file_is_what_the_schema_of_its_kind_says() {
    for (name, text) in rule_files() {
        let document = from_yaml(&text);
        let map = document.as_object().unwrap();
        let kind = map.keys().find(|key| *key != "format").unwrap();
        let schema = schema(kind);
        assert_holds(&schema, &document, &name);
        // The schema is not one that lets everything through.
        for wrong in [
            text.replacen("format: 1", "format: 2", 1),
            format!("{text}\nno-such-key: 1\n"),
        ] {
            assert!(!schema.is_valid(&from_yaml(&wrong)), "{name}");
        }
    }
}

#[test]
fn every_kept_case_is_what_the_schema_says() {
    let schema = schema("case");
    let mut read = 0;
    for entry in std::fs::read_dir(root().join("tests/cases")).unwrap() {
        let path = entry.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap();
        assert_holds(&schema, &from_yaml(&text), &path.display().to_string());
        let wrong = text.replacen("  phase:", "  phaze:", 1);
        assert!(!schema.is_valid(&from_yaml(&wrong)), "{}", path.display());
        read += 1;
    }
    assert!(read >= 48, "{read} cases");
}

#[test]
fn the_schema_of_weeks_refuses_what_is_no_week() {
    let schema = schema("week");
    let week = coach(&["week", &kept("three-days-half-an-hour"), "--as", "json"]).json();
    assert_holds(&schema, &week, "the week itself");
    let broken: [fn(&mut serde_json::Value); 6] = [
        |week| week["format"] = 2.into(),
        |week| week["more"] = 1.into(),
        |week| week["worth"] = "much".into(),
        |week| week["sessions"][0]["day"] = serde_json::Value::Null,
        |week| week["sessions"][0]["items"][0]["name"] = 1.into(),
        |week| drop(week.as_object_mut().unwrap().remove("proof")),
    ];
    for (at, wrong) in broken.iter().enumerate() {
        let mut week = week.clone();
        wrong(&mut week);
        assert!(!schema.is_valid(&week), "edit {at}");
    }
}
