//! The built-in method as the oracle reads it: far too large to try all its weeks, but read it must.

use std::path::Path;

use super::Oracle;

fn texts(folder: &str) -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut all = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "yaml") {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            all.push((name, std::fs::read_to_string(&path).unwrap()));
        }
    }
    all.sort();
    all
}

#[test]
fn is_read_for_every_twelfth_case() {
    let rules = texts("rules");
    let cases = texts("tests/cases");
    assert!(cases.len() > 20);
    // Each reads all rule files anew, the slow way.
    for (name, case) in cases.into_iter().step_by(12) {
        let oracle = Oracle::new(&rules, &case);
        let held: usize = (0..oracle.days.len())
            .map(|day| oracle.candidates(day).len())
            .sum();
        // Only acute pain leaves nothing.
        assert_eq!(
            held == 0,
            name == "acute-pain.yaml",
            "{name}: {held} candidates"
        );
        let empty = vec![Vec::new(); oracle.days.len()];
        assert_eq!(oracle.evaluate(&empty).tie, 0);
    }
}
