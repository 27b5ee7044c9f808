//! How long a file is, and where the file system is touched.

use super::source::{sources, words};

const MOST: usize = 420;

#[test]
fn no_file_is_longer_than_it_may_be() {
    let mut wrong = Vec::new();
    for source in sources() {
        if source.lines > MOST {
            wrong.push(format!(
                "{} has {} lines, {MOST} at most",
                source.path, source.lines
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn one_place_touches_the_file_system() {
    let touch = |source: &&super::source::Source| {
        [
            "std::fs",
            "File::",
            "read_dir",
            "read_to_string",
            "std::env",
            "std::net",
            "std::process",
        ]
        .iter()
        .any(|word| source.code.contains(word))
    };
    let paths: Vec<String> = sources()
        .iter()
        .filter(touch)
        .map(|source| source.path.clone())
        .collect();
    assert_eq!(paths, ["src/rules/read/folder.rs"]);
}

/// Text that is compiled in is the only thing that outlives a call.
#[test]
fn nothing_is_kept_between_calls() {
    for source in sources() {
        // A lifetime is written with a quote before it, which is no part of the word.
        let code = source.code.replace("'static", "");
        let kept = [
            "static",
            "thread_local",
            "OnceLock",
            "LazyLock",
            "OnceCell",
            "AtomicUsize",
            "AtomicU64",
        ];
        // Rules that are asked again may keep what follows from them alone: it belongs to them, and goes with them.
        let of_rules = source.path == "src/knowledge/mod.rs";
        let kept = |word: &&str| kept.contains(word) && !(of_rules && *word == "OnceLock");
        let found: Vec<&str> = words(&code).filter(kept).collect();
        assert!(found.is_empty(), "{}: {found:?}", source.path);
    }
}
