//! Packs written tersely: adds the words that a rule file must have and that decide nothing.

use serde_yaml::{self as yaml, Mapping, Value};

/// One file for each kind, from a text that holds several, with all that must be said.
pub fn files(terse: &str) -> Vec<(String, String)> {
    let mut whole = value(terse);
    let mut files = Vec::new();
    for (kind, body) in items(&mut whole) {
        match kind.as_str() {
            "exercises" | "causes" | "factors" | "case-fields" | "rules" => {
                items(body)
                    .into_iter()
                    .for_each(|(variant, section)| dress(&kind, &variant, section));
            }
            _ => dress(&kind, "", body),
        }
        let file = format!("format: 1\n{}", written(&kind, body));
        files.push((format!("{kind}.yaml"), file));
    }
    let sources = "{made-up: {by: the author of a test, date: 2026-01-02}}";
    let file = format!(
        "format: 1\n{}",
        written("sources", &value(&format!("{{expert-set: {sources}}}")))
    );
    files.push((String::from("sources.yaml"), file));
    files
}

fn written(key: &str, body: &Value) -> String {
    let map: Mapping = std::iter::once((text(key), body.clone())).collect();
    // Some readers take the bare word for a truth value.
    yaml::to_string(&map)
        .unwrap()
        .replace("\n      on:", "\n      'on':")
}

fn text(words: &str) -> Value {
    Value::String(words.to_owned())
}

fn value(written: &str) -> Value {
    yaml::from_str(written).unwrap_or_else(|error| panic!("{error} in\n{written}"))
}

/// The entries of a map; an empty one becomes a map.
fn items(map: &mut Value) -> Vec<(String, &mut Value)> {
    let map = map.as_mapping_mut().unwrap();
    let filled = map.iter_mut().map(|(key, value)| {
        if value.is_null() {
            *value = Value::Mapping(Mapping::new());
        }
        (key.as_str().unwrap().to_owned(), value)
    });
    filled.collect()
}

/// Adds keys that are not written.
fn say(item: &mut Value, id: &str, keys: &str) {
    let item = item.as_mapping_mut().unwrap();
    for key in keys.split_whitespace() {
        let words = match key {
            "names" => value(&format!("{{en: [{id}]}}")),
            "source" => value("{made-up: for a test}"),
            "say" => value("{en: Something.}"),
            "weeks" => value("{from: 1, to: 4}"),
            "round" => text("down"),
            "aspect" => text("way"),
            "when-ruled-out-by" => value("[]"),
            _ => text(&format!("Of {id}, for a test.")),
        };
        if !item.contains_key(key) {
            item.insert(text(key), words);
        }
    }
}

fn inner(item: &mut Value, key: &str, keys: &str) {
    if let Some(map) = item.get_mut(key) {
        items(map)
            .into_iter()
            .for_each(|(id, inner)| say(inner, &id, keys));
    }
}

fn dress(kind: &str, variant: &str, section: &mut Value) {
    let keys = match (kind, variant) {
        ("rules", "fullest") => "because source say when-ruled-out-by",
        ("rules", "caution" | "how-often") => "because source say",
        ("rules" | "tables", _) => "because source",
        ("axes" | "parts" | "case-fields", _) => "names",
        ("phases", _) => "names weeks because source",
        ("layouts", _) => "names because source",
        ("faults", _) => "names aspect because source",
        ("observations", _) => "names look source",
        ("track-measures", _) => "names unit means source",
        ("qualities" | "stresses", _) => "names means source",
        ("roles", _) => "names says source",
        ("marks", _) => "names means",
        ("doses", _) => "feel because source",
        ("measures", _) => "unit round source",
        ("zone-tables", _) => "names made-for source",
        ("groups", _) => "names says",
        ("exercises", "variations") => "names use because source",
        ("exercises", _) => "names use source",
        ("causes", _) => "names look-for because source",
        ("factors", _) => "source",
        _ => "names source",
    };
    for (id, item) in items(section) {
        say(item, &id, keys);
        match (kind, variant) {
            ("axes", _) => inner(item, "constraints", "names because source"),
            ("faults", _) => inner(item, "grades", "says"),
            ("case-fields", "whole") => say(item, &id, "unit"),
            ("case-fields", "one-of" | "some-of") => {
                let words = item["values"].as_sequence().unwrap().clone();
                let names = |word: &Value| {
                    (
                        word.clone(),
                        value(&format!("{{en: [{}]}}", word.as_str().unwrap())),
                    )
                };
                item["values"] = Value::Mapping(words.iter().map(names).collect());
            }
            ("references", _) => {
                for one in item
                    .get_mut("instead")
                    .and_then(Value::as_sequence_mut)
                    .into_iter()
                    .flatten()
                {
                    say(one, &id, "source");
                }
            }
            ("zone-tables", _) => {
                for (_, zone) in items(&mut item["zones"]) {
                    let best = zone["total"]["to"].clone();
                    zone.as_mapping_mut()
                        .unwrap()
                        .insert(text("best-total"), best);
                }
            }
            _ => {}
        }
        if let Some(stated) = item.get_mut("highest") {
            say(stated, &id, "source");
        }
    }
}
