//! How long a file is, and where the file system is touched.

use super::source::{sources, words};

const MOST: usize = 420;

/// Longer files, the most that each may have, and why. A line comes off this list when its file is
/// short enough, and no line is added.
const LONGER: [(&str, usize, &str); 3] = [
    (
        "src/graph/resolve.rs",
        729,
        "to be split: stages, points, highest load",
    ),
    ("src/plan/search/session.rs", 943, "being split"),
    ("src/plan/search/weeks.rs", 503, "being split"),
];

#[test]
fn no_file_is_longer_than_it_may_be() {
    let mut wrong = Vec::new();
    for source in sources() {
        let listed = LONGER.iter().find(|(path, ..)| *path == source.path);
        let most = listed.map_or(MOST, |(_, most, _)| *most);
        if source.lines > most {
            wrong.push(format!(
                "{} has {} lines, {most} at most",
                source.path, source.lines
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_list_of_longer_files_shrinks() {
    let all = sources();
    for (path, ..) in LONGER {
        let source = all.iter().find(|source| source.path == path);
        let long = source.is_some_and(|source| source.lines > MOST);
        assert!(long, "{path} is no longer too long: take it off the list");
    }
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
        let found: Vec<&str> = words(&code).filter(|word| kept.contains(word)).collect();
        assert!(found.is_empty(), "{}: {found:?}", source.path);
    }
}
