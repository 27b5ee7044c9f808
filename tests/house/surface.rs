//! What is compiled in, what is denied, and what the public surface shows.

use std::fs;

use drillwright::KnowledgeBase;
use rstest::rstest;

use super::source::{Source, root, sources, words};
use crate::corpus::texts;

/// The built-in pack is the folder `rules`: same files, same texts.
#[test]
fn the_built_in_list_is_the_folder() {
    let source = sources()
        .into_iter()
        .find(|source| source.path == "src/builtin.rs")
        .unwrap();
    let (included, named): (Vec<&String>, Vec<&String>) = source
        .literals
        .iter()
        .partition(|literal| literal.starts_with("../rules/"));
    let folder: Vec<String> = texts("rules").into_iter().map(|(name, _)| name).collect();
    let listed: Vec<&str> = named
        .iter()
        .map(|name| name.as_str())
        .filter(|name| name.ends_with(".yaml"))
        .collect();
    assert_eq!(listed, folder);
    let taken: Vec<&str> = included
        .iter()
        .filter_map(|path| path.strip_prefix("../rules/"))
        .collect();
    assert_eq!(taken, folder);
    let (built_in, read) = (
        KnowledgeBase::builtin().unwrap(),
        KnowledgeBase::from_texts(texts("rules")).unwrap(),
    );
    assert_eq!(built_in.fingerprint(), read.fingerprint());
}

/// Lines of one table of `Cargo.toml`.
fn table(name: &str) -> Vec<String> {
    let text = fs::read_to_string(root().join("Cargo.toml")).unwrap();
    let head = format!("[{name}]");
    text.lines()
        .skip_while(|line| line.trim() != head)
        .skip(1)
        .take_while(|line| !line.starts_with('['))
        .map(|line| line.replace(' ', ""))
        .collect()
}

#[rstest]
#[case("lints.rust", "unsafe_code=\"forbid\"")]
#[case("lints.rust", "missing_docs=\"deny\"")]
#[case("lints.clippy", "unwrap_used=\"deny\"")]
#[case("lints.clippy", "expect_used=\"deny\"")]
#[case("lints.clippy", "panic=\"deny\"")]
#[case("lints.clippy", "indexing_slicing=\"deny\"")]
#[case("lints.clippy", "todo=\"deny\"")]
#[case("lints.clippy", "unimplemented=\"deny\"")]
fn is_denied(#[case] of: &str, #[case] line: &str) {
    assert!(
        table(of).iter().any(|held| held == line),
        "{line} is not in [{of}]"
    );
}

/// Files that may take one lint back, and why.
const ALLOWED: [(&str, &str, &str); 1] = [(
    "src/plan/search/simplex.rs",
    "indexing_slicing",
    "a dense table whose sizes are fixed when it is made; floats that only propose",
)];

/// And nothing takes it back for code that is no test.
#[test]
fn no_lint_is_allowed_again() {
    const DENIED: [&str; 6] = [
        "unsafe_code",
        "unwrap_used",
        "expect_used",
        "panic",
        "indexing_slicing",
        "missing_docs",
    ];
    for source in sources() {
        for attribute in source.code.split("allow(").skip(1) {
            let lints = attribute.split(')').next().unwrap();
            let again: Vec<&str> = words(lints)
                .filter(|word| DENIED.contains(word))
                .filter(|word| {
                    !ALLOWED
                        .iter()
                        .any(|(path, lint, _)| *path == source.path && lint == word)
                })
                .collect();
            assert!(again.is_empty(), "{}: {again:?}", source.path);
        }
        assert!(
            !words(&source.code).any(|word| word == "unsafe"),
            "{}",
            source.path
        );
    }
}

/// Dependencies by the names under which code writes them.
fn dependencies() -> Vec<String> {
    table("dependencies")
        .iter()
        .filter_map(|line| line.split_once('='))
        .map(|(name, _)| name.replace('-', "_"))
        .collect()
}

/// What a file imports from a dependency, by the last name of each path.
fn imported(source: &Source, dependencies: &[String]) -> Vec<String> {
    let mut names = Vec::new();
    for import in source.code.split("use ").skip(1) {
        let path = import.split(';').next().unwrap();
        let first = path.split("::").next().unwrap().trim();
        if dependencies.iter().any(|dependency| dependency == first) {
            let last = path.rsplit("::").next().unwrap();
            let whole = if path.contains('{') {
                path.split_once('{').unwrap().1
            } else {
                last
            };
            names.extend(
                words(whole)
                    .filter(|word| *word != "self")
                    .map(str::to_owned),
            );
        }
    }
    names
}

/// Signatures and fields that others see: from `pub ` to where a body, a value or the next field begins.
fn public_parts(code: &str) -> Vec<String> {
    let mut parts = Vec::new();
    for (at, _) in code.match_indices("pub ") {
        let rest = &code[at + 4..];
        let mut depth = 0_i32;
        let end = rest.char_indices().find(|(_, c)| {
            depth += i32::from(matches!(c, '(' | '<' | '[')) - i32::from(matches!(c, ')' | ']'));
            // `->` closes nothing.
            matches!(c, '{' | ';' | '=') || (*c == ',' && depth == 0 && !rest.starts_with("fn"))
        });
        parts.push(rest[..end.map_or(rest.len(), |(at, _)| at)].to_owned());
    }
    parts
}

#[test]
fn no_type_of_a_dependency_is_public() {
    let dependencies = dependencies();
    assert!(dependencies.len() >= 7, "{dependencies:?}");
    let (mut seen, mut wrong) = (0, Vec::new());
    for source in sources() {
        let folder = source.path.split('/').nth(1).unwrap();
        if !["base", "explain", "report", "knowledge", "lib.rs"].contains(&folder) {
            continue;
        }
        let names = imported(&source, &dependencies);
        for part in public_parts(&source.code) {
            seen += 1;
            let foreign = words(&part).find(|word| {
                names.iter().any(|name| name == word)
                    || dependencies.iter().any(|dependency| dependency == word)
            });
            if let Some(word) = foreign {
                wrong.push(format!("{}: {word} in `pub {}`", source.path, part.trim()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(seen > 300, "only {seen} public parts");
}

#[test]
fn a_foreign_type_would_be_seen() {
    let source = Source {
        path: String::from("src/knowledge/x.rs"),
        lines: 1,
        code: String::from(
            "use indexmap::{IndexMap, map::Entry}; pub struct A { pub b: IndexMap<u8, u8>, c: u8 } impl A { pub fn d(&self, e: u8) -> u8 { 0 } }",
        ),
        literals: Vec::new(),
    };
    let names = imported(&source, &[String::from("indexmap")]);
    assert!(names.contains(&String::from("IndexMap")), "{names:?}");
    let parts = public_parts(&source.code);
    assert_eq!(parts.len(), 3);
    assert!(
        parts[1].contains("IndexMap") && !parts[2].contains("IndexMap"),
        "{parts:?}"
    );
}
