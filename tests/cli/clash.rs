//! Where no week satisfies the hard rules: what is named clashes, and without any one part of it
//! the others hold.

use drillwright::explain::{Clashing, NoWeek};
use drillwright::report::Layout;
use drillwright::{Answer, KnowledgeBase};

use super::{kept, root, rule_files};

type Files = Vec<(String, String)>;

fn ask(files: &Files, case: &str) -> Answer {
    let rules = KnowledgeBase::from_texts(files.iter().map(|(name, text)| (name, text)));
    let rules = rules.unwrap_or_else(|error| panic!("{error}"));
    let case = rules.case_from_text("case.yaml", case);
    rules
        .solve(&case.unwrap_or_else(|error| panic!("{error}")))
        .unwrap()
}

fn no_week(files: &Files, case: &str) -> NoWeek {
    match ask(files, case) {
        Answer::NoWeek(none) => *none,
        other => panic!("{}", other.text(Layout::new())),
    }
}

/// The files without the rule that stands on a line: it, and all that is indented below it.
fn without(files: &Files, file: &str, line: u32) -> Files {
    let mut files = files.clone();
    let held = files.iter_mut().find(|(name, _)| name == file).unwrap();
    let lines: Vec<&str> = held.1.lines().collect();
    let from = usize::try_from(line).unwrap() - 1;
    let depth = |line: &str| line.len() - line.trim_start().len();
    let after = lines[from + 1..]
        .iter()
        .position(|line| depth(line) <= depth(lines[from]));
    let to = after.map_or(lines.len(), |at| from + 1 + at);
    // Where it is the only rule of its kind in the file, the kind's own line goes with it.
    let alone = depth(lines[from - 1]) < depth(lines[from])
        && lines
            .get(to)
            .is_none_or(|line| depth(line) < depth(lines[from]));
    let from = from - usize::from(alone);
    held.1 = [&lines[..from], &lines[to..]].concat().join("\n") + "\n";
    files
}

/// Takes out each part of a clash in turn and asks again.
fn assert_irreducible(files: &Files, case: &str, none: &NoWeek) {
    assert!(
        none.irreducible && none.clash.len() >= 2,
        "{:?}",
        none.clash
    );
    for clash in &none.clash {
        let again = match &clash.what {
            Clashing::Rule { place, .. } => ask(&without(files, &place.file, place.line), case),
            Clashing::Field { field, .. } => {
                let said = format!("    {field}:");
                let lines: Vec<&str> = case
                    .lines()
                    .filter(|line| !line.starts_with(&said))
                    .collect();
                assert!(lines.len() < case.lines().count(), "{field}");
                ask(files, &(lines.join("\n") + "\n"))
            }
            other => panic!("{other:?} is not taken out by this test"),
        };
        let week = again.week().is_some();
        // All that is named here is enough by itself, for nothing else clashes.
        assert!(
            clash.enough && week,
            "{:?}: {}",
            clash.what,
            again.text(Layout::new())
        );
    }
    let text = none.text(Layout::new());
    for clash in &none.clash {
        let named = match &clash.what {
            Clashing::Rule { kind, id, place } => format!("rules.{kind}.{id} ({place})"),
            Clashing::Field { .. } => String::from("the case says: "),
            _ => continue,
        };
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(&named), "{named}: {text}");
    }
}

#[test]
fn acute_pain_clashes_with_the_rules_that_forbid_training_with_it() {
    let files = rule_files();
    let case = std::fs::read_to_string(root().join(kept("acute-pain"))).unwrap();
    let none = no_week(&files, &case);
    assert!(none.clash.iter().any(|clash| matches!(
        &clash.what,
        Clashing::Field { field, .. } if field.as_str() == "acute-pain"
    )));
    // That there must be work at all is one of the rules: without it the empty week is a week.
    assert_irreducible(&files, &case, &none);
}

#[test]
fn a_bound_that_nothing_can_reach_clashes_with_what_stands_in_its_way() {
    // Twelve times the full snatch on three days of half an hour.
    let mut files = rule_files();
    let held = files
        .iter_mut()
        .find(|(name, _)| name == "rules-lifts.yaml")
        .unwrap();
    let (before, rule) = held.1.split_once("    full-snatch-weekly:").unwrap();
    let rule = rule.replacen("at-least: 1", "at-least: 12", 1);
    held.1 = format!("{before}    full-snatch-weekly:{rule}");
    let case = std::fs::read_to_string(root().join(kept("three-days-half-an-hour"))).unwrap();
    let none = no_week(&files, &case);
    assert!(none.clash.iter().any(|clash| matches!(
        &clash.what,
        Clashing::Rule { id, .. } if id.as_str() == "full-snatch-weekly"
    )));
    let text = none.text(Layout::new());
    assert!(text.contains("rules.count.full-snatch-weekly"), "{text}");
    // Without it there is a week; what else is named may be all that the days can hold.
    let rule = none.clash.iter().find_map(|clash| match &clash.what {
        Clashing::Rule { id, place, .. } if id.as_str() == "full-snatch-weekly" => Some(place),
        _ => None,
    });
    let place = rule.unwrap();
    assert!(
        ask(&without(&files, &place.file, place.line), &case)
            .week()
            .is_some()
    );
}
