//! What README shows is what the program prints and what the rules read.

use drillwright::KnowledgeBase;

use super::{coach, root, rule_files};

/// The fenced blocks of README in one language.
fn blocks(language: &str) -> Vec<String> {
    let text = std::fs::read_to_string(root().join("README.md")).unwrap();
    let mut found = Vec::new();
    let mut open: Option<String> = None;
    for line in text.lines() {
        match (&mut open, line.strip_prefix("```")) {
            (None, Some(name)) if name == language => open = Some(String::new()),
            (Some(_), Some("")) => found.extend(open.take()),
            (Some(block), _) => *block += &format!("{line}\n"),
            _ => {}
        }
    }
    found
}

#[test]
fn the_excerpt_is_part_of_what_is_printed() {
    let out = coach(&[]).out;
    let shown = blocks("text");
    assert!(!shown.is_empty());
    for block in shown {
        assert!(block.lines().count() >= 10, "{block}");
        assert!(
            out.contains(&block),
            "README is stale:\n{block}\nprinted:\n{out}"
        );
    }
}

#[test]
fn the_ten_lines_of_rules_are_read_in_place_of_their_own() {
    let shown = blocks("yaml");
    assert_eq!(shown.len(), 1);
    assert_eq!(shown[0].lines().count(), 10);
    // The axis that README shows is taken out of the built-in file, and README put beside it.
    let mut files = rule_files();
    let axes = files
        .iter_mut()
        .find(|(name, _)| name == "axes.yaml")
        .unwrap();
    let mut kept = true;
    let mut cut = 0;
    let lines = axes.1.lines().filter(|line| {
        if line.starts_with("  ") && !line.starts_with("   ") {
            kept = *line != "  contact:";
        }
        cut += usize::from(!kept);
        kept
    });
    axes.1 = lines.map(|line| format!("{line}\n")).collect();
    assert!(cut > 5, "the axis is not where it was");
    files.push((String::from("readme.yaml"), shown[0].clone()));
    let rules = KnowledgeBase::from_texts(files).unwrap_or_else(|error| panic!("{error}"));
    let best = rules
        .ranked_for_fault("saved-backward", Some("snatch"))
        .unwrap();
    let held = best
        .iter()
        .find(|held| held.exercise.as_str() == "no-contact-snatch");
    let by = &held.unwrap().effects[0].by[0];
    assert_eq!(
        (by.id.as_str(), held.unwrap().effects[0].half_points),
        ("no-contact", 6)
    );
}

#[test]
fn every_command_that_is_named_exists() {
    let text = std::fs::read_to_string(root().join("README.md")).unwrap();
    let help = coach(&["--help"]).out;
    for command in [
        "week",
        "check",
        "faults",
        "exercises",
        "name",
        "ladder",
        "review",
        "schema",
    ] {
        assert!(text.contains(&format!("`{command}")), "README: {command}");
        let listed = help
            .lines()
            .any(|line| line.trim_start().starts_with(command));
        assert!(listed, "{command}: {help}");
    }
}
