//! Tables that are printed for people, computed from the files and held against what is printed.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;

use serde_yaml::Value;

use crate::corpus::{ALL, BASE, Solved, texts};
use crate::coverage::numbers_and_sources;
use crate::laws::pack::Pack;

/// The part of a file of this package between two marks.
fn printed(path: &str, mark: &str) -> String {
    let path = format!("{}/{path}", env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(&path).unwrap();
    let (_, rest) = text.split_once(&format!("<!-- {mark} -->\n")).unwrap();
    let (table, _) = rest.split_once(&format!("<!-- end of {mark} -->")).unwrap();
    table.to_owned()
}

fn assert_printed(path: &str, mark: &str, computed: &str) {
    assert!(
        printed(path, mark) == computed,
        "the table `{mark}` in {path} is not what the files come to; it should be\n{computed}"
    );
}

fn days(solved: &Solved) -> i64 {
    let named = solved.said["training-days"].as_mapping();
    let named = named.map(|days| i64::try_from(days.len()).unwrap());
    let said = solved.said["fields"]["days"].as_i64();
    said.or(named).unwrap_or(3)
}

/// What the cases show: how many of each fault there are, by phase, days and level.
#[test]
fn of_what_the_cases_show() {
    let phases = ["general", "specific", "competition", "last-week"];
    let levels = ["novice", "intermediate", "advanced"];
    let mut rows: Vec<(String, Vec<&Solved>)> = BASE
        .faults()
        .iter()
        .map(|fault| {
            let has = |solved: &&Solved| {
                let seen = solved.said["faults"].as_sequence().unwrap();
                seen.iter().any(|seen| seen["fault"] == fault.id.as_str())
            };
            (fault.id.to_string(), ALL.iter().filter(has).collect())
        })
        .collect();
    let none = |solved: &&Solved| solved.said["faults"].as_sequence().unwrap().is_empty();
    rows.push(("no fault".to_owned(), ALL.iter().filter(none).collect()));
    rows.push(("all cases".to_owned(), ALL.iter().collect()));
    let mut table = String::from(
        "| fault | cases | by hand | general | specific | competition | last week | 2 days | 3 | 4 | 5 | 6 | novice | intermediate | advanced | level not said |\n|---|--|--|--|--|--|--|--|--|--|--|--|--|--|--|--|\n",
    );
    for (name, cases) in rows {
        let count =
            |holds: &dyn Fn(&Solved) -> bool| cases.iter().filter(|held| holds(held)).count();
        let mut cells = vec![cases.len(), count(&Solved::by_hand)];
        cells.extend(phases.map(|phase| count(&|solved| solved.phase() == phase)));
        cells.extend((2..=6).map(|number| count(&|solved| days(solved) == number)));
        cells.extend(levels.map(|level| count(&|solved| solved.word("level") == level)));
        cells.push(count(&|solved| solved.word("level").is_empty()));
        let cells: Vec<String> = cells.iter().map(ToString::to_string).collect();
        let _ = writeln!(table, "| {name} | {} |", cells.join(" | "));
    }
    assert_printed("tests/README.md", "what the cases show", &table);
}

/// What the method rests on: of how many entries of each kind something is published, common practice, or set by us.
#[test]
fn of_what_the_method_rests_on() {
    let pack = Pack::new(&texts("rules"), "{}");
    let basis = pack.bases();
    let mut rows: Vec<(String, Vec<Value>)> = Vec::new();
    for kind in [
        "exercises",
        "axes",
        "causes",
        "faults",
        "observations",
        "qualities",
        "roles",
        "parts",
        "doses",
        "efforts",
        "layouts",
        "phases",
        "factors",
        "tables",
        "zone-tables",
        "bars",
        "measures",
        "references",
        "stresses",
    ] {
        let entries = pack
            .single_entries(kind)
            .into_iter()
            .map(|(_, entry)| entry);
        let name = if kind == "axes" { "constraints" } else { kind };
        rows.push((name.to_owned(), entries.collect()));
    }
    for (kind, held) in pack.kinds["rules"].as_mapping().unwrap() {
        let held = held
            .as_mapping()
            .unwrap()
            .iter()
            .map(|(_, rule)| rule.clone());
        rows.push((format!("rules: {}", kind.as_str().unwrap()), held.collect()));
    }
    rows.sort_by_key(|(name, _)| name.starts_with("rules: "));
    let names = ["published", "common-practice", "expert-set"];
    let mut table = String::from(
        "| kind | entries | published | common practice | expert-set |\n|---|--|--|--|--|\n",
    );
    let mut sums = [0usize; 4];
    let mut line = |name: &str, cells: [usize; 4]| {
        let cells = cells.map(|cell| cell.to_string()).join(" | ");
        let _ = writeln!(table, "| {name} | {cells} |");
    };
    for (name, entries) in rows {
        let mut cells = [entries.len(), 0, 0, 0];
        for entry in &entries {
            let mut found = BTreeSet::new();
            numbers_and_sources(entry, &mut found);
            for (cell, name) in cells.iter_mut().skip(1).zip(names) {
                *cell += usize::from(found.iter().any(|id| basis[id] == name));
            }
        }
        for (sum, cell) in sums.iter_mut().zip(cells) {
            *sum += cell;
        }
        line(&name, cells);
    }
    line("in all", sums);
    assert_printed("rules/SOURCES.md", "what the method rests on", &table);
}
