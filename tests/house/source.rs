//! The crate's own source, read as text: code without comments, literals aside, test modules left out.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// One file of `src`.
#[derive(Debug)]
pub struct Source {
    /// From the package's root, with `/`.
    pub path: String,
    pub lines: usize,
    /// Without comments and test modules; a literal stands as `"N"`.
    pub code: String,
    /// The literals that are left, in order.
    pub literals: Vec<String>,
}

pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

pub fn rust_files(folder: &Path, into: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            rust_files(&path, into);
        } else if path.extension().is_some_and(|end| end == "rs") {
            into.push(path);
        }
    }
}

/// All files of `src`, those of test modules left out.
pub fn sources() -> Vec<Source> {
    let mut paths = Vec::new();
    rust_files(&root().join("src"), &mut paths);
    let mut tests = BTreeSet::new();
    let mut all = Vec::new();
    for path in paths {
        let text = fs::read_to_string(&path).unwrap();
        let (code, literals) = split(&text);
        let folder = if path
            .file_name()
            .is_some_and(|name| name == "mod.rs" || name == "lib.rs")
        {
            path.parent().unwrap().to_owned()
        } else {
            path.with_extension("")
        };
        let (code, modules) = without_tests(&code);
        tests.extend(modules.into_iter().map(|name| folder.join(name)));
        let kept = numbers(&code).into_iter().map(|at| literals[at].clone());
        all.push((
            path.clone(),
            Source {
                path: path
                    .strip_prefix(root())
                    .unwrap()
                    .to_str()
                    .unwrap()
                    .to_owned(),
                lines: text.lines().count(),
                literals: kept.collect(),
                code,
            },
        ));
    }
    let is_test = |path: &Path| {
        tests
            .iter()
            .any(|test| path.starts_with(test) || path.with_extension("") == *test)
    };
    all.into_iter()
        .filter(|(path, _)| !is_test(path))
        .map(|(_, source)| source)
        .collect()
}

/// Code without comments, its literals numbered; and the literals.
fn split(text: &str) -> (String, Vec<String>) {
    let chars: Vec<char> = text.chars().collect();
    let (mut code, mut literals, mut at) = (String::new(), Vec::new(), 0);
    let starts = |at: usize, with: &str| {
        with.chars()
            .enumerate()
            .all(|(i, c)| chars.get(at + i) == Some(&c))
    };
    while at < chars.len() {
        if starts(at, "//") {
            while at < chars.len() && chars[at] != '\n' {
                at += 1;
            }
        } else if starts(at, "/*") {
            while !starts(at, "*/") {
                at += 1;
            }
            at += 2;
        } else if chars[at] == 'r' && is_raw(&chars, at) {
            let hashes = chars[at + 1..].iter().take_while(|c| **c == '#').count();
            let end = format!("\"{}", "#".repeat(hashes));
            at += hashes + 2;
            let from = at;
            while !starts(at, &end) {
                at += 1;
            }
            number(&mut code, &mut literals, chars[from..at].iter().collect());
            at += end.len();
        } else if chars[at] == '"' {
            at += 1;
            let from = at;
            while chars[at] != '"' {
                at += if chars[at] == '\\' { 2 } else { 1 };
            }
            number(&mut code, &mut literals, chars[from..at].iter().collect());
            at += 1;
        } else if chars[at] == '\'' && (starts(at + 1, "\\") || chars.get(at + 2) == Some(&'\'')) {
            at += if starts(at + 1, "\\") { 3 } else { 2 };
            while chars[at] != '\'' {
                at += 1;
            }
            at += 1;
            code.push('0');
        } else {
            code.push(chars[at]);
            at += 1;
        }
    }
    (code, literals)
}

fn is_raw(chars: &[char], at: usize) -> bool {
    let before = at.checked_sub(1).map_or(' ', |at| chars[at]);
    let after = chars[at + 1..].iter().find(|c| **c != '#');
    !before.is_alphanumeric() && before != '_' && after == Some(&'"')
}

fn number(code: &mut String, literals: &mut Vec<String>, literal: String) {
    code.push_str(&format!("\"{}\"", literals.len()));
    literals.push(literal);
}

fn numbers(code: &str) -> Vec<usize> {
    code.split('"')
        .skip(1)
        .step_by(2)
        .map(|number| number.parse().unwrap())
        .collect()
}

/// Takes out what stands under `#[cfg(test)]`; gives the names of modules in files of their own.
fn without_tests(code: &str) -> (String, Vec<String>) {
    let (mut left, mut modules, mut rest) = (String::new(), Vec::new(), code);
    while let Some(at) = rest.find("#[cfg(test)]") {
        left.push_str(&rest[..at]);
        let item = &rest[at..];
        let open = item.find('{').unwrap_or(item.len());
        let semicolon = item.find(';').unwrap_or(item.len());
        if semicolon < open {
            if let Some((_, name)) = item[..semicolon].rsplit_once("mod ") {
                modules.push(name.trim().to_owned());
            }
            rest = &item[semicolon + 1..];
            continue;
        }
        let mut depth = 0;
        let end = item[open..].char_indices().find(|(_, c)| {
            depth += i32::from(*c == '{') - i32::from(*c == '}');
            depth == 0
        });
        rest = &item[open + end.unwrap().0 + 1..];
    }
    left.push_str(rest);
    (left, modules)
}

/// Words of code: identifiers and key words.
pub fn words(code: &str) -> impl Iterator<Item = &str> {
    code.split(|c: char| !c.is_alphanumeric() && c != '_')
        .filter(|word| !word.is_empty())
}

#[test]
fn reading_a_source_leaves_out_comments_literals_and_tests() {
    let text = "use a; // b\nfn f<'x>() { g(\"c { d\", 'e', r#\"h \" i\"#); }\n#[cfg(test)]\nmod j { fn k() { \"}\"; } }\n#[cfg(test)]\nmod l;\nfn m() {}";
    let (code, literals) = split(text);
    assert_eq!(literals, ["c { d", "h \" i", "}"]);
    let (code, modules) = without_tests(&code);
    assert_eq!(modules, ["l"]);
    assert_eq!(numbers(&code), [0, 1]);
    let words: Vec<&str> = words(&code).collect();
    assert_eq!(
        words,
        ["use", "a", "fn", "f", "x", "g", "0", "0", "1", "fn", "m"]
    );
}
