//! `coach check`: every problem of a folder at once, each with its place.

use super::{Folder, coach, rule_files, rules};

/// An edit of a rule file, and where in the edited line the problem then is.
struct Break {
    file: &'static str,
    from: &'static str,
    to: &'static str,
    /// What of the new text is pointed at.
    at: &'static str,
}

const BREAKS: [Break; 4] = [
    Break {
        file: "axes.yaml",
        from: "unset: hip-contact",
        to: "unset: hip-contakt",
        at: "hip-contakt",
    },
    Break {
        file: "causes.yaml",
        from: "look-for:",
        to: "look-four:",
        at: "look-four",
    },
    Break {
        file: "doses.yaml",
        from: "set-seconds: 25",
        to: "set-seconds: many",
        at: "many",
    },
    Break {
        file: "exercises-jerk.yaml",
        from: "from: jerk",
        to: "from: jerc",
        at: "jerc",
    },
];

/// Line and column, counted from 1, of what an edit is pointed at.
fn place(text: &str, edit: &Break) -> (usize, usize) {
    let at = text.find(edit.to).unwrap() + edit.to.find(edit.at).unwrap();
    let before = &text[..at];
    let column = before.rsplit('\n').next().unwrap().chars().count() + 1;
    (before.matches('\n').count() + 1, column)
}

fn broken() -> (Folder, Vec<String>) {
    let folder = Folder::new("broken");
    let mut places = Vec::new();
    for (name, mut text) in rule_files() {
        for edit in BREAKS.iter().filter(|edit| edit.file == name) {
            assert!(text.contains(edit.from), "{name}: {}", edit.from);
            text = text.replacen(edit.from, edit.to, 1);
            let (line, column) = place(&text, edit);
            places.push(format!("{name}:{line}:{column}"));
        }
        folder.write(&name, &text);
    }
    assert_eq!(places.len(), BREAKS.len());
    (folder, places)
}

#[test]
fn a_broken_folder_is_2_and_every_problem_is_told() {
    let (folder, places) = broken();
    let ran = coach(&["check", folder.path()]);
    assert_eq!((ran.code, ran.err.as_str()), (2, ""));
    for place in &places {
        assert!(
            ran.out.contains(&format!("--> {place}\n")),
            "{place} is missing: {}",
            ran.out
        );
    }
    let json = coach(&["check", folder.path(), "--as", "json"]);
    assert_eq!(json.code, 2);
    let json = json.json();
    let problems = json["problems"].as_array().unwrap();
    let told: Vec<String> = problems
        .iter()
        .map(|problem| {
            let place = &problem["place"];
            let file = place["file"].as_str().unwrap();
            format!("{file}:{}:{}", place["line"], place["column"])
        })
        .collect();
    for place in &places {
        assert!(told.contains(place), "{place} is missing: {told:?}");
    }
    assert!(ran.out.ends_with(&format!("{} problems\n", problems.len())));
    // Every other command refuses the folder as well.
    for command in [&["faults"][..], &["exercises"], &["ladder", "snatch"], &[]] {
        let ran = coach(&[command, &["--rules", folder.path()]].concat());
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{command:?}");
    }
}

/// Files that are no text, one that is not read at all, and problems of the others: all at once.
#[test]
fn files_that_are_lost_hide_no_problem_of_the_others() {
    let folder = Folder::new("lost");
    for (name, text) in rule_files() {
        let mut bytes = text.into_bytes();
        match name.as_str() {
            // Everything names what is in here, and nobody knows that it is.
            "axes.yaml" => bytes.resize(1024 * 1024 + 1, b'\n'),
            "bars.yaml" => bytes.splice(0..0, *b"# caf\xe9\n").for_each(drop),
            "marks.yaml" => bytes.extend_from_slice(b"# \xff"),
            "doses.yaml" => bytes.extend_from_slice(b"  Bad Id: 1\n"),
            _ => {}
        }
        folder.write(&name, bytes);
    }
    let ran = coach(&["check", folder.path(), "--as", "json"]);
    assert_eq!((ran.code, ran.err.as_str()), (2, ""));
    let json = ran.json();
    let told: Vec<(&str, &str, i64)> = json["problems"]
        .as_array()
        .unwrap()
        .iter()
        .map(|problem| {
            assert!(!problem["help"].as_str().unwrap().is_empty());
            let place = &problem["place"];
            (
                place["file"].as_str().unwrap(),
                problem["code"].as_str().unwrap(),
                place["column"].as_i64().unwrap(),
            )
        })
        .collect();
    assert_eq!(told[0], ("axes.yaml", "too-large", 1), "{told:?}");
    assert_eq!(told[1], ("bars.yaml", "not-utf8", 6), "{told:?}");
    assert!(told[2..].contains(&("doses.yaml", "bad-id", 3)), "{told:?}");
    assert_eq!(told.last(), Some(&("marks.yaml", "not-utf8", 3)));
    let dangles = |found: &&(&str, &str, i64)| found.1 == "dangling-id";
    assert_eq!(told.iter().find(dangles), None);
}

#[test]
fn rules_that_lack_a_file_are_remarked_on() {
    let folder = Folder::new("lacking");
    for (name, text) in rule_files() {
        if name != "rules-time.yaml" {
            folder.write(&name, &text);
        }
    }
    let ran = coach(&["check", folder.path()]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let remark = "there is no rule of the kind `minutes`: nothing bounds how long a session is";
    assert!(ran.out.contains("remark: doses.yaml:"), "{}", ran.out);
    assert!(ran.out.contains(remark), "{}", ran.out);
    let json = coach(&["check", folder.path(), "--as", "json"]).json();
    let remarks = json["remarks"].as_array().unwrap();
    assert_eq!(remarks.len(), 1, "{json}");
    assert_eq!(remarks[0]["place"]["file"], "doses.yaml");
    assert!(json["problems"].as_array().unwrap().is_empty());
}

#[test]
fn the_built_in_rules_have_no_problem() {
    let ran = coach(&["check", "rules"]);
    assert_eq!(ran.code, 0, "{}", ran.out);
    // The folder is what is compiled in, and the program is as new as the library.
    let fingerprint = format!("fingerprint {}.", rules().fingerprint());
    assert!(
        ran.out.contains(&fingerprint),
        "{fingerprint}: the example is older than the rules, build it again: {}",
        ran.out
    );
    let json = coach(&["check", "rules", "--as", "json"]).json();
    assert_eq!(json, serde_json::json!({"format": 1, "problems": []}));
}
