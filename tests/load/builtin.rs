//! The method that is built in.

use super::api::{Bounds, read_case, read_pack};

/// The files of the built-in method, by name.
pub(super) fn files() -> Vec<(String, String)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("rules");
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
fn is_read_without_a_problem() {
    let files = files();
    let texts: Vec<(&str, &str)> = files
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    if let Err(found) = read_pack(&texts, &Bounds::default()) {
        let shown: Vec<String> = found
            .iter()
            .map(|problem| format!("{} {problem}", problem.code))
            .collect();
        panic!("{} problems\n{}", found.len(), shown.join("\n"));
    }
}

#[test]
fn every_kept_case_fits_it() {
    let files = files();
    let texts: Vec<(&str, &str)> = files
        .iter()
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    let Ok(pack) = read_pack(&texts, &Bounds::default()) else {
        panic!("the method is read first")
    };
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    let mut problems = Vec::new();
    let mut read = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "yaml") {
            read += 1;
            let found = read_case(
                &std::fs::read_to_string(&path).unwrap(),
                &pack,
                &Bounds::default(),
            )
            .err();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            problems.extend(
                found
                    .into_iter()
                    .flatten()
                    .map(|problem| format!("{name}: {} {problem}", problem.code)),
            );
        }
    }
    problems.sort();
    assert!(problems.is_empty(), "{}", problems.join("\n"));
    assert!(read >= 10, "{read} cases");
}
